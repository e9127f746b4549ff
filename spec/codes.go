package spec

import "ownerguide/spec/source"

// Codes of the findings about a build sheet, about a sheet against a line, and
// about a line as such.
var (
	codeTextEmpty     = source.Code{ID: "text-empty", Severity: source.Error, Protects: "an entry with nothing in it would leave a hole in the guide"}
	codeTextControl   = source.Code{ID: "text-control", Severity: source.Error, Protects: "control characters and line breaks can hide or split what the guide and its mail say"}
	codeTextDirection = source.Code{ID: "text-direction", Severity: source.Error, Protects: "characters that turn the reading direction can make a figure read backwards"}
	codeTextLong      = source.Code{ID: "text-too-long", Severity: source.Error, Protects: "text far longer than its place pushes the cautions off the page"}
	codeTextEmail     = source.Code{ID: "text-email", Severity: source.Error, Protects: "a guide sent to a malformed address reaches nobody, or somebody else"}

	codeSerialForm   = source.Code{ID: "serial-form", Severity: source.Error, Protects: "the serial number names the unit's folder on every kind of computer"}
	codeRevisionForm = source.Code{ID: "revision-form", Severity: source.Error, Protects: "two people must agree which of two guides is the later one"}
	codeLanguageForm = source.Code{ID: "language-form", Severity: source.Error, Protects: "a language nobody can name would leave the owner with words in the wrong one"}
	codeCountRange   = source.Code{ID: "count-range", Severity: source.Error, Protects: "a slip in what the buyer expects would put every service date wrong"}
	codeWeights      = source.Code{ID: "measured-weights", Severity: source.Error, Protects: "weights that cannot be right make the cargo capacity wrong"}

	codeDateRange     = source.Code{ID: "date-range", Severity: source.Error, Protects: "a mistyped century would put every service date wrong"}
	codeDateIssued    = source.Code{ID: "date-issued", Severity: source.Error, Protects: "a guide dated before its unit was built describes some other unit"}
	codeDateDelivered = source.Code{ID: "date-delivered", Severity: source.Error, Protects: "service life starts on the day of delivery, so a wrong one moves every service"}
	codeDateChange    = source.Code{ID: "date-change", Severity: source.Error, Protects: "a change dated before delivery belongs in the list of options as built"}

	codeOptionRepeated = source.Code{ID: "option-repeated", Severity: source.Error, Protects: "an option listed twice is mostly another one mistyped"}
	codeOptionAdded    = source.Code{ID: "option-added", Severity: source.Error, Protects: "what was fitted after delivery must be told from what was built in"}
	codeOptionRemoved  = source.Code{ID: "option-removed", Severity: source.Error, Protects: "taking off what was never on is mostly another option mistyped"}

	codeTireDate     = source.Code{ID: "tire-date", Severity: source.Error, Protects: "tires are replaced by age and recalled by date code"}
	codeFittedTwice  = source.Code{ID: "fitted-repeated", Severity: source.Error, Protects: "two parts in one place mean that one of them cannot be found in a recall"}
	codeFittedPlace  = source.Code{ID: "fitted-place", Severity: source.Error, Protects: "a recalled part must be found on the unit"}
	codeFittedTires  = source.Code{ID: "fitted-tires", Severity: source.Note, Protects: "a recall by tire date code misses the tires that are not listed"}
	codeSerialTwice  = source.Code{ID: "serial-repeated", Severity: source.Error, Protects: "one unit's guide would overwrite another's"}
	codeVINTwice     = source.Code{ID: "vin-repeated", Severity: source.Error, Protects: "a recall would reach the wrong owner"}
	codeTextFallback = source.Code{ID: "text-fallback", Severity: source.Note, Protects: "an owner should not meet words in another language unawares"}

	codeVINLength    = source.Code{ID: "vin-length", Severity: source.Error, Protects: "a recall reaches the owner through this number"}
	codeVINCharacter = source.Code{ID: "vin-character", Severity: source.Error, Protects: "a recall reaches the owner through this number"}
	codeVINCheck     = source.Code{ID: "vin-check-digit", Severity: source.Error, Protects: "the check digit is there to catch one mistyped character"}
	codeVINYear      = source.Code{ID: "vin-year", Severity: source.Error, Protects: "the number and the label must name the same model year"}
	codeVINMaker     = source.Code{ID: "vin-maker", Severity: source.Error, Protects: "another maker's number belongs to another maker's unit, with other ratings"}
	codeVINModel     = source.Code{ID: "vin-model", Severity: source.Error, Protects: "another model's number belongs to a unit with other ratings"}
	codeModelYear    = source.Code{ID: "model-year", Severity: source.Error, Protects: "the model year is on the label and in the number, and a wrong one is misleading"}

	codeModelUnknown   = source.Code{ID: "model-unknown", Severity: source.Error, Protects: "a guide for another model has other ratings"}
	codeOptionUnknown  = source.Code{ID: "option-unknown", Severity: source.Error, Protects: "an option nobody knows would be left out of the guide with its cautions"}
	codeOptionRequires = source.Code{ID: "option-requires", Severity: source.Error, Protects: "an option without what carries it can fail in use"}
	codeOptionExcludes = source.Code{ID: "option-excludes", Severity: source.Error, Protects: "options that do not go together cannot both be on the unit"}
	codeOptionGroup    = source.Code{ID: "option-group", Severity: source.Error, Protects: "of alternatives the unit has one, and the guide must say which"}

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
)

// Codes lists the findings this package can report.
func Codes() []source.Code {
	return append(sheetCodes(),
		codeLineRead, codeLineStray, codeLineID, codeLineRepeated, codeLineComponent, codeLineTrailer, codeLineOption, codeLineRule, codeLinePlace, codeLineText,
		codeLineVIN, codeLineStages, codeLineShare, codeLineColor, codeLineContrast, codeLineFigure, codeLineAxles, codeLineTask, codeLineFeature, codeTextFallback)
}

// sheetCodes lists the findings that a build sheet can provoke.
func sheetCodes() []source.Code {
	return []source.Code{
		codeTextEmpty, codeTextControl, codeTextDirection, codeTextLong, codeTextEmail,
		codeSerialForm, codeRevisionForm, codeLanguageForm, codeCountRange, codeWeights,
		codeDateRange, codeDateIssued, codeDateDelivered, codeDateChange,
		codeOptionRepeated, codeOptionAdded, codeOptionRemoved,
		codeTireDate, codeFittedTwice, codeFittedPlace, codeFittedTires, codeSerialTwice, codeVINTwice,
		codeVINLength, codeVINCharacter, codeVINCheck, codeVINYear, codeVINMaker, codeVINModel, codeModelYear,
		codeModelUnknown, codeOptionUnknown, codeOptionRequires, codeOptionExcludes, codeOptionGroup,
	}
}
