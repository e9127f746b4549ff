package template

import "ownerguide/spec/source"

// Codes of the findings about templates; those that filling them reports too can
// be reached from there.
var (
	CodeFile        = source.Code{ID: "template-file", Severity: source.Error, Protects: "a template that cannot be read would leave a chapter out"}
	codeOutline     = source.Code{ID: "template-outline", Severity: source.Error, Protects: "a section without its place or condition would turn up in the wrong guides"}
	codeFrontMatter = source.Code{ID: "template-front-matter", Severity: source.Error, Protects: "a section without its title is not found"}
	codeMarkup      = source.Code{ID: "template-markup", Severity: source.Error, Protects: "markup that only one of screen and paper understands would make the two differ"}
	CodePlaceholder = source.Code{ID: "template-placeholder", Severity: source.Error, Protects: "a placeholder nobody fills would print as a hole where a number belongs"}
	CodeValue       = source.Code{ID: "template-value", Severity: source.Error, Protects: "a sentence that needs a figure must not be printed without it"}
	codeFeature     = source.Code{ID: "template-feature", Severity: source.Error, Protects: "a condition on a word that nothing provides hides its text for ever"}
	codeHole        = source.Code{ID: "template-hole", Severity: source.Error, Protects: "a sentence with a hole in it, where a figure was taken out, tells the owner to tighten to nothing"}
	codeCall        = source.Code{ID: "template-block", Severity: source.Error, Protects: "a block the program does not know, such as a misspelt caution, would silently be left out"}
	codeCaution     = source.Code{ID: "template-caution", Severity: source.Error, Protects: "a caution that lacks hazard, consequence or avoidance does not protect anybody"}
	CodeTask        = source.Code{ID: "template-task", Severity: source.Error, Protects: "a maintenance job without words, or words without a job, leaves care undone"}
	codeTrouble     = source.Code{ID: "template-trouble", Severity: source.Error, Protects: "a trouble entry without symptom, cause or remedy sends the owner nowhere"}
	CodeLabel       = source.Code{ID: "template-label", Severity: source.Error, Protects: "a missing label prints as a bare id"}
	CodeLink        = source.Code{ID: "template-link", Severity: source.Error, Protects: "a reference to a section this guide does not have sends the owner nowhere"}
	codeIdle        = source.Code{ID: "feature-idle", Severity: source.Error, Protects: "a misspelt feature brings none of its cautions, jobs and sections"}
	CodeDrawing     = source.Code{ID: "template-drawing", Severity: source.Error, Protects: "a picture that cannot be drawn leaves its text without meaning"}
	CodeLanguage    = source.Code{ID: "template-language", Severity: source.Error, Protects: "a guide half in one language and half in another is not read"}
)

// Codes lists the findings this package can report.
func Codes() []source.Code {
	return []source.Code{CodeFile, codeOutline, codeFrontMatter, codeMarkup, CodePlaceholder, CodeValue, codeFeature, codeIdle, codeHole, codeFigure, codeCall,
		codeCaution, CodeTask, codeTrouble, CodeLabel, CodeLink, CodeDrawing, CodeLanguage}
}
