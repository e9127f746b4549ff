package template

import "ownerguide/spec/source"

// Codes of the findings about templates. The exported ones are also reported when
// templates are filled.
var (
	CodeFile        = codes.Error("template-file", "a template that cannot be read would leave a chapter out")
	codeOutline     = codes.Error("template-outline", "a section without its place or condition would turn up in the wrong guides")
	codeFrontMatter = codes.Error("template-front-matter", "a section without its title is not found")
	codeMarkup      = codes.Error("template-markup", "markup that only one of screen and paper understands would make the two differ")
	CodePlaceholder = codes.Error("template-placeholder", "a placeholder nobody fills would print as a hole where a number belongs")
	CodeValue       = codes.Error("template-value", "a sentence that needs a figure must not be printed without it")
	codeFeature     = codes.Error("template-feature", "a condition on a word that nothing provides hides its text for ever")
	codeHole        = codes.Error("template-hole", "a sentence with a hole in it, where a figure was taken out, tells the owner to tighten to nothing")
	codeCall        = codes.Error("template-block", "a block the program does not know, such as a misspelt caution, would silently be left out")
	codeCaution     = codes.Error("template-caution", "a caution that lacks hazard, consequence or avoidance does not protect anybody")
	CodeTask        = codes.Error("template-task", "a maintenance job without words, or words without a job, leaves care undone")
	codeSwitchedOff = codes.Error("template-switched-off", "a caution that is missing, or milder, without a reason hurts somebody, and nobody knows who left it out")
	codeTrouble     = codes.Error("template-trouble", "a trouble entry without symptom or remedy sends the owner nowhere")
	CodeLabel       = codes.Error("template-label", "a missing label prints as a bare id")
	CodeLink        = codes.Error("template-link", "a reference to a section this guide does not have sends the owner nowhere")
	codeIdle        = codes.Error("feature-idle", "a misspelt feature brings none of its cautions, jobs and sections")
	CodeDrawing     = codes.Error("template-drawing", "a picture that cannot be drawn leaves its text without meaning")
	CodePicture     = codes.Error("template-picture", "a picture that is not there, or that no text shows, was meant to tell somebody something")
	CodeLanguage    = codes.Error("template-language", "a guide half in one language and half in another is not read")
)

// Codes returns the codes of the findings this package can report.
func Codes() []source.Code { return codes }

var codes source.CodeList
