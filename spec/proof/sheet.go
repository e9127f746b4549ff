package proof

import (
	"fmt"
	"slices"
	"strings"

	"ownerguide/spec/logic"
	"ownerguide/spec/product"
	"ownerguide/spec/sheet"
	"ownerguide/spec/source"
	"ownerguide/spec/vin"
)

// Model year, and the range of all dates of an invented unit.
const (
	sheetYear  = 2027
	sheetBuilt = "2026-11-12"
	sheetGuide = "2027-03-20"
)

// Sheet returns a valid build sheet for an order; serial number, buyer and dealer are invented.
// The bare sheet has only required entries. The full one has all entries that affect the text;
// the last of its options that is not required by the others is added after delivery.
// Number, from 1 to 999, determines the serial number and the VIN.
func Sheet(l *product.Line, m *product.Model, options []string, full bool, number int) []byte {
	added, revision := "", "A"
	if last := removable(l.Problem(m), options); full && last >= 0 {
		added, revision = fmt.Sprintf("added:\n- { option: %s, date: 2027-03-01 }\n", options[last]), "B"
		options = slices.Delete(slices.Clone(options), last, last+1)
	}
	var b strings.Builder
	fmt.Fprintf(&b, "serial: %s-%03d\nvin: %s\nmodel: %s\nmodel_year: %d\nbuilt: %s\nissued: %s\nrevision: %s\noptions: [%s]\n%s",
		m.ID, number, vinOf(l, m, options, number), m.ID, sheetYear, sheetBuilt, sheetGuide, revision, strings.Join(options, ", "), added)
	if full {
		b.WriteString(`delivered: 2026-11-30
use: { distance_per_month: 900 mi, loads_per_week: 6, driven_already: 410 mi }
buyer: { name: Pat Example, town: Exampleton, region: Exampleshire, phone: 555-0177, email: pat@example.com }
dealer: { name: Example Trailer Sales, town: Exampleton, phone: 555-0118, email: sales@example.com }
notes: Spare key is in the box.
`)
	}
	return []byte(b.String())
}

// vinOf returns the VIN of a unit built with these options.
func vinOf(l *product.Line, m *product.Model, options []string, number int) string {
	text := l.Maker.WMI.Value + m.VINCodeWith(options) + "0VM" + l.Maker.Small.Value
	text += fmt.Sprintf("%0*d", 17-len(text), number)
	if digit, err := vin.CheckDigit(text); err == nil {
		text = text[:8] + string(digit) + text[9:]
	}
	return text
}

// removable returns the index of the last option without which the order is still valid; -1 if
// there is none.
func removable(p logic.Problem, options []string) int {
	for i := len(options) - 1; i >= 0; i-- {
		if p.Violations(slices.Delete(slices.Clone(options), i, i+1)) == nil {
			return i
		}
	}
	return -1
}

// sheetFile is the file name of sheets made here.
const sheetFile = "sheet"

// blank returns a sheet without options, to be used with any.
func blank(l *product.Line, m *product.Model, full bool) (*sheet.Sheet, source.Findings) {
	return sheet.Read(sheetFile, Sheet(l, m, nil, full, 1))
}
