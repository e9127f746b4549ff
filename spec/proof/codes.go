package proof

import "ownerguide/spec/source"

// Codes of the claims.
var (
	codeModel       = codes.Error("proof-model", "a model whose rules shut out every order cannot be built, and its sheets are all refused")
	codeBarred      = codes.Error("proof-option-barred", "an option that no order can have is a slip in its rules: somebody sells it")
	codeBarredHere  = codes.Warning("proof-option-idle", "an option that one model offers and no order of that model can have is mostly a slip in its rules")
	codeForced      = codes.Error("proof-option-forced", "an option that every order must have is no choice: its parts belong to the model, or a rule is wrong")
	codeImplied     = codes.Note("proof-rule-implied", "a rule that the others imply misleads whoever changes one of them")
	codeUnused      = codes.Note("proof-component-idle", "a component that no model uses is a leftover, or the model names another by mistake")
	codeHazard      = codes.Error("proof-hazard", "an owner who is not warned of what is there gets hurt")
	codeGrave       = codes.Error("proof-caution-grave", "who reads only one chapter must find what kills in it")
	codeUnshown     = codes.Error("proof-caution-unshown", "a caution that no text shows warns nobody")
	codeValue       = codes.Error("proof-value", "a sentence that needs a figure some unit lacks stops the guide of that unit on the day it is delivered")
	codeWord        = codes.Error("proof-word", "a sentence that needs a name some unit lacks stops the guide of that unit on the day it is delivered")
	codeUntold      = codes.Warning("proof-value-untold", "a figure that some owners are told and others with the same figure are not is missing from a text")
	codeLink        = codes.Error("proof-link", "a reference to a section that some guide lacks sends the owner nowhere")
	codeCondition   = codes.Error("proof-condition", "a text under a condition that no build meets is shown to nobody")
	codeAlways      = codes.Error("proof-condition-always", "a condition that every build meets decides nothing: it was meant to say something else")
	codeContrary    = codes.Error("proof-condition-contrary", "a sentence under a condition that contradicts its section is read by nobody: it was meant to say something else")
	codeStop        = codes.Error("proof-stop", "a part that the walk-around passes by is first met when it fails")
	codeStopIdle    = codes.Error("proof-stop-idle", "a number in the walk-around that points at nothing makes the owner look for what is not there")
	codeCare        = codes.Error("proof-care", "a part that no job looks after wears until it fails")
	codeJob         = codes.Error("proof-job", "a job that is due and described nowhere is not done")
	codeJobFigure   = codes.Error("proof-job-figure", "a job whose words lack the figure it is done to is done to a guess")
	codeInterval    = codes.Error("proof-interval", "a job that no fitted part says how often to do is never due")
	codeService     = codes.Error("proof-service", "a part that asks for a job the unit does not have is not looked after as its maker asks")
	codeTrouble     = codes.Error("proof-trouble", "a trouble entry that applies and stands nowhere helps nobody")
	codeSwitchedOff = codes.Warning("proof-switched-off", "what a maker leaves out of the program's cautions and jobs is for an engineer to stand by, and has to be read each time")
	codeOffIdle     = codes.Error("proof-switched-idle", "a reason for leaving out what no build has is a slip, or a leftover that will hide something later")
	codeLanguage    = codes.Error("proof-language", "who reads another language must be told and warned of the same")
	codeUnfinished  = codes.Warning("proof-language-unfinished", "an owner who is promised a guide in a language waits until it has all its words")
	codeRoomy       = codes.Warning("proof-rating-roomy", "a rating of which no build asks even half is mostly mistyped, and the next heavier option will trust it")
	codeLost        = codes.Error("proof-snapshot", "a word put in, left out or swapped turns a step round, and every guide says it until somebody reads it")
	codeUnsettled   = codes.Error("proof-unsettled", "a claim that nobody settled may be broken by the next order")
	codeUnchecked   = codes.Error("proof-unchecked", "a build whose figures were not worked out may be overloaded by its own guide")
)

// Codes returns the codes of the findings this package can report.
func Codes() []source.Code { return codes }

var codes source.CodeList
