package sheet

import "ownerguide/spec/source"

// Codes of the findings about a build sheet alone.
var (
	codeTextEmail      = codes.Error("text-email", "a guide sent to a malformed address reaches nobody, or somebody else")
	codeSerialForm     = codes.Error("serial-form", "the serial number names the unit's folder on every kind of computer")
	codeRevisionForm   = codes.Error("revision-form", "two people must agree which of two guides is the later one")
	codeLanguageForm   = codes.Error("language-form", "a language nobody can name would leave the owner with words in the wrong one")
	codeCountRange     = codes.Error("count-range", "a slip in what the buyer expects would put every service date wrong")
	codeWeights        = codes.Error("measured-weights", "weights that cannot be right make the cargo capacity wrong")
	codeDateRange      = codes.Error("date-range", "a mistyped century would put every service date wrong")
	codeDateIssued     = codes.Error("date-issued", "a guide dated before its unit was built describes some other unit")
	codeDateDelivered  = codes.Error("date-delivered", "service life starts on the day of delivery, so a wrong one moves every service")
	codeDateFar        = codes.Warning("date-far", "a year off puts every service date and the age of the tires a year off")
	codeDateChange     = codes.Error("date-change", "a change dated before delivery belongs in the list of options as built")
	codeOptionRepeated = codes.Error("option-repeated", "an option listed twice is mostly another one mistyped")
	codeOptionAdded    = codes.Error("option-added", "what was fitted after delivery must be told from what was built in")
	codeOptionRemoved  = codes.Error("option-removed", "taking off what was never on is mostly another option mistyped")
	codeTireDate       = codes.Error("tire-date", "tires are replaced by age and recalled by date code")
	codeFittedTwice    = codes.Error("fitted-repeated", "two parts in one place mean that one of them cannot be found in a recall")
	codeSerialTwice    = codes.Error("serial-repeated", "one unit's guide would overwrite another's")
	codeVINTwice       = codes.Error("vin-repeated", "a recall would reach the wrong owner")
)

// Codes returns the codes of the findings this package can report.
func Codes() []source.Code { return codes }

var codes source.CodeList
