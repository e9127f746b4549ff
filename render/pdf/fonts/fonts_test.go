package fonts

import (
	"bytes"
	"math"
	"strings"
	"testing"

	"github.com/signintech/gopdf"
)

// required is what guides in English, Spanish and French print, and names of buyers. The letters of the languages are from memory; the signs are those
// a pressure, a torque, a temperature or a cross-reference needs.
const required = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789" +
	" !\"#$%&'()*+,-./:;<=>?@[\\]^_`{|}~" +
	"ÜÑüñ¿¡ªº" +
	"ÆÇËÎÏŒÛŸæçëîïœûÿ«»" +
	// What Unicode's NFD takes apart into the twelve vowels of Vietnamese and its five tones, and the letter d with its stroke.
	"ĂÂĐÊÔƠƯăâđêôơưÀẢÃÁẠẰẲẴẮẶẦẨẪẤẬÈẺẼÉẸỀỂỄẾỆÌỈĨÍỊÒỎÕÓỌỒỔỖỐỘỜỞỠỚỢÙỦŨÚỤỪỬỮỨỰỲỶỸÝỴàảãáạằẳẵắặầẩẫấậèẻẽéẹềểễếệìỉĩíịòỏõóọồổỗốộờởỡớợùủũúụừửữứựỳỷỹýỵ₫" +
	"°·×–—“”‘’•…½¼¾≥≤±²³−→←©®™€§µ′″" +
	"\u00a0\u2011\u202f"

func TestEveryRequiredCharacterIsCovered(t *testing.T) {
	for _, r := range required {
		if !Covers(r) {
			t.Errorf("%q (U+%04X) has no glyph in some style", r, r)
		}
	}
	for _, r := range "\n\t\u00ad☐✓⚠漢" {
		if Covers(r) {
			t.Errorf("%q (U+%04X) is said to be covered", r, r)
		}
	}
}

// newPDF makes a document with the four styles as four families, kerning on, as the painter must.
func newPDF(t *testing.T, s Style) *gopdf.GoPdf {
	t.Helper()
	pdf := &gopdf.GoPdf{}
	pdf.Start(gopdf.Config{PageSize: *gopdf.PageSizeLetter})
	if err := pdf.AddTTFFontDataWithOption("text", Data(s), gopdf.TtfOption{UseKerning: true}); err != nil {
		t.Fatal(err)
	}
	pdf.AddPage()
	if err := pdf.SetFont("text", "", 1000); err != nil { // at 1000 pt a point is 1/1000 em
		t.Fatal(err)
	}
	return pdf
}

// A width that differs from the PDF library's would put text over the edge of its box.
func TestWidthsAgreeWithThePDFLibrary(t *testing.T) {
	texts := []string{
		"To AV. Yes, Tow 7.5 “WARNING” Wy", "¿Qué presión? 65 psi ≤ 80 psi", "L’œuvre d’été : 12 × 3 ½ → 4",
		"non\u2011breaking\u00a0space", "AVAVAVA", "",
	}
	for s := range styles {
		pdf := newPDF(t, s)
		measure := func(text string) float64 {
			w, err := pdf.MeasureTextWidth(text)
			if err != nil {
				t.Fatal(err)
			}
			return w
		}
		for _, r := range required {
			if got, want := Advance(s, r), measure(string(r)); float64(got) != want {
				t.Errorf("style %d: Advance(%q) = %d, the PDF library says %v", s, r, got, want)
			}
		}
		for _, text := range texts {
			// The library kerns as the font says, Width to the next step.
			if got, want := Width(s, text), measure(text); math.Abs(float64(got)-want) > kernStep/2*float64(len(text)) {
				t.Errorf("style %d: Width(%q) = %d, the PDF library says %v", s, text, got, want)
			}
		}
	}
}

// The kerning of the originals as HarfBuzz 6.0.0 (hb-shape) read it from their GPOS tables: outside figures, not ours.
func TestKerningIsTheOriginals(t *testing.T) {
	for _, c := range []struct {
		style       Style
		left, right rune
		want        int
	}{
		{Regular, 'T', 'o', -80}, {Regular, 'A', 'V', -40}, {Regular, '1', '1', 0},
		{Bold, 'T', 'o', -80}, {Italic, 'T', 'o', -70}, {BoldItalic, 'A', 'V', -61},
	} {
		if got := Kern(c.style, c.left, c.right); got%kernStep != 0 || 2*max(got-c.want, c.want-got) > kernStep {
			t.Errorf("style %d: Kern(%q, %q) = %d, want %d to the next step of %d", c.style, c.left, c.right, got, c.want, kernStep)
		}
	}
}

// Every character has a glyph of its own: otherwise text copied from the PDF could come out as the other character.
func TestNoTwoRequiredCharactersShareAGlyph(t *testing.T) {
	for s, face := range faces {
		f := face()
		seen := map[uint16]rune{}
		for _, r := range required {
			if other, ok := seen[f.glyph(r)]; ok && other != r {
				t.Errorf("style %d: %q and %q share glyph %d", s, other, r, f.glyph(r))
			}
			seen[f.glyph(r)] = r
		}
	}
}

// PDF tools show people the name inside the font.
func TestNamesAreTheFonts(t *testing.T) {
	for s, name := range []string{"OwnerguideText-Regular", "OwnerguideText-Bold", "OwnerguideText-Italic", "OwnerguideText-BoldItalic"} {
		var utf16 []byte
		for _, c := range []byte(name) {
			utf16 = append(utf16, 0, c)
		}
		if !bytes.Contains(Data(Style(s)), utf16) {
			t.Errorf("style %d: the font does not contain the name %q", s, name)
		}
	}
}

func TestMetricsAreSane(t *testing.T) {
	for s := range styles {
		m := MetricsOf(s)
		if !(0 < m.Ascent && m.Ascent < 1200 && m.Descent < 0 && m.Descent > -500) {
			t.Errorf("style %d: %+v", s, m)
		}
	}
}

func TestLicenceComesAlong(t *testing.T) {
	for _, part := range []string{"SIL OPEN FONT LICENSE Version 1.1", "Atkinson Hyperlegible Next Project Authors", "What was changed"} {
		if !strings.Contains(Licence(), part) {
			t.Errorf("licence text lacks %q", part)
		}
	}
}

func FuzzParse(f *testing.F) {
	for s := range styles {
		f.Add(Data(s))
	}
	f.Add([]byte{})
	f.Fuzz(func(t *testing.T, data []byte) {
		face, err := parse(bytes.Clone(data))
		if err != nil {
			return
		}
		for _, r := range required {
			if face.advance(r) < 0 {
				t.Error("negative advance")
			}
			face.kern('A', r)
		}
	})
}

func BenchmarkWidth(b *testing.B) {
	text := strings.Repeat("Torque the wheel nuts to 100 ft-lb. ", 3)
	for b.Loop() {
		if Width(Regular, text) == 0 {
			b.Fatal("no width")
		}
	}
}
