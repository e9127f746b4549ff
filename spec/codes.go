package spec

import "ownerguide/spec/source"

// Codes of the findings about a sheet against a line.
var (
	codeFittedPlace    = source.Code{ID: "fitted-place", Severity: source.Error, Protects: "a recalled part must be found on the unit"}
	codeFittedTires    = source.Code{ID: "fitted-tires", Severity: source.Note, Protects: "a recall by tire date code misses the tires that are not listed"}
	codeVINLength      = source.Code{ID: "vin-length", Severity: source.Error, Protects: "a recall reaches the owner through this number"}
	codeVINCharacter   = source.Code{ID: "vin-character", Severity: source.Error, Protects: "a recall reaches the owner through this number"}
	codeVINCheck       = source.Code{ID: "vin-check-digit", Severity: source.Error, Protects: "the check digit is there to catch one mistyped character"}
	codeVINYear        = source.Code{ID: "vin-year", Severity: source.Error, Protects: "the number and the label must name the same model year"}
	codeVINMaker       = source.Code{ID: "vin-maker", Severity: source.Error, Protects: "another maker's number belongs to another maker's unit, with other ratings"}
	codeVINModel       = source.Code{ID: "vin-model", Severity: source.Error, Protects: "another model's number belongs to a unit with other ratings"}
	codeModelYear      = source.Code{ID: "model-year", Severity: source.Error, Protects: "the model year is on the label and in the number, and a wrong one is misleading"}
	codeModelUnknown   = source.Code{ID: "model-unknown", Severity: source.Error, Protects: "a guide for another model has other ratings"}
	codeOptionUnknown  = source.Code{ID: "option-unknown", Severity: source.Error, Protects: "an option nobody knows would be left out of the guide with its cautions"}
	codeOptionRequires = source.Code{ID: "option-requires", Severity: source.Error, Protects: "an option without what carries it can fail in use"}
	codeOptionExcludes = source.Code{ID: "option-excludes", Severity: source.Error, Protects: "options that do not go together cannot both be on the unit"}
	codeOptionGroup    = source.Code{ID: "option-group", Severity: source.Error, Protects: "of alternatives the unit has one, and the guide must say which"}
)

// Codes lists the findings this package can report.
func Codes() []source.Code {
	return []source.Code{
		codeFittedPlace, codeFittedTires, codeVINLength, codeVINCharacter, codeVINCheck, codeVINYear, codeVINMaker, codeVINModel, codeModelYear, codeModelUnknown, codeOptionUnknown, codeOptionRequires, codeOptionExcludes, codeOptionGroup,
	}
}
