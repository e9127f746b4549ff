// Package templates holds the words of every guide: sections, tasks, cautions,
// trouble entries, labels and prescribed statements, and the style sheet of the
// page. It holds text only and never computes.
//
// Two kinds of file stand side by side. Language-free files (outline.yaml,
// cautions.yaml, trouble.yaml, statements) say what exists, in which order, for
// which units, and how grave it is. A folder named after a language says the same
// things in words: en is the one every other language translates.
//
// snapshot.txt lists what the texts said when somebody last accepted it; a proof
// tells what has dropped out of them since.
//
// A section is one Markdown file; its name is its address in the guide. A task
// is one maintenance job. A caution is a panel with hazard, consequence and how
// to avoid it. A trouble entry goes from a symptom to its causes, its remedies
// and the sentence that says when to stop.
//
// Figures stand in the text as names of values between braces; none is typed.
package templates

import "embed"

// Files are all templates that come with the program: a folder with the words of
// another language is one of them by lying here.
//
//go:embed *
var Files embed.FS
