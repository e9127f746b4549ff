package main

import (
	"archive/zip"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"ownerguide/spec/testenv"
)

// Order exports that are small and stand for much: what they unfold to takes no
// more memory than a unit may.
func TestHostileExports(t *testing.T) {
	testenv.Heavy(t, "measures the memory of the built program")
	const title = `<row r="1"><c r="A1" t="inlineStr"><is><t>serial</t></is></c><c r="B1" t="inlineStr"><is><t>model</t></is></c></row>`
	for _, c := range []struct {
		name, rows, texts, want string
	}{
		{"nested", title + strings.Repeat("<a>", 4<<20), "", "nested more than 32 deep"},
		{"nested as deep as may be", title + strings.Repeat(strings.Repeat("<a>", 28)+strings.Repeat("</a>", 28), 60_000), "", ""},
		{"cells in a row", title + `<row r="2">` + strings.Repeat("<c/>", 10_000_000), "", "a row has more than 16384 cells"},
		{"cells", title + strings.Repeat(`<row r="2">`+strings.Repeat("<c><v>1</v></c>", 16_000)+"</row>", 30), "", "this row cannot be read"},
		{"one long text", title + "<row><c><v>" + strings.Repeat("x", 60<<20), "", "a tag or a text of more than"},
		{"texts", title, strings.Repeat("<si><t>x</t></si>", 500_000), ""},
		{"a text of many pieces", title, "<si>" + strings.Repeat("<r><t>x</t></r>", 950_000) + "</si>", ""},
		{"one text in every cell", title + strings.Repeat(`<row r="2"><c r="A2" t="s"><v>0</v></c></row>`, 20_000), "<si><t>" + strings.Repeat("x", 32_000) + "</t></si>", "more than 16 MB of text"},
	} {
		t.Run(c.name, func(t *testing.T) {
			name := filepath.Join(t.TempDir(), "orders.xlsx")
			if size := writeWorkbook(t, name, c.rows, c.texts); size > 1<<20 {
				t.Fatalf("%d bytes are not small", size)
			}
			wantTamed(t, name, c.want)
		})
	}
	for _, c := range []struct{ name, text, want string }{
		{"separators", "serial,model\n" + strings.Repeat(",", 16_000_000), "more than 500000 cells"},
		{"as many separators as may be", "serial,model\n" + strings.Repeat(",", 499_990), ""},
		{"lines", "serial,model\n" + strings.Repeat("\n", 16_000_000), "more than 500000 cells"},
		{"a quote that does not end", "serial,model\n\"" + strings.Repeat("x\n", 450_000), "this row cannot be read"},
	} {
		t.Run(c.name, func(t *testing.T) {
			name := filepath.Join(t.TempDir(), "orders.csv")
			if err := os.WriteFile(name, []byte(c.text), 0o644); err != nil {
				t.Fatal(err)
			}
			wantTamed(t, name, c.want)
		})
	}
}

func wantTamed(t *testing.T, export, want string) {
	t.Helper()
	o := tame(t, t.TempDir(), "begin", "--from", export)
	if clean := o.code == exitClean; clean != (want == "") || !strings.Contains(o.stderr, want) {
		t.Errorf("exit %d, want %q\n%s", o.code, want, head(o.stderr))
	}
}

// writeWorkbook writes an .xlsx file of one worksheet and its shared texts.
func writeWorkbook(t *testing.T, name, rows, texts string) (size int64) {
	t.Helper()
	const ns = ` xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main" xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships"`
	file, err := os.Create(name)
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	w := zip.NewWriter(file)
	for _, part := range []struct{ name, text string }{
		{"[Content_Types].xml", `<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"><Default Extension="xml" ContentType="application/xml"/></Types>`},
		{"xl/workbook.xml", "<workbook" + ns + `><workbookPr/><sheets><sheet name="Orders" sheetId="1" r:id="rId1"/></sheets></workbook>`},
		{"xl/_rels/workbook.xml.rels", `<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="rId1" Type="worksheet" Target="worksheets/sheet1.xml"/></Relationships>`},
		{"xl/sharedStrings.xml", "<sst" + ns + ">" + texts + "</sst>"},
		{"xl/styles.xml", "<styleSheet" + ns + "><cellXfs/></styleSheet>"},
		{"xl/worksheets/sheet1.xml", "<worksheet" + ns + "><sheetData>" + rows + "</sheetData></worksheet>"},
	} {
		f, err := w.Create(part.name)
		if err == nil {
			_, err = f.Write([]byte(part.text))
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	info, err := file.Stat()
	if err != nil {
		t.Fatal(err)
	}
	return info.Size()
}
