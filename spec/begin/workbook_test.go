package begin

import (
	"archive/zip"
	"bytes"
	"encoding/xml"
	"strings"
	"testing"
)

// workbook makes an .xlsx file of the parts that ECMA-376 (Office Open XML, part
// 1, chapter 18) asks for; sheet is the content of sheetData.
func workbook(t testing.TB, sheet string, change func(parts map[string]string)) []byte {
	t.Helper()
	const ns = `xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main" xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships"`
	parts := map[string]string{
		"[Content_Types].xml": `<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"><Default Extension="xml" ContentType="application/xml"/></Types>`,
		"xl/workbook.xml":     `<workbook ` + ns + `><workbookPr/><sheets><sheet name="Orders" sheetId="1" r:id="rId1"/></sheets></workbook>`,
		"xl/_rels/workbook.xml.rels": `<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">` +
			`<Relationship Id="rId1" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/worksheet" Target="worksheets/sheet1.xml"/></Relationships>`,
		"xl/sharedStrings.xml":     `<sst ` + ns + ` count="5" uniqueCount="5"><si><t>serial</t></si><si><t>model</t></si><si><t>built</t></si><si><t>spare</t></si><si><r><t>dump-</t></r><r><t>14</t></r></si></sst>`,
		"xl/styles.xml":            `<styleSheet ` + ns + `><cellXfs count="2"><xf numFmtId="0"/><xf numFmtId="14"/></cellXfs></styleSheet>`,
		"xl/worksheets/sheet1.xml": `<worksheet ` + ns + `><sheetData>` + sheet + `</sheetData></worksheet>`,
	}
	if change != nil {
		change(parts)
	}
	var b bytes.Buffer
	w := zip.NewWriter(&b)
	for _, name := range []string{"[Content_Types].xml", "xl/workbook.xml", "xl/_rels/workbook.xml.rels", "xl/sharedStrings.xml", "xl/styles.xml", "xl/worksheets/sheet1.xml", "bomb.bin"} {
		if parts[name] == "" {
			continue
		}
		f, err := w.Create(name)
		if err == nil {
			_, err = f.Write([]byte(parts[name]))
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

const workbookRows = `<row r="1"><c r="A1" t="s"><v>0</v></c><c r="B1" t="s"><v>1</v></c><c r="C1" t="s"><v>2</v></c><c r="D1" t="s"><v>3</v></c></row>` +
	`<row r="3"><c r="A3" t="inlineStr"><is><t>A-1</t></is></c><c r="B3" t="s"><v>4</v></c><c r="C3" s="1"><v>46338</v></c><c r="D3" t="b"><v>1</v></c></row>` +
	`<row r="4"><c r="A4"><v>270142</v></c><c r="B4" t="s"><v>4</v></c><c r="C4"><v>46338</v></c></row>` +
	`<row r="5"><c r="A5" t="inlineStr"><is><t>A-3</t></is></c><c r="B5" t="s"><v>4</v></c><c r="C5" s="1"><v>46338.75</v></c></row>` +
	`<row r="6"><c r="A6" t="inlineStr"><is><t>A-4</t></is></c><c r="B6" t="s"><v>2</v></c></row>`

func TestReadWorkbook(t *testing.T) {
	table, findings := ReadWorkbook("orders.xlsx", workbook(t, workbookRows, nil), "Orders")
	if len(findings) > 0 {
		t.Fatal(shown(findings))
	}
	sheets, findings := columnsOf(t, "columns: { serial: serial, model: model, built: built }\nyes_no: { spare: tarp }\n").Sheets(table, embedded(t), prints)
	if want := `orders.xlsx:6:2: model "built" is not in the line of Bramblewick Trailer Works, in cell B6 of Orders [model-unknown] (models: utility-12, car-20, tilt-20, dump-14, deck-28, deck-32, deck-36, boat-18, cargo-14, stock-16)`; shown(findings) != want {
		t.Errorf("got\n%s\nwant\n%s", shown(findings), want)
	}
	// Day 46338 is 2026-11-12: 126 years of 365 days and 31 leap days from
	// 1900-01-01 to 2026-01-01, 315 days more, and the calendar's own 1900-02-29
	// and day 1. Counted by hand: 45990 + 31 + 315 + 2 = 46338.
	for i, want := range []string{"serial: A-1|built: 2026-11-12|options: [tarp]", "serial: 270142|built: 2026-11-12|options: []", "serial: A-3|built: 2026-11-12|options: []"} {
		for line := range strings.SplitSeq(want, "|") {
			if !strings.Contains(string(sheets[i].Text), "\n"+line+"\n") {
				t.Errorf("%q is not in\n%s", line, sheets[i].Text)
			}
		}
	}
	if len(sheets) != 4 || sheets[3].Text != nil {
		t.Errorf("%d sheets", len(sheets))
	}
}

// What the library would take wrongly, or would take the machine down with it,
// is refused before the library sees it.
func TestUnsoundWorkbooks(t *testing.T) {
	part := func(name, old, new string) func(map[string]string) {
		return func(parts map[string]string) { parts[name] = strings.Replace(parts[name], old, new, 1) }
	}
	inSheet := func(what string) func(map[string]string) {
		return part("xl/worksheets/sheet1.xml", "<sheetData>", "<sheetData>"+what)
	}
	for _, c := range []struct {
		name   string
		change func(map[string]string)
		want   string
	}{
		{"cut off between rows", part("xl/worksheets/sheet1.xml", `<row r="5">`, ``), "xl/worksheets/sheet1.xml: XML syntax error"},
		{"negative number of a text", part("xl/worksheets/sheet1.xml", "<v>4</v>", "<v>-4</v>"), "a cell points to a text that is not there"},
		{"number of texts beyond all bounds", part("xl/sharedStrings.xml", `count="5"`, `count="99999999999"`), "the number of its texts cannot be right"},
		{"days from 1904", part("xl/workbook.xml", "<workbookPr/>", `<workbookPr date1904="1"/>`), "it counts days from 1904"},
		{"readings", part("xl/sharedStrings.xml", "<t>serial</t>", "<t>serial</t><rPh sb=\"0\" eb=\"1\"><t>x</t></rPh>"), "it has readings above its texts"},
		{"one text in every cell", func(parts map[string]string) {
			parts["xl/sharedStrings.xml"] = "<sst><si><t>serial</t></si><si><t>" + strings.Repeat("x", 30000) + "</t></si></sst>"
			parts["xl/worksheets/sheet1.xml"] = "<worksheet><sheetData><row r=\"1\"><c r=\"A1\" t=\"s\"><v>0</v></c></row>" +
				strings.Repeat("<row r=\"2\"><c r=\"A2\" t=\"s\"><v>1</v></c></row>", 600) + "</sheetData></worksheet>"
		}, `worksheet "Orders" has more than 16 MB of text in its cells`},
		{"nested", inSheet(strings.Repeat("<a>", depthLimit)), "its elements are nested more than 32 deep"},
		{"nested without end", inSheet(strings.Repeat("<a>", 1<<20)), "its elements are nested more than 32 deep"},
		{"one long text", inSheet("<row><c><v>" + strings.Repeat("x", tokenLimit+1)), "it has a tag or a text of more than 1048576 bytes"},
		{"one long tag", inSheet(`<row r="` + strings.Repeat("x", tokenLimit+1)), "it has a tag or a text of more than 1048576 bytes"},
		{"one long remark", inSheet("<!--" + strings.Repeat("<", tokenLimit+1)), "it has a tag or a text of more than 1048576 bytes"},
		{"one long row", inSheet("<row>" + strings.Repeat("<c/>", rowCellLimit+1)), "a row has more than 16384 cells"},
		{"formats", func(parts map[string]string) {
			parts["xl/styles.xml"] = "<styleSheet>" + strings.Repeat("<numFmt/>", 5001)
		}, "the workbook has more than 5000 elements numFmt"},
		{"a worksheet that is no .xml", part("xl/_rels/workbook.xml.rels", "sheet1.xml", "sheet1.png"), `it names a part "worksheets/sheet1.png", which is no .xml`},
		{"bomb", func(parts map[string]string) { parts["bomb.bin"] = strings.Repeat("\x00", unfoldedLimit) }, "the workbook unfolds to more than 64 MB"},
	} {
		t.Run(c.name, func(t *testing.T) {
			data := workbook(t, workbookRows, c.change)
			table, findings := ReadWorkbook("x.xlsx", data, "")
			if table != nil || len(findings) != 1 || !strings.Contains(findings[0].Message, c.want) || findings[0].Code != codeExport.ID {
				t.Errorf("got %s, want %s", shown(findings), c.want)
			}
			if len(data) > 1<<20 {
				t.Errorf("the file has %d bytes, and is to be small", len(data))
			}
		})
	}
	for _, c := range []struct {
		name, sheet, worksheet, want string
	}{
		{"text that is not there", `<row r="1"><c r="A1" t="s"><v>77</v></c></row>`, "", "x.xlsx:1: this row cannot be read: attempted to index value 77 in shared strings of length 5, in row 1 of Orders [export-row]"},
		{"column beyond all bounds", `<row r="1"><c r="ZZZZ1"><v>1</v></c></row>`, "", `x.xlsx:1: this row cannot be read: a cell is in column "ZZZZ"; columns up to number 500 are read, in row 1 of Orders [export-row]`},
		{"no titles", ``, "", `x.xlsx: worksheet "Orders" has no usable title line [export-unreadable]`},
		{"no such worksheet", workbookRows, "Order", `x.xlsx: there is no worksheet "Order"; there are Orders [export-unreadable] (did you mean "Orders"?)`},
	} {
		t.Run(c.name, func(t *testing.T) {
			table, findings := ReadWorkbook("x.xlsx", workbook(t, c.sheet, nil), c.worksheet)
			if table != nil || !strings.Contains(shown(findings), c.want) {
				t.Errorf("got %s, want %s", shown(findings), c.want)
			}
		})
	}
	if _, findings := ReadWorkbook("x.xlsx", []byte("PK"), ""); !strings.Contains(shown(findings), "it is not an .xlsx file") {
		t.Error(shown(findings))
	}
}

// So many elements that a test would take seconds to read them.
func TestElementsAreCounted(t *testing.T) {
	for kind, most := range map[string]int{"c": cellLimit, "f": elementLimit} {
		u := &boundedReader{seen: map[string]int{}}
		e := xml.StartElement{Name: xml.Name{Local: kind}}
		for i := range most + 1 {
			if err := u.element("xl/worksheets/sheet1.xml", e); (err != nil) != (i == most) {
				t.Fatalf("element %d of %s: %v", i+1, kind, err)
			}
		}
	}
}
