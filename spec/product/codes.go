package product

import "ownerguide/spec/source"

// Codes of the findings about a product line.
var (
	codeLineRead      = codes.Error("line-read", "a product line is whole or refused")
	codeLineStray     = codes.Error("line-stray", "a file nobody reads was meant to say something")
	codeLineID        = codes.Error("line-id", "ids name files, features and anchors everywhere")
	codeLineRepeated  = codes.Error("line-repeated", "of two entries with one id, one would be silently ignored")
	codeLineComponent = codes.Error("line-component", "a part without its component has no ratings")
	codeLineTrailer   = codes.Error("line-trailer", "every guide speaks of coupler, axles, tires, wheels, jack, plug and load floor")
	codeLineOption    = codes.Error("line-option", "a rule over an option that does not exist never bites")
	codeLineRule      = codes.Error("line-rule", "a rule that says nothing, or two things, is a rule nobody checks")
	codeLinePlace     = codes.Error("line-place", "an option that empties a place the model lacks leaves the wrong part on")
	codeLineText      = codes.Error("line-text", "the owner and the salesperson need a name and a reason, not an id")
	codeLineVIN       = codes.Error("line-vin", "numbers are checked against these codes")
	codeLineStages    = codes.Error("line-stages", "lug nuts tightened in the wrong stages come loose")
	codeLineShare     = codes.Error("line-share", "too little weight on the coupler makes a trailer sway")
	codeLineColor     = codes.Error("line-color", "a colour nobody can read leaves the cover in another one")
	codeLineContrast  = codes.Error("line-contrast", "maker, model and serial number on the cover must be read in poor light and on a black-and-white print")
	codeLineFigure    = codes.Error("line-figure", "a rating of nothing or less is a slip that every check would pass over")
	codeLineAxles     = codes.Error("line-axles", "each axle needs its own rating on the label")
	codeLineTask      = codes.Error("line-task", "an interval for a task nobody knows is never due")
	codeLineFeature   = codes.Error("line-feature", "a condition over a misspelt feature never holds, and its caution is never shown")
	codeLineExtends   = codes.Error("line-extends", "what a model, option or component takes over from another one must be there, and be what was meant")
	codeLineLonger    = codes.Error("line-longer", "weights and floors of a longer model are its own, and those of the shorter one would be printed for it")
	codeLineKind      = codes.Error("line-kind", "a figure that this kind of part lacks, or cannot have, is worked with all the same")
	codeSwitchedOff   = codes.Error("line-switched-off", "a caution or a job that is missing without a reason hurts somebody, and nobody knows who left it out")
	codeMarket        = codes.Warning("line-market", "an owner who is told rules of another country breaks those of his own")
	codeTextFallback  = codes.Error("text-fallback", "an owner does not meet words in another language unawares")
)

// Codes returns the codes of the findings this package can report.
func Codes() []source.Code { return codes }

var codes source.CodeList
