package proof

import "ownerguide/spec/source"

// Codes of the claims.
var (
	codeModel      = source.Code{ID: "proof-model", Severity: source.Error, Protects: "a model whose rules shut out every order cannot be built, and its sheets are all refused"}
	codeBarred     = source.Code{ID: "proof-option-barred", Severity: source.Error, Protects: "an option that no order can have is a slip in its rules: somebody sells it"}
	codeBarredHere = source.Code{ID: "proof-option-idle", Severity: source.Warning, Protects: "an option that one model offers and no order of that model can have is mostly a slip in its rules"}
	codeForced     = source.Code{ID: "proof-option-forced", Severity: source.Error, Protects: "an option that every order must have is no choice: its parts belong to the model, or a rule is wrong"}
	codeImplied    = source.Code{ID: "proof-rule-implied", Severity: source.Note, Protects: "a rule that the others imply misleads whoever changes one of them"}
	codeUnused     = source.Code{ID: "proof-component-idle", Severity: source.Note, Protects: "a component that no model uses is a leftover, or the model names another by mistake"}
	codeHazard     = source.Code{ID: "proof-hazard", Severity: source.Error, Protects: "an owner who is not warned of what is there gets hurt"}
	codeGrave      = source.Code{ID: "proof-caution-grave", Severity: source.Error, Protects: "who reads only one chapter must find what kills in it"}
	codeUnshown    = source.Code{ID: "proof-caution-unshown", Severity: source.Error, Protects: "a caution that no text shows warns nobody"}
	codeValue      = source.Code{ID: "proof-value", Severity: source.Error, Protects: "a sentence that needs a figure some unit lacks stops the guide of that unit on the day it is delivered"}
	codeWord       = source.Code{ID: "proof-word", Severity: source.Error, Protects: "a sentence that needs a name some unit lacks stops the guide of that unit on the day it is delivered"}
	codeUntold     = source.Code{ID: "proof-value-untold", Severity: source.Warning, Protects: "a figure that some owners are told and others with the same figure are not is missing from a text"}
	codeLink       = source.Code{ID: "proof-link", Severity: source.Error, Protects: "a reference to a section that some guide lacks sends the owner nowhere"}
	codeCondition  = source.Code{ID: "proof-condition", Severity: source.Error, Protects: "a text under a condition that no build meets is shown to nobody"}
	codeAlways     = source.Code{ID: "proof-condition-always", Severity: source.Error, Protects: "a condition that every build meets decides nothing: it was meant to say something else"}
	codeContrary   = source.Code{ID: "proof-condition-contrary", Severity: source.Error, Protects: "a sentence under a condition that contradicts its section is read by nobody: it was meant to say something else"}
	codeStop       = source.Code{ID: "proof-stop", Severity: source.Error, Protects: "a part that the walk-around passes by is first met when it fails"}
	codeStopIdle   = source.Code{ID: "proof-stop-idle", Severity: source.Error, Protects: "a number in the walk-around that points at nothing makes the owner look for what is not there"}
	codeCare       = source.Code{ID: "proof-care", Severity: source.Error, Protects: "a part that no job looks after wears until it fails"}
	codeJob        = source.Code{ID: "proof-job", Severity: source.Error, Protects: "a job that is due and described nowhere is not done"}
	codeJobFigure  = source.Code{ID: "proof-job-figure", Severity: source.Error, Protects: "a job whose words lack the figure it is done to is done to a guess"}
	codeInterval   = source.Code{ID: "proof-interval", Severity: source.Error, Protects: "a job that no fitted part says how often to do is never due"}
	codeService    = source.Code{ID: "proof-service", Severity: source.Error, Protects: "a part that asks for a job the unit does not have is not looked after as its maker asks"}
	codeTrouble    = source.Code{ID: "proof-trouble", Severity: source.Error, Protects: "a trouble entry that applies and stands nowhere helps nobody"}
	codeLanguage   = source.Code{ID: "proof-language", Severity: source.Error, Protects: "who reads another language must be told and warned of the same"}
	codeRoomy      = source.Code{ID: "proof-rating-roomy", Severity: source.Warning, Protects: "a rating of which no build asks even half is mostly mistyped, and the next heavier option will trust it"}
	codeLost       = source.Code{ID: "proof-snapshot", Severity: source.Error, Protects: "a caution or a figure that drops out of a text unnoticed is missing from every guide"}
	codeUnsettled  = source.Code{ID: "proof-unsettled", Severity: source.Error, Protects: "a claim that nobody settled may be broken by the next order"}
	codeUnchecked  = source.Code{ID: "proof-unchecked", Severity: source.Error, Protects: "a build whose figures were not worked out may be overloaded by its own guide"}
)

// Codes lists the findings this package can report.
func Codes() []source.Code {
	return []source.Code{codeModel, codeBarred, codeBarredHere, codeForced, codeImplied, codeUnused, codeHazard, codeGrave, codeUnshown,
		codeValue, codeWord, codeUntold, codeLink, codeCondition, codeAlways, codeContrary, codeStop, codeStopIdle, codeCare, codeJob,
		codeJobFigure, codeInterval, codeService, codeTrouble, codeLanguage, codeRoomy, codeLost, codeUnsettled, codeUnchecked}
}
