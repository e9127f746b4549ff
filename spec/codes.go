package spec

import "ownerguide/spec/source"

// Codes of the findings about a sheet together with a line.
var (
	codeFittedPlace    = codes.Error("fitted-place", "a recalled part must be found on the unit")
	codeFittedTires    = codes.Note("fitted-tires", "a recall by tire date code misses the tires that are not listed")
	codeVINLength      = codes.Error("vin-length", "a recall reaches the owner through this number")
	codeVINCharacter   = codes.Error("vin-character", "a recall reaches the owner through this number")
	codeVINCheck       = codes.Error("vin-check-digit", "the check digit is there to catch one mistyped character")
	codeVINYear        = codes.Error("vin-year", "the number and the label must name the same model year")
	codeVINMaker       = codes.Error("vin-maker", "another maker's number belongs to another maker's unit, with other ratings")
	codeVINModel       = codes.Error("vin-model", "another model's number belongs to a unit with other ratings")
	codeModelYear      = codes.Error("model-year", "the model year is on the label and in the number, and a wrong one is misleading")
	codeModelUnknown   = codes.Error("model-unknown", "a guide for another model has other ratings")
	codeOptionUnknown  = codes.Error("option-unknown", "an option nobody knows would be left out of the guide with its cautions")
	codeOptionRequires = codes.Error("option-requires", "an option without what carries it can fail in use")
	codeOptionExcludes = codes.Error("option-excludes", "options that do not go together cannot both be on the unit")
	codeOptionGroup    = codes.Error("option-group", "of alternatives the unit has one, and the guide must say which")
)

// Codes returns the codes of the findings this package can report.
func Codes() []source.Code { return codes }

var codes source.CodeList
