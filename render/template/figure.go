package template

import (
	"bytes"

	"ownerguide/spec/source"
)

// codeFigure is a warning, since a text may be right for all units that exist.
var codeFigure = codes.Warning("template-figure", "a figure typed into the words has no source, and stays as it is when the unit changes")

// typedFigure matches a number with a unit, in the languages of the templates.
var typedFigure = source.Pattern(`[0-9][0-9.,/]*(?:[\s\x{a0}\x{202f}-]*(?:%|°)|[\s\x{a0}\x{202f}-]*(?:` +
	`lbs?|oz|kg|kPa|bar|psi|in|ft|mm|cm|m|mi|km|km/h|mph|V|A|Ah|W|gal|qt|L|lb-ft|ft-lb|N·m|` +
	`percent|degrees?|pounds?|tons?|inch(?:es)?|foot|feet|miles?|volts?|amps?|gallons?|quarts?|seconds?|minutes?|hours?|days?|weeks?|months?|years?|turns?|` +
	`libras?|pulgadas?|pies?|millas?|metros?|litros?|galones|segundos?|minutos?|horas?|d[ií]as?|semanas?|mes(?:es)?|años?|vueltas?|` +
	`livres?|pouces?|pieds?|milles?|mètres?|litres?|secondes?|heures?|jours?|semaines?|mois|ans?|tours?)(?:[^\pL\pN]|$))`)

// inPlace matches "1 in the box", where "in" does not stand for inches.
var inPlace = source.Pattern(`^[0-9.,/]+\s+in (?:the|this|that|a|an|each|your|its|front|order|case)\b`)

// figure reports figures typed into a text.
func (c *compiler) figure(start int, raw []byte) {
	if c.proved || !bytes.ContainsAny(raw, "0123456789") { // the expression is slow, and most texts have no digit
		return
	}
	for _, at := range typedFigure().FindAllIndex(raw, -1) {
		if !inPlace().Match(raw[at[0]:]) {
			c.findings.Add(codeFigure.At(c.place(start+at[0]), "the figure %q is typed into the words", trimFigure(raw[at[0]:at[1]])).
				WithHint("put a value in braces, such as {tires.cold_pressure}, which brings its unit and its source; ownerguide explain SHEET lists them"))
		}
	}
}

// endOfFigure matches the characters after the unit that typedFigure includes.
var endOfFigure = source.Pattern(`[^\pL\pN%°]+$`)

func trimFigure(raw []byte) string { return endOfFigure().ReplaceAllString(string(raw), "") }

// prescribed compiles texts whose wording, including figures, is prescribed by law.
func (l *loader) prescribed(list []word) [][]Inline {
	var findings source.Findings
	out := make([][]Inline, len(list))
	for i, w := range list {
		out[i] = compileInline(w.Value, w.At, &findings)
	}
	for _, f := range findings {
		if f.Code != codeFigure.ID {
			l.add(f)
		}
	}
	return out
}
