// Package templates contains the texts of every guide: sections, tasks, cautions,
// trouble entries, labels and prescribed statements, and the style sheet of the
// page. It contains text only and no code.
//
// There are two kinds of files. Language-independent files (outline.yaml,
// cautions.yaml, trouble.yaml, statements) define what exists, in which order, for
// which units, and how severe it is. A folder for each language contains the texts: en is
// the language from which all others are translated.
//
// snapshot.txt lists what the texts said when they were last accepted; a proof reports
// what has been lost since.
//
// A section is one Markdown file; its name is its address in the guide. A task
// is one maintenance job. A caution is a panel with hazard, consequence and how
// to avoid it. A trouble entry goes from a symptom to its causes, its remedies
// and the point at which to stop.
//
// Figures are names of values in braces; none is typed.
package templates

import "embed"

// Files are all templates of the program. A folder of texts in another language is
// included by being here.
//
//go:embed *
var Files embed.FS
