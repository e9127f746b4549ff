package render

import "ownerguide/spec/source"

// Codes of the findings about templates and about filling them.
var (
	codeFile        = source.Code{ID: "template-file", Severity: source.Error, Protects: "a template that cannot be read would leave a chapter out"}
	codeFrontMatter = source.Code{ID: "template-front-matter", Severity: source.Error, Protects: "a section without its title, place or condition would turn up in the wrong guides"}
	codeMarkup      = source.Code{ID: "template-markup", Severity: source.Error, Protects: "markup that only one of screen and paper understands would make the two differ"}
	codePlaceholder = source.Code{ID: "template-placeholder", Severity: source.Error, Protects: "a placeholder nobody fills would print as a hole where a number belongs"}
	codeValue       = source.Code{ID: "template-value", Severity: source.Error, Protects: "a sentence that needs a figure must not be printed without it"}
	codeFeature     = source.Code{ID: "template-feature", Severity: source.Error, Protects: "a condition on a word that nothing provides hides its text for ever"}
	codeIdle        = source.Code{ID: "feature-idle", Severity: source.Error, Protects: "a misspelt feature brings none of its cautions, jobs and sections"}
	codeHole        = source.Code{ID: "template-hole", Severity: source.Error, Protects: "a sentence with a hole in it, where a figure was taken out, tells the owner to tighten to nothing"}
	codeFence       = source.Code{ID: "template-block", Severity: source.Error, Protects: "a block the program does not know, such as a misspelt caution, would silently be left out"}
	codeCaution     = source.Code{ID: "template-caution", Severity: source.Error, Protects: "a caution that lacks hazard, consequence or avoidance does not protect anybody"}
	codeTask        = source.Code{ID: "template-task", Severity: source.Error, Protects: "a maintenance job without words, or words without a job, leaves care undone"}
	codeTrouble     = source.Code{ID: "template-trouble", Severity: source.Error, Protects: "a trouble entry without symptom, cause or remedy sends the owner nowhere"}
	codeLabel       = source.Code{ID: "template-label", Severity: source.Error, Protects: "a missing label prints as a bare id"}
	codeWork        = source.Code{ID: "template-work", Severity: source.Error, Protects: "a duty under a wrong name holds no text to its caution"}
	codeLink        = source.Code{ID: "template-link", Severity: source.Error, Protects: "a reference to a section this guide does not have sends the owner nowhere"}
	codeDrawing     = source.Code{ID: "template-drawing", Severity: source.Error, Protects: "a picture that cannot be drawn leaves its text without meaning"}
	codeLanguage    = source.Code{ID: "template-language", Severity: source.Error, Protects: "a guide half in one language and half in another is not read"}
)

// Codes lists the findings this package can report.
func Codes() []source.Code {
	return []source.Code{codeFile, codeFrontMatter, codeMarkup, codePlaceholder, codeValue, codeFeature, codeIdle, codeHole, codeFence,
		codeCaution, codeTask, codeTrouble, codeLabel, codeWork, codeLink, codeDrawing, codeLanguage, codeStatement}
}
