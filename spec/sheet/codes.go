package sheet

import "ownerguide/spec/source"

// Codes of the findings about a build sheet as such.
var (
	codeTextEmail      = source.Code{ID: "text-email", Severity: source.Error, Protects: "a guide sent to a malformed address reaches nobody, or somebody else"}
	codeSerialForm     = source.Code{ID: "serial-form", Severity: source.Error, Protects: "the serial number names the unit's folder on every kind of computer"}
	codeRevisionForm   = source.Code{ID: "revision-form", Severity: source.Error, Protects: "two people must agree which of two guides is the later one"}
	codeLanguageForm   = source.Code{ID: "language-form", Severity: source.Error, Protects: "a language nobody can name would leave the owner with words in the wrong one"}
	codeCountRange     = source.Code{ID: "count-range", Severity: source.Error, Protects: "a slip in what the buyer expects would put every service date wrong"}
	codeWeights        = source.Code{ID: "measured-weights", Severity: source.Error, Protects: "weights that cannot be right make the cargo capacity wrong"}
	codeDateRange      = source.Code{ID: "date-range", Severity: source.Error, Protects: "a mistyped century would put every service date wrong"}
	codeDateIssued     = source.Code{ID: "date-issued", Severity: source.Error, Protects: "a guide dated before its unit was built describes some other unit"}
	codeDateDelivered  = source.Code{ID: "date-delivered", Severity: source.Error, Protects: "service life starts on the day of delivery, so a wrong one moves every service"}
	codeDateChange     = source.Code{ID: "date-change", Severity: source.Error, Protects: "a change dated before delivery belongs in the list of options as built"}
	codeOptionRepeated = source.Code{ID: "option-repeated", Severity: source.Error, Protects: "an option listed twice is mostly another one mistyped"}
	codeOptionAdded    = source.Code{ID: "option-added", Severity: source.Error, Protects: "what was fitted after delivery must be told from what was built in"}
	codeOptionRemoved  = source.Code{ID: "option-removed", Severity: source.Error, Protects: "taking off what was never on is mostly another option mistyped"}
	codeTireDate       = source.Code{ID: "tire-date", Severity: source.Error, Protects: "tires are replaced by age and recalled by date code"}
	codeFittedTwice    = source.Code{ID: "fitted-repeated", Severity: source.Error, Protects: "two parts in one place mean that one of them cannot be found in a recall"}
	codeSerialTwice    = source.Code{ID: "serial-repeated", Severity: source.Error, Protects: "one unit's guide would overwrite another's"}
	codeVINTwice       = source.Code{ID: "vin-repeated", Severity: source.Error, Protects: "a recall would reach the wrong owner"}
)

// Codes lists the findings this package can report.
func Codes() []source.Code {
	return []source.Code{
		codeTextEmail, codeSerialForm, codeRevisionForm, codeLanguageForm, codeCountRange, codeWeights, codeDateRange, codeDateIssued, codeDateDelivered, codeDateChange, codeOptionRepeated, codeOptionAdded, codeOptionRemoved, codeTireDate, codeFittedTwice, codeSerialTwice, codeVINTwice,
	}
}
