package begin

import (
	"fmt"
	"strings"
	"testing"

	"ownerguide/spec"
	"ownerguide/spec/sheet"
	"ownerguide/spec/source"
)

const columnMap = `columns: { serial: Order No, model: Type, options: Extras, buyer.name: Customer, measured.empty_weight: Scale, built: Built }
units: { measured.empty_weight: lb }
models: { TD20: tilt-20 }
options: { BOX: front-box }
yes_no: { Spare wheel: spare }
same: { issued: 2027-01-15, model_year: 2027 }
leave_out: [Price]
`

const titles = "Order No,Type,Extras,Customer,Scale,Spare wheel,Sales rep,Built,Price\n"

// shown prints findings on one line each.
func shown(findings source.Findings) string {
	var out []string
	for _, f := range findings.Sorted() {
		line := fmt.Sprintf("%s: %s [%s]", f.Pos, f.Message, f.Code)
		for _, r := range f.Related {
			line += fmt.Sprintf(" {%s}", r.Pos)
		}
		for _, h := range f.Hints {
			line += fmt.Sprintf(" (%s)", h)
		}
		out = append(out, line)
	}
	return strings.Join(out, "\n")
}

func columnsOf(t testing.TB, text string) *Columns {
	t.Helper()
	c, findings := ReadColumns("map.yaml", []byte(text))
	if len(findings) > 0 {
		t.Fatal(shown(findings))
	}
	return c
}

// fromCSV makes sheets of a text with the usual titles.
func fromCSV(t testing.TB, columns, rows string) ([]Sheet, source.Findings) {
	t.Helper()
	table, findings := ReadCSV("orders.csv", []byte(titles+rows), "")
	if table == nil {
		t.Fatal(shown(findings))
	}
	sheets, more := columnsOf(t, columns).Sheets(table, embedded(t), prints)
	return sheets, append(findings, more...)
}

func TestRowBecomesSheet(t *testing.T) {
	sheets, findings := fromCSV(t, columnMap, "BW-27-0901,TD20,BOX; winch-plate,\"Alder, Rosa\",\"5,980\",yes,Kim,2026-11-12,9000\n")
	if len(findings) > 0 || len(sheets) != 1 {
		t.Fatal(shown(findings))
	}
	text := string(sheets[0].Text)
	for _, want := range []string{"\nserial: BW-27-0901\n", "\nmodel: tilt-20\n", "\nmodel_year: 2027\n", "\nbuilt: 2026-11-12\n", "\nissued: 2027-01-15\n", "\nrevision: A\n",
		"\noptions: [front-box, winch-plate, spare]\n", "\n  empty_weight: 5,980 lb\n", "\n  name: \"Alder, Rosa\"\n", "\n# Also in the order, orders.csv row 2:\n# Sales rep: Kim\n"} {
		if !strings.Contains(text, strings.ReplaceAll(want, "\"Alder, Rosa\"", "Alder, Rosa")) {
			t.Errorf("%q is not in\n%s", want, text)
		}
	}
	if strings.Contains(text, "9000") {
		t.Error("a column that was left out is there")
	}
	if got := fmt.Sprint(sheets[0].Blanks); got != "[vin]" {
		t.Errorf("blanks %s", got)
	}
	// With its blank filled in, the sheet is right.
	s, findings := sheet.Read("x.yaml", []byte(fill(t, text)))
	if _, more := spec.Resolve(embedded(t), s); len(findings)+len(more) > 0 {
		t.Error(shown(append(findings, more...)))
	}
}

// fittedMap fills what was bolted on from columns, one for each place.
const fittedMap = `columns:
  serial: No
  model: Type
  options: Extras
  issued: Issued
  fitted.axles.front: Axle F
  fitted.axles.rear: Axle R
  fitted.tires.left front: LF
  fitted.tires.right front: RF
  fitted.tires.left rear: LR
  fitted.tires.right rear: RR
  fitted.parts.winch: Winch
`

const fittedTitles = "No,Type,Extras,Issued,Axle F,Axle R,LF,RF,LR,RR,Winch\n"

func fittedSheets(t *testing.T, columns, row string) ([]Sheet, string) {
	t.Helper()
	table, findings := ReadCSV("orders.csv", []byte(fittedTitles+row), "")
	c, more := ReadColumns("map.yaml", []byte(columns))
	findings = append(findings, more...)
	var sheets []Sheet
	if c != nil {
		sheets, more = c.Sheets(table, embedded(t), prints)
		findings = append(findings, more...)
	}
	return sheets, shown(findings)
}

func TestColumnsFillWhatIsFitted(t *testing.T) {
	sheets, findings := fittedSheets(t, fittedMap,
		"BW-1,tilt-20,power-tilt;front-box;winch-plate;winch,2027-01-15,AX-10,AX-11,3426,0127,3426,3426,\"W, 7\"\nBW-2,tilt-20,none,2027-01-15,,,,,,,\n")
	if findings != "" || len(sheets) != 2 {
		t.Fatal(findings)
	}
	want := `
fitted:
  axles:
    - place: front
      serial: AX-10
    - place: rear
      serial: AX-11
  tires:
    - place: left front
      dot: "3426"
    - place: right front
      dot: "0127"
    - place: left rear
      dot: "3426"
    - place: right rear
      dot: "3426"
  parts:
    - place: winch
      serial: W, 7
`
	if text := string(sheets[0].Text); !strings.Contains(text, want) {
		t.Errorf("want%sin\n%s", want, text)
	}
	if text := string(sheets[1].Text); strings.Contains(text, "fitted") {
		t.Errorf("nothing is fitted in\n%s", text)
	}
	s, _ := sheet.Read("x.yaml", sheets[0].Text)
	if got := s.Fitted.Tires[1].DOT.Value; got != "0127" {
		t.Errorf("date code %q", got)
	}
	// Titles that are the entries' own names need no map.
	table, _ := ReadCSV("orders.csv", []byte("serial,model,Fitted.Tires.Left Front\nBW-1,utility-12,3426\n"), "")
	var none *Columns
	if _, f := none.Sheets(table, embedded(t), prints); !strings.HasPrefix(shown(f), `orders.csv:2:17: place "left front" is not on this unit [fitted-place] (places here: left, right)`) {
		t.Error(shown(f))
	}
}

func TestSlipsOfWhatIsFitted(t *testing.T) {
	const good = "BW-1,tilt-20,none,2027-01-15,AX-10,AX-11,3426,3426,3426,3426,\n"
	for _, c := range []struct{ name, old, new, want string }{
		{"list", "fitted.tires.left front", "fitted.tyres.left front", `map.yaml:8:3: a build sheet has no entry "fitted.tyres.left front" that a column can fill [export-column] (under columns, name a list and a place: "fitted.tires.left front", `},
		{"place", "fitted.tires.left front", "fitted.tires.left frnt", `map.yaml:8:3: no unit of this line has the place "left frnt" under fitted.tires [export-column] (did you mean "fitted.tires.left front"?)`},
		{"part", "fitted.parts.winch", "fitted.parts.hoist", `map.yaml:12:3: no unit of this line has the place "hoist" under fitted.parts [export-column] (places: `},
		{"no place", "fitted.parts.winch", "fitted.parts", `map.yaml:12:3: a build sheet has no entry "fitted.parts" that a column can fill [export-column] (under columns, name a list and a place: `},
		{"column", ": LF", ": FL", `map.yaml:8:28: orders.csv has no column "FL" [export-column] (did you mean `},
		{"week", "AX-11,3426", "AX-11,5426", `orders.csv:2:42: date code is "5426"; expected week and year in four digits, such as 3426, the week 01 to 53 [tire-date]`},
		{"zero lost", "AX-11,3426,3426", "AX-11,3426,127", `orders.csv:2:47: the date code in the cell of fitted.tires.right front is "127"; it has four digits [export-cell] (a spreadsheet takes a zero off`},
		{"younger than the guide", "3426,3426,\n", "3426,3427,\n", `orders.csv:2:57: date code 3427 is week 34 of 2027, after this guide's date 2027-01-15 [tire-date] {orders.csv:2:1}`},
		{"a tire left out", "3426,3426,\n", "3426,,\n", `orders.csv:2:42: fitted.tires lists 3 of the 4 tires the unit runs on [fitted-tires]`},
		{"part the unit lacks", "3426,\n", "3426,W-7\n", `orders.csv:2:62: place "winch" is not on this unit [fitted-place] (places here: `},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, got := fittedSheets(t, strings.Replace(fittedMap, c.old, c.new, 1), strings.Replace(good, c.old, c.new, 1))
			if !strings.HasPrefix(got, c.want) || strings.Count(got, "\n") > 0 {
				t.Errorf("got\n%s\nwant\n%s", got, c.want)
			}
		})
	}
}

// Each slip of an export is told at its cell, gives no sheet, and leaves the
// other rows alone.
func TestSlipsOfAnExport(t *testing.T) {
	const good = "BW-27-0900,dump-14,,Ann,,,,,\n"
	for _, c := range []struct{ name, row, want string }{
		{"option without what it needs", "BW-1,TD20,winch-plate,,,,,,\n", "orders.csv:3:11: winch-plate needs front-box: the plate bolts to the top of the box [option-requires] {line/options/common.yaml:17:17}"},
		{"option misspelt", "BW-1,TD20,winch-plat,,,,,,\n", `orders.csv:3:11: option "winch-plat" is not offered on tilt-20 [option-unknown] (did you mean "winch-plate"?)`},
		{"model misspelt", "BW-1,tilt20,,,,,,,\n", `orders.csv:3:6: model "tilt20" is not in the line of Bramblewick Trailer Works [model-unknown] (did you mean "tilt-20"?) (models: utility-12, car-20, tilt-20, dump-14, deck-28, deck-32, deck-36, boat-18, cargo-14, stock-16)`},
		{"model almost in the export's words", "BW-1,TD-20,,,,,,,\n", `orders.csv:3:6: model "TD-20" is not in the line of Bramblewick Trailer Works [model-unknown] (models: utility-12, car-20, tilt-20, dump-14, deck-28, deck-32, deck-36, boat-18, cargo-14, stock-16) (did you mean "TD20", which the column map knows?)`},
		{"option almost in the export's words", "BW-1,TD20,BOXX,,,,,,\n", `orders.csv:3:11: option "BOXX" is not offered on tilt-20 [option-unknown] (options on tilt-20: power-tilt, charge-relay, radio-remote, deck-lock, front-box, winch-plate, winch, spare, heavy-tires, steel-deck, stake-pockets, underbody-box) (did you mean "BOX", which the column map knows?)`},
		{"no model", "BW-1,,,,,,,,\n", "orders.csv:3:6: the row has no model [export-cell]"},
		{"no serial", ",dump-14,,,,,,,\n", "orders.csv:3:1: the row has no serial [export-cell]"},
		{"serial that names no folder", "../BW-1,dump-14,,,,,,,\n", `orders.csv:3:1: serial is "../BW-1"; expected 1 to 32 letters, digits, hyphens, underscores and dots, the first and last a letter or digit [serial-form]`},
		{"serial twice", "bw-27-0900,dump-14,,,,,,,\n", `orders.csv:3:1: serial "bw-27-0900" is that of another sheet [serial-repeated] {orders.csv:2:1}`},
		{"date that can be two", "BW-1,dump-14,,,,,,11/12/2026,\n", `orders.csv:3:19: built: is "11/12/2026" the day 2026-11-12 or 2026-12-11? Say in the column map which comes first, dates: month first or dates: day first, or write it as 2026-11-12 [export-cell]`},
		{"date that is none", "BW-1,dump-14,,,,,,31/31/2026,\n", `orders.csv:3:19: built is "31/31/2026": expected a date such as 2027-03-02 [value-wrong]`},
		{"year of two digits", "BW-1,dump-14,,,,,,11/12/26,\n", `orders.csv:3:19: built: is the year of "11/12/26" 2026? Write it with four digits [export-cell]`},
		{"option that its column of yes and no says no to", "BW-1,tilt-20,spare,,,no,,,\n", `orders.csv:3:22: Spare wheel is "no", and Extras orders spare [export-cell] {orders.csv:3:14} (correct the one that is wrong)`},
		{"letter the typeface lacks", "BW-1,dump-14,,山田,,,,,\n", `orders.csv:3:15: buyer.name holds '山' (U+5C71), which the typeface of the printed guide does not have [export-letter] (write it in other characters)`},
		{"weight with a point for a comma", "BW-1,dump-14,,,5.980,,,,\n", `orders.csv:3:16: measured.empty_weight is "5.980 lb": is it 5,980 lb or 5.98 lb? Write thousands with a comma, and no more decimals than the scale shows [value-wrong]`},
		{"neither yes nor no", "BW-1,dump-14,,,,maybe,,,\n", `orders.csv:3:17: Spare wheel is "maybe"; expected yes or no [export-cell]`},
		{"weight with a wrong unit", "BW-1,dump-14,,,5980 psi,,,,\n", `orders.csv:3:16: measured.empty_weight is "5980 psi": the unit "psi" does not fit here; allowed: lb, kg, t [value-wrong]`},
		{"error of a spreadsheet", "BW-1,dump-14,,#N/A,,,,,\n", "orders.csv:3:15: the cell of buyer.name holds the spreadsheet's error #N/A [export-cell]"},
		{"too many cells", "BW-1,dump-14,,Alder, Rosa,,,,,9\n", "orders.csv:3:31: the row has 10 cells; there are 9 titles [export-row] (a separator inside a cell needs quotes round the cell)"},
		{"quotes inside a cell", "BW-1,dump-14,,Rosa \"R\" Alder,,,,,\n", "orders.csv:3: this row cannot be read: bare \" in non-quoted-field [export-row] (put the whole cell in quotes, and double each quote inside it)"},
		{"control character", "BW-1,dump-14,,Ro\x07sa,,,,,\n", "orders.csv:3:15: buyer.name holds the control character U+0007 [text-control] (delete the character; only notes may have line breaks)"},
		{"columns count characters", "BW-Ä,dump-14,,,,maybe,,,\n", "orders.csv:3:17: Spare wheel is \"maybe\"; expected yes or no [export-cell]"},
	} {
		t.Run(c.name, func(t *testing.T) {
			sheets, findings := fromCSV(t, columnMap, good+c.row+"BW-27-0999,dump-14,,,,,,,\n")
			if got := shown(findings); got != c.want {
				t.Errorf("got\n%s\nwant\n%s", got, c.want)
			}
			if len(sheets) != 3 || sheets[0].Text == nil || sheets[1].Text != nil || sheets[2].Text == nil {
				t.Errorf("sheets %v", sheets)
			}
		})
	}
}

func TestSlipsOfAColumnMap(t *testing.T) {
	for _, c := range []struct{ name, old, new, want string }{
		{"key", "units:", "unit:", `map.yaml:2:1: unknown key "unit" [key-unknown] (did you mean "units"?)`},
		{"entry", "buyer.name:", "buyer.nmae:", `map.yaml:1:60: a build sheet has no entry "buyer.nmae" that a column can fill [export-column] (did you mean "buyer.name"?)`},
		{"entry with a list", "built:", "fitted:", `map.yaml:1:112: a build sheet has no entry "fitted" that a column can fill [export-column] (under columns, name a list and a place: "fitted.tires.left front", "fitted.axles.rear", "fitted.parts.winch")`},
		{"column", "Order No", "Order Nr", `map.yaml:1:20: orders.csv has no column "Order Nr" [export-column] (did you mean "Order No"?)`},
		{"column of yes and no", "Spare wheel:", "Spare weel:", `map.yaml:5:11: orders.csv has no column "Spare weel" [export-column] (did you mean "Spare wheel"?)`},
		{"column to leave out", "[Price]", "[Prise]", `map.yaml:7:13: orders.csv has no column "Prise" [export-column] (did you mean "Price"?)`},
		{"model", "TD20: tilt-20", "TD20: tilt-2", `map.yaml:3:17: model "tilt-2" is not in the line of Bramblewick Trailer Works [export-column] (did you mean "tilt-20"?)`},
		{"option", "BOX: front-box", "BOX: front-bx", `map.yaml:4:17: option "front-bx" is not in the line of Bramblewick Trailer Works [export-column] (did you mean "front-box"?)`},
		{"no serial", "serial: Order No, ", "", "orders.csv:1:1: no column gives the serial [export-column] (say in a column map which one does: columns: { serial: Title of the column })"},
		{"order of day and month", "leave_out: [Price]", "dates: european", `map.yaml:7:8: dates is "european"; expected "month first" or "day first" [export-column]`},
		{"model of its own columns", "leave_out: [Price]", "for: { tilt-2: {} }", `map.yaml:7:8: model "tilt-2" is not in the line of Bramblewick Trailer Works [export-column] (did you mean "tilt-20"?)`},
		{"option of another model", "leave_out: [Price]", "for: { utility-12: { options: { T: winch } } }", `map.yaml:7:36: option of utility-12 "winch" is not in the line of Bramblewick Trailer Works [export-column]`},
		{"model of a model", "leave_out: [Price]", "for: { tilt-20: { columns: { model: Type } } }", `map.yaml:7:30: the model of a row is read before what holds for a model [export-column] (say model under the columns for all)`},
		{"entry of a model", "leave_out: [Price]", "for: { tilt-20: { units: { measured.weight: lb } } }", `map.yaml:7:28: a build sheet has no entry "measured.weight" that a column can fill [export-column]`},
		{"separator", "leave_out: [Price]", "separator: tabs", `map.yaml:7:12: separator is "tabs"; expected one character, or tab [export-column]`},
	} {
		t.Run(c.name, func(t *testing.T) {
			if !strings.Contains(columnMap, c.old) {
				t.Fatalf("%q is not in the map", c.old)
			}
			table, _ := ReadCSV("orders.csv", []byte(titles+"BW-1,dump-14,,,,,,,\n"), "")
			columns, findings := ReadColumns("map.yaml", []byte(strings.Replace(columnMap, c.old, c.new, 1)))
			if columns != nil {
				var sheets []Sheet
				if sheets, findings = columns.Sheets(table, embedded(t), prints); sheets != nil {
					t.Error("sheets were made")
				}
			}
			if got := shown(findings); got != c.want {
				t.Errorf("got\n%s\nwant\n%s", got, c.want)
			}
		})
	}
}

func TestReadCSV(t *testing.T) {
	for _, c := range []struct{ name, text, separator, want string }{
		{"semicolons are found", "serial;model;notes\nA-1;dump-14;x, y\n", "", "A-1|dump-14|x, y"},
		{"so are tabs", "serial\tmodel\nA-1\tdump-14\n", "", "A-1|dump-14"},
		{"asked for", "serial|model\nA-1|dump-14\n", "|", "A-1|dump-14"},
		{"a tab asked for", "serial\tmodel,x\nA-1\tdump-14\n", "tab", "A-1|dump-14"},
		{"byte order mark, carriage returns, empty rows and short ones", "\xef\xbb\xbfserial,model,notes\r\n\r\n,,\r\nA-1,dump-14\r\n", "", "A-1|dump-14|"},
		{"line breaks in a cell", "serial,notes\nA-1,\"one\ntwo\"\nA-2,x\n", "", "A-1|one\ntwo\nA-2|x"},
	} {
		t.Run(c.name, func(t *testing.T) {
			table, findings := ReadCSV("x.csv", []byte(c.text), c.separator)
			if len(findings) > 0 {
				t.Fatal(shown(findings))
			}
			if got := texts(table); got != c.want {
				t.Errorf("got %q, want %q", got, c.want)
			}
		})
	}
	for _, c := range []struct{ name, text, want string }{
		{"empty", "", "x.csv: the export has no title line [export-unreadable]"},
		{"title twice", "serial,Serial\n", `x.csv:1:8: the title "Serial" stands here a second time [export-column] {x.csv:1:1}` + "\n" + "x.csv: the export has no usable title line [export-unreadable]"},
		{"Latin-1", "serial\ncaf\xe9\n", "x.csv:2: this line is not UTF-8 [export-unreadable] (export it as CSV in UTF-8)"},
		{"cells", strings.Repeat(",", cellLimit+1), "x.csv: the export has more than 500000 cells [export-unreadable] (export fewer orders or columns at a time)"},
		{"lines", "serial\n" + strings.Repeat("\n", cellLimit), "x.csv: the export has more than 500000 cells"},
		{"a long title", "serial," + strings.Repeat("x", titleLimit+1) + "\n", "x.csv:1:8: the title has 201 characters; at most 200 are read [export-column]"},
		{"rows", "serial\n" + strings.Repeat("A-1\n", rowLimit+1), "x.csv: the export has more than 20000 rows [export-unreadable]"},
		{"large", strings.Repeat("x", exportLimit+1), "x.csv: the export has more than 16 MB [export-unreadable] (export fewer orders at a time)"},
	} {
		t.Run(c.name, func(t *testing.T) {
			table, findings := ReadCSV("x.csv", []byte(c.text), "")
			if table != nil {
				t.Error("it is read")
			}
			want := strings.Split(c.want, "\n")
			for _, w := range want {
				if !strings.Contains(shown(findings), w) {
					t.Errorf("got\n%s\nwant\n%s", shown(findings), w)
				}
			}
		})
	}
}

// texts writes the rows of a table, a line each.
func texts(t *Table) string {
	var rows []string
	for _, r := range t.rows {
		var cells []string
		for _, c := range r.cells {
			cells = append(cells, c.text)
		}
		rows = append(rows, strings.Join(cells, "|"))
	}
	return strings.Join(rows, "\n")
}

// What a finding is about is the cell that says it, or the line of the map.
func TestTheCellThatSaysItIsBlamed(t *testing.T) {
	for _, c := range []struct{ name, columns, row, want string }{
		{"column of yes and no", strings.Replace(columnMap, "Spare wheel: spare", "Spare wheel: winch-plate", 1), "BW-1,TD20,radio-remote;power-tilt,,,yes,,,\n",
			"orders.csv:2:37: winch-plate needs front-box: the plate bolts to the top of the box [option-requires] {line/options/common.yaml:17:17}"},
		{"column of yes and no that the model does not offer", strings.Replace(columnMap, "Spare wheel: spare", "Spare wheel: tarp", 1), "BW-1,TD20,,,,yes,,,\n",
			`orders.csv:2:14: option "tarp" is not offered on tilt-20 [option-unknown] (options on tilt-20: power-tilt, charge-relay, radio-remote, deck-lock, front-box, winch-plate, winch, spare, heavy-tires, steel-deck, stake-pockets, underbody-box)`},
		{"what every sheet gets", strings.Replace(columnMap, "issued: 2027-01-15", "issued: 1/15/2027", 1), "BW-1,TD20,,,,,,,\nBW-2,TD20,,,,,,,\n",
			`map.yaml:6:17: issued is "1/15/2027": expected a date such as 2027-03-02 [value-wrong]`},
	} {
		t.Run(c.name, func(t *testing.T) {
			sheets, findings := fromCSV(t, c.columns, c.row)
			if got := shown(findings); got != c.want {
				t.Errorf("got\n%s\nwant\n%s", got, c.want)
			}
			for _, s := range sheets {
				if s.Text != nil {
					t.Errorf("a sheet is made\n%s", s.Text)
				}
			}
		})
	}
}

// What is read is told where it was not plain, and gives a sheet all the same.
func TestWhatIsReadAllTheSame(t *testing.T) {
	for _, c := range []struct{ name, columns, row, want, told string }{
		{"day of month in the month's place", columnMap, "BW-1,dump-14,,,,,,11/14/2026,\n", "\nbuilt: 2026-11-14\n", ""},
		{"day first with points", columnMap, "BW-1,dump-14,,,,,,14.11.2026,\n", "\nbuilt: 2026-11-14\n", ""},
		{"the same either way", columnMap, "BW-1,dump-14,,,,,,11.11.2026,\n", "\nbuilt: 2026-11-11\n", ""},
		{"with the time of day", columnMap, "BW-1,dump-14,,,,,,11/14/2026 2:30 PM,\n", "\nbuilt: 2026-11-14\n", ""},
		{"ISO with the time of day", columnMap, "BW-1,dump-14,,,,,,2026-11-14T00:00:00Z,\n", "\nbuilt: 2026-11-14\n", ""},
		{"year first", columnMap, "BW-1,dump-14,,,,,,2026/3/4,\n", "\nbuilt: 2026-03-04\n", ""},
		{"month by name", columnMap, "BW-1,dump-14,,,,,,\"Mar 4, 2026\",\n", "\nbuilt: 2026-03-04\n", ""},
		{"month by name in capitals", columnMap, "BW-1,dump-14,,,,,,4-MAR-2026,\n", "\nbuilt: 2026-03-04\n", ""},
		{"month first, as the map says", columnMap + "dates: month first\n", "BW-1,dump-14,,,,,,3/4/2026,\n", "\nbuilt: 2026-03-04\n", ""},
		{"day first, as the map says", columnMap + "dates: day first\n", "BW-1,dump-14,,,,,,3/4/2026,\n", "\nbuilt: 2026-04-03\n", ""},
		// The day by hand: 2026-12-31 is 46387, one less than 2027-01-01; 45 * 365 and the leap days of 1904 to 2024.
		{"number of a spreadsheet's day", columnMap, "BW-1,dump-14,,,,,,46387,\n", "\nbuilt: 2026-12-31\n",
			`orders.csv:2:19: built is "46387", read as the spreadsheet's number of the day 2026-12-31 [export-day] (where that is not the day, write it as 2027-03-02)`},
		{"option in two columns", columnMap, "BW-1,tilt-20,spare,,,yes,,,\n", "\noptions: [spare]\n", `orders.csv:2:22: Spare wheel orders spare, which the row has already; it is fitted once [export-option-twice] {orders.csv:2:14}`},
		{"option twice in a cell", columnMap, "BW-1,tilt-20,front-box;BOX,,,,,,\n", "\noptions: [front-box]\n", `orders.csv:2:14: Extras orders front-box, which the row has already; it is fitted once [export-option-twice] {orders.csv:2:14}`},
		{"weight with a fraction", columnMap, "BW-1,dump-14,,,5980 1/2,,,,\n", "\n  empty_weight: 5980 1/2 lb\n", ""},
		{"weight in lbs", columnMap, "BW-1,dump-14,,,\"5,980 lbs\",,,,\n", "\n  empty_weight: 5,980 lbs\n", ""},
		{"another column for a model", columnMap + "for: { dump-14: { columns: { measured.empty_weight: Sales rep } } }\n", "BW-1,dump-14,,,60,,5990,,\n", "\n  empty_weight: 5990 lb\n", ""},
		{"which others do not read", columnMap + "for: { dump-14: { columns: { measured.empty_weight: Sales rep } } }\n", "BW-1,TD20,,,5980,,5990,,\n", "\n  empty_weight: 5980 lb\n", ""},
		{"another word for an option of a model", columnMap + "for: { dump-14: { options: { COVER: tarp } } }\n", "BW-1,dump-14,COVER,,,,,,\n", "\noptions: [tarp]\n", ""},
		{"another column of yes and no for a model", columnMap + "for: { dump-14: { yes_no: { Spare wheel: tarp } } }\n", "BW-1,dump-14,,,,yes,,,\n", "\noptions: [tarp]\n", ""},
		{"and what others have in it is kept", columnMap + "for: { dump-14: { columns: { buyer.name: Sales rep } } }\n", "BW-1,dump-14,,Ann,,,Kim,,\n", "\n# Customer: Ann\n", ""},
		{"letters with their marks apart", columnMap, "BW-1,dump-14,,Nguye\u0302\u0303n Thi\u0323,,,,,\n", "\n  name: Nguyễn Thị\n", ""},
		{"letters of Vietnamese", columnMap, "BW-1,dump-14,,Nguyễn Thị Hường,,,,,\n", "\n  name: Nguyễn Thị Hường\n", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			sheets, findings := fromCSV(t, c.columns, c.row)
			if got := shown(findings); got != c.told || len(sheets) != 1 {
				t.Fatalf("got\n%s\nwant\n%s", got, c.told)
			}
			if text := strings.ReplaceAll(string(sheets[0].Text), c.want, ""); text == string(sheets[0].Text) {
				t.Errorf("%q is not in\n%s", c.want, text)
			}
		})
	}
}

// Without a map, columns that are named like entries fill them.
func TestColumnsNamedLikeEntries(t *testing.T) {
	table, _ := ReadCSV("x.csv", []byte("serial,Model,options,buyer.name,Paint\nA-1,dump-14,tarp,Rosa,red\n"), "")
	sheets, findings := (*Columns)(nil).Sheets(table, embedded(t), prints)
	if len(findings) > 0 || len(sheets) != 1 {
		t.Fatal(shown(findings))
	}
	for _, want := range []string{"\nserial: A-1\n", "\nmodel: dump-14\n", "\noptions: [tarp]\n", "\n  name: Rosa\n", "\n# Paint: red\n"} {
		if !strings.Contains(string(sheets[0].Text), want) {
			t.Errorf("%q is not in\n%s", want, sheets[0].Text)
		}
	}
}

// An export that says nothing about options leaves them to be filled in: a guide
// without the cautions of an option nobody typed would be dangerous.
func TestUnknownOptionsAreABlank(t *testing.T) {
	table, _ := ReadCSV("x.csv", []byte("serial,model\nA-1,dump-14\n"), "")
	sheets, _ := (*Columns)(nil).Sheets(table, embedded(t), prints)
	if !strings.Contains(string(sheets[0].Text), "\noptions: # fill in\n#- ") || !strings.Contains(fmt.Sprint(sheets[0].Blanks), "options") {
		t.Errorf("%v\n%s", sheets[0].Blanks, sheets[0].Text)
	}
}

// No export breaks the program, and every sheet that is made is right but for
// its blanks.
func FuzzOrders(f *testing.F) {
	l := embedded(f)
	f.Add([]byte(titles+"BW-27-0901,TD20,BOX; winch-plate,\"Alder, Rosa\",\"5,980\",yes,Kim,2026-11-12,9000\n"), []byte(columnMap))
	f.Add([]byte("serial;model\nA-1;dump-14\n"), []byte("same: { options: tarp }\n"))
	f.Add(workbook(f, workbookRows, nil), []byte("columns: { serial: serial, model: model, built: built }\n"))
	f.Fuzz(func(t *testing.T, export, columns []byte) {
		c, findings := ReadColumns("map.yaml", columns)
		if c == nil && !findings.HasErrors() {
			t.Fatal("a map is refused without a word")
		}
		for _, read := range []func() (*Table, source.Findings){
			func() (*Table, source.Findings) { return ReadCSV("x.csv", export, "") },
			func() (*Table, source.Findings) { return ReadWorkbook("x.xlsx", export, "") },
		} {
			table, findings := read()
			if table == nil {
				if !findings.HasErrors() {
					t.Fatal("an export is refused without a word")
				}
				continue
			}
			sheets, more := c.Sheets(table, l, prints)
			findings.Add(more...)
			for _, s := range sheets {
				if s.Text == nil {
					if !findings.HasErrors() {
						t.Fatal("a row is refused without a word")
					}
					continue
				}
				given, findings := sheet.Read("x.yaml", s.Text)
				for _, f := range findings {
					if f.Severity == source.Error && !strings.Contains(f.Message, "nothing is written here") {
						t.Fatalf("%s\n%s", shown(findings), s.Text)
					}
				}
				if given == nil || given.Serial.Value != s.Serial {
					t.Fatalf("serial %q came out as\n%s", s.Serial, s.Text)
				}
			}
		}
	})
}

// prints stands for a typeface that has the letters of Latin alphabets alone.
func prints(r rune) bool { return r < 0x3000 }
