package vin

import (
	"errors"
	"os"
	"slices"
	"strconv"
	"testing"

	"pgregory.net/rapid"

	"ownerguide/spec/source"
)

const published = "../../testdata/published/vin.yaml"

// publishedChecks is the file of check values that come from outside.
type publishedChecks struct {
	Topic  string           `yaml:"topic,required"`
	Checks []publishedCheck `yaml:"checks,required"`
}

type publishedCheck struct {
	What   source.Given[string] `yaml:"what,required"`
	Kind   string               `yaml:"kind,required"`
	In     []string             `yaml:"in,required"`
	Want   string               `yaml:"want,required"`
	Source string               `yaml:"source,required"`
	Known  string               `yaml:"known,required"`
}

func readPublished(t testing.TB) []publishedCheck {
	t.Helper()
	data, err := os.ReadFile(published)
	if err != nil {
		t.Fatal(err)
	}
	node, findings := source.Parse(published, data, source.SheetLimit)
	var file publishedChecks
	if node != nil {
		source.Decode(node, &file, &findings)
	}
	for _, c := range file.Checks {
		if !slices.Contains([]string{"read", "computed", "memory"}, c.Known) || c.Source == "" || len(c.In) != 1 {
			t.Errorf("%s: known is %q, source %q, %d inputs", c.What.At, c.Known, c.Source, len(c.In))
		}
	}
	for _, f := range findings.Sorted() {
		t.Errorf("%s: %s", f.Pos, f.Message)
	}
	if len(file.Checks) == 0 {
		t.Fatalf("%s holds no checks", published)
	}
	return file.Checks
}

// answer computes what a published check asks for, as text.
func answer(t *testing.T, c publishedCheck) string {
	t.Helper()
	in := c.In[0]
	switch c.Kind {
	case "vin.check_digit":
		digit, err := CheckDigit(in)
		if err != nil {
			return err.Error()
		}
		return string(digit)
	case "vin.valid":
		if _, err := Parse(in); err != nil {
			return "no"
		}
		return "yes"
	case "vin.year_code":
		year, err := strconv.Atoi(in)
		if err != nil {
			t.Fatal(err)
		}
		code, err := YearCode(year)
		if err != nil {
			return err.Error()
		}
		return string(code)
	case "vin.small_maker":
		id, ok := mustParse(t, in).SmallMaker()
		if !ok {
			return "none"
		}
		return id
	}
	t.Fatalf("unknown kind %q", c.Kind)
	return ""
}

func mustParse(t *testing.T, text string) VIN {
	t.Helper()
	v, err := Parse(text)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

func TestPublished(t *testing.T) {
	for _, c := range readPublished(t) {
		t.Run(c.What.Value, func(t *testing.T) {
			if got := answer(t, c); got != c.Want {
				t.Errorf("%s: got %s, want %s\nsource: %s", c.What.At, got, c.Want, c.Source)
			}
		})
	}
}

// The products of the regulation's worked sample, 49 CFR 565.15 Table VI, catch
// a swap of two weights which the remainder alone could hide.
func TestProductsOfTableVI(t *testing.T) {
	want := []int{8, 49, 24, 5, 32, 15, 18, 80, 0, 45, 56, 7, 6, 40, 12, 12, 2}
	for i, c := range "1G4AH59H45G118341" {
		value, _ := valueOf(c)
		if got := value * weights[i]; got != want[i] {
			t.Errorf("position %d: product %d, want %d", i+1, got, want[i])
		}
	}
	if got := weightedSum([]rune("1G4AH59H45G118341")); got != 411 {
		t.Errorf("sum %d, want 411", got)
	}
}

// All 23 letters of 49 CFR 565.15(c)(1) Table III; the gaps at I, O and Q are
// where a table typed by hand goes wrong.
func TestValuesOfTableIII(t *testing.T) {
	want := map[rune]int{'A': 1, 'B': 2, 'C': 3, 'D': 4, 'E': 5, 'F': 6, 'G': 7, 'H': 8,
		'J': 1, 'K': 2, 'L': 3, 'M': 4, 'N': 5, 'P': 7, 'R': 9,
		'S': 2, 'T': 3, 'U': 4, 'V': 5, 'W': 6, 'X': 7, 'Y': 8, 'Z': 9}
	for c := 'A'; c <= 'Z'; c++ {
		got, ok := valueOf(c)
		value, known := want[c]
		if ok != known || got != value {
			t.Errorf("value of %c: %d, %t; want %d, %t", c, got, ok, value, known)
		}
	}
}

func TestParseSaysWhatIsWrong(t *testing.T) {
	tests := []struct {
		name, text string
		reason     Reason
		position   int
		message    string
	}{
		{"empty", "", WrongLength, 1, "vin has 0 characters, expected 17"},
		{"one missing", "1Z9FS2023TA99900", WrongLength, 17, "vin has 16 characters, expected 17"},
		{"one too many", "1Z9FS2023TA9990011", WrongLength, 18, "vin has 18 characters, expected 17"},
		{"spaces in groups", "1Z9 FS202 3TA999001", WrongLength, 18, "vin has 19 characters, expected 17"},
		{"letter O", "1Z9FS2O23TA999001", ForbiddenLetter, 7,
			`position 7 of the vin is "O", expected no letter I, O or Q, which are taken for 1 and 0`},
		{"letter I", "IZ9FS2023TA999001", ForbiddenLetter, 1,
			`position 1 of the vin is "I", expected no letter I, O or Q, which are taken for 1 and 0`},
		{"letter Q", "1Z9FS2023TA99900Q", ForbiddenLetter, 17,
			`position 17 of the vin is "Q", expected no letter I, O or Q, which are taken for 1 and 0`},
		{"forbidden as check digit", "1Z9FS202OTA999001", ForbiddenLetter, 9,
			`position 9 of the vin is "O", expected no letter I, O or Q, which are taken for 1 and 0`},
		{"small letter", "1z9FS2023TA999001", WrongCharacter, 2,
			`position 2 of the vin is "z", expected a digit or a capital letter`},
		{"accent counts once", "1Z9FS2023TÀ999001", WrongCharacter, 11,
			`position 11 of the vin is "À", expected a digit or a capital letter`},
		{"not UTF-8", "1Z9FS2023T\xff999001", WrongCharacter, 11,
			"position 11 of the vin is \"\uFFFD\", expected a digit or a capital letter"},
		{"year U", "1Z9FS2023UA999001", NoYearCode, 10,
			`position 10 of the vin is "U", expected a model-year code, a digit 1-9 or a letter without I, O, Q, U and Z`},
		{"year 0", "1Z9FS20230A999001", NoYearCode, 10,
			`position 10 of the vin is "0", expected a model-year code, a digit 1-9 or a letter without I, O, Q, U and Z`},
		{"letter in the tail", "1Z9FS2023TA99A001", TailNotNumeric, 14,
			`position 14 of the vin is "A", expected a digit, as in the last four positions of every trailer`},
		{"check digit", "1Z9FS2024TA999001", WrongCheckDigit, 9,
			`check digit in position 9 of the vin is "4", the other characters give "3"`},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			v, err := Parse(tt.text)
			var wrong *Error
			if !errors.As(err, &wrong) {
				t.Fatalf("got %v, %v; want an *Error", v, err)
			}
			if v != (VIN{}) || wrong.Reason != tt.reason || wrong.Position != tt.position {
				t.Errorf("got %v, reason %d, position %d; want no number, %d, %d", v, wrong.Reason, wrong.Position, tt.reason, tt.position)
			}
			if err.Error() != tt.message {
				t.Errorf("message\n got %s\nwant %s", err, tt.message)
			}
		})
	}
}

func TestCheckDigitIgnoresPositionNine(t *testing.T) {
	for _, c := range []string{"0", "X", "*", "O", "é"} {
		if got, err := CheckDigit("1Z9FS202" + c + "TA999001"); err != nil || got != '3' {
			t.Errorf("with %s: %q, %v; want 3", c, got, err)
		}
	}
	for _, bad := range []string{"", "1Z9FS202_TA99900", "1Z9FS202_TA99900O", "1Z9FS202_ta999001"} {
		if got, err := CheckDigit(bad); err == nil {
			t.Errorf("%q: %q, want an error", bad, got)
		}
	}
}

func TestYearCodeRange(t *testing.T) {
	for _, year := range []int{1979, 2040, 0, -2027} {
		if code, err := YearCode(year); err == nil {
			t.Errorf("%d: %q, want an error", year, code)
		}
	}
	codes := map[byte][]int{}
	for year := 1980; year <= 2039; year++ {
		code, err := YearCode(year)
		if err != nil {
			t.Errorf("%d: %v", year, err)
		}
		codes[code] = append(codes[code], year)
	}
	for code, years := range codes {
		if len(years) != 2 || years[1] != years[0]+30 {
			t.Errorf("%q stands for %v, want two years that are thirty apart", code, years)
		}
	}
}

func TestParts(t *testing.T) {
	v := mustParse(t, "4Z9GN3528SA999017") // invented
	for name, got := range map[string]string{
		"4Z9": v.WMI(), "GN352": v.Descriptor(), "S": string(v.YearCode()),
	} {
		if got != name {
			t.Errorf("got %s, want %s", got, name)
		}
	}
	var none VIN
	id, ok := none.SmallMaker()
	if got := none.WMI() + none.Descriptor() + id; got != "" || ok || none.YearCode() != 0 {
		t.Errorf("the zero number has parts: %q, %t", got, ok)
	}
}

// The modulus is prime and above every weight and value, so one character
// misread as another of a different value is always seen. This is what the
// check digit is for.
func TestOneWrongCharacterIsSeen(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.StringMatching(`[1-5][A-HJ-NPR-Z]9[A-HJ-NPR-Z0-9]{5}0[A-HJ-NPRSTVWXY1-9][A-HJ-NPR-Z0-9]{3}[0-9]{4}`).Draw(t, "text")
		digit, err := CheckDigit(text)
		if err != nil {
			t.Fatal(err)
		}
		good := []byte(text)
		good[checkPosition-1] = digit
		if _, err := Parse(string(good)); err != nil {
			t.Fatal(err)
		}
		i := rapid.IntRange(0, length-1).Draw(t, "position")
		c := rapid.SampledFrom([]byte("0123456789ABCDEFGHJKLMNPRSTUVWXYZ")).Draw(t, "misread as")
		before, _ := valueOf(rune(good[i]))
		after, _ := valueOf(rune(c))
		if before == after && i != checkPosition-1 || good[i] == c {
			t.Skip("same value")
		}
		good[i] = c
		if v, err := Parse(string(good)); err == nil {
			t.Fatalf("%s passes with position %d changed", v, i+1)
		}
	})
}

func FuzzParse(f *testing.F) {
	for _, c := range readPublished(f) {
		f.Add(c.In[0])
	}
	f.Add("1z9fs2023ta999001")
	f.Add("1Z9FS2023T\xff999001")
	f.Fuzz(func(t *testing.T, text string) {
		v, err := Parse(text)
		var wrong *Error
		if err != nil {
			if !errors.As(err, &wrong) || wrong.Position < 1 || wrong.Position > length+1 {
				t.Fatalf("%q: %#v", text, err)
			}
			return
		}
		digit, err := CheckDigit(text)
		if err != nil || digit != text[8] {
			t.Fatalf("%q read as %q, digit %q, %v", text, v, digit, err)
		}
	})
}
