package product

import "ownerguide/spec/source"

// Codes of the findings about a product line.
var (
	codeLineRead      = source.Code{ID: "line-read", Severity: source.Error, Protects: "a product line is whole or refused"}
	codeLineStray     = source.Code{ID: "line-stray", Severity: source.Error, Protects: "a file nobody reads was meant to say something"}
	codeLineID        = source.Code{ID: "line-id", Severity: source.Error, Protects: "ids name files, features and anchors everywhere"}
	codeLineRepeated  = source.Code{ID: "line-repeated", Severity: source.Error, Protects: "of two entries with one id, one would be silently ignored"}
	codeLineComponent = source.Code{ID: "line-component", Severity: source.Error, Protects: "a part without its component has no ratings"}
	codeLineTrailer   = source.Code{ID: "line-trailer", Severity: source.Error, Protects: "every guide speaks of coupler, axles, tires, wheels, jack, plug and load floor"}
	codeLineOption    = source.Code{ID: "line-option", Severity: source.Error, Protects: "a rule over an option that does not exist never bites"}
	codeLineRule      = source.Code{ID: "line-rule", Severity: source.Error, Protects: "a rule that says nothing, or two things, is a rule nobody checks"}
	codeLinePlace     = source.Code{ID: "line-place", Severity: source.Error, Protects: "an option that empties a place the model lacks leaves the wrong part on"}
	codeLineText      = source.Code{ID: "line-text", Severity: source.Error, Protects: "the owner and the salesperson need a name and a reason, not an id"}
	codeLineVIN       = source.Code{ID: "line-vin", Severity: source.Error, Protects: "numbers are checked against these codes"}
	codeLineStages    = source.Code{ID: "line-stages", Severity: source.Error, Protects: "lug nuts tightened in the wrong stages come loose"}
	codeLineShare     = source.Code{ID: "line-share", Severity: source.Error, Protects: "too little weight on the coupler makes a trailer sway"}
	codeLineColor     = source.Code{ID: "line-color", Severity: source.Error, Protects: "a colour nobody can read leaves the cover in another one"}
	codeLineContrast  = source.Code{ID: "line-contrast", Severity: source.Error, Protects: "maker, model and serial number on the cover must be read in poor light and on a black-and-white print"}
	codeLineFigure    = source.Code{ID: "line-figure", Severity: source.Error, Protects: "a rating of nothing or less is a slip that every check would pass over"}
	codeLineAxles     = source.Code{ID: "line-axles", Severity: source.Error, Protects: "each axle needs its own rating on the label"}
	codeLineTask      = source.Code{ID: "line-task", Severity: source.Error, Protects: "an interval for a task nobody knows is never due"}
	codeLineFeature   = source.Code{ID: "line-feature", Severity: source.Error, Protects: "a condition over a misspelt feature never holds, and its caution is never shown"}
	codeLineExtends   = source.Code{ID: "line-extends", Severity: source.Error, Protects: "what a model, option or component takes over from another one must be there, and be what was meant"}
	codeLineLonger    = source.Code{ID: "line-longer", Severity: source.Error, Protects: "weights and floors of a longer model are its own, and those of the shorter one would be printed for it"}
	codeLineKind      = source.Code{ID: "line-kind", Severity: source.Error, Protects: "a figure that this kind of part lacks, or cannot have, is worked with all the same"}
	codeTextFallback  = source.Code{ID: "text-fallback", Severity: source.Note, Protects: "an owner should not meet words in another language unawares"}
)

// Codes lists the findings this package can report.
func Codes() []source.Code {
	return []source.Code{
		codeLineRead, codeLineStray, codeLineID, codeLineRepeated, codeLineComponent, codeLineTrailer, codeLineOption, codeLineRule, codeLinePlace, codeLineText, codeLineVIN, codeLineStages, codeLineShare, codeLineColor, codeLineContrast, codeLineFigure, codeLineAxles, codeLineTask, codeLineFeature, codeLineExtends, codeLineLonger, codeLineKind, codeLinePlausible, codeTextFallback,
	}
}
