package paint

import (
	"crypto/sha256"
	"fmt"
	"math/bits"
	"sync"

	"github.com/signintech/gopdf"

	"ownerguide/render/pdf/finish"
	"ownerguide/render/pdf/fonts"
	"ownerguide/spec/parallel"
)

// families are the styles by family name, because the PDF library distinguishes fonts by family alone.
var families = [...]struct {
	name  string
	style fonts.Style
}{{"regular", fonts.Regular}, {"bold", fonts.Bold}, {"italic", fonts.Italic}, {"bolditalic", fonts.BoldItalic}}

// parsed is the fonts as parsed by the PDF library, once for all guides and safe for concurrent use. Its hook for missing characters
// does not know the guide; layout has checked every character before.
var parsed = sync.OnceValues(func() (*gopdf.FontContainer, error) {
	c := &gopdf.FontContainer{}
	for _, f := range families {
		if err := c.AddTTFFontData(f.name, fonts.Data(f.style)); err != nil {
			return nil, fmt.Errorf("font %s: %w", f.name, err)
		}
	}
	return c, nil
})

// characters are the characters that a document uses, by style. The typeface has none beyond 16 bits.
type characters [len(families)][1 << 10]uint64

func (c *characters) add(s fonts.Style, r rune) { c[s][r>>6] |= 1 << (r & 63) }

// complete adds all of printable ASCII to each style that is used, so that documents that differ in a name or a figure share their fonts.
func (c *characters) complete() {
	for s := range c {
		if c[s] == ([1 << 10]uint64{}) {
			continue
		}
		for r := ' '; r <= '~'; r++ {
			c.add(fonts.Style(s), r)
		}
	}
}

// of returns the characters of a style.
func (c *characters) of(s fonts.Style) (list []rune) {
	for i, word := range c[s] {
		for ; word != 0; word &= word - 1 {
			list = append(list, rune(i<<6+bits.TrailingZeros64(word)))
		}
	}
	return list
}

// kits caches kits: subsetting and compressing fonts takes as long as painting thirty pages. The guides of a run need few different
// ones; each has some 200 kB.
var kits = parallel.Cache[kitMade]{Most: 16}

type kitMade struct {
	kit *finish.Kit
	err error
}

// kitOf returns the kit with the characters used and pictures.
func kitOf(used *characters, pictures [][]byte) (*finish.Kit, error) {
	used.complete()
	sum := sha256.New()
	for s := range used {
		fmt.Fprintf(sum, "%s\n", string(used.of(fonts.Style(s))))
	}
	for _, png := range pictures {
		fmt.Fprintf(sum, "%x\n", sha256.Sum256(png))
	}
	made := kits.Get(parallel.Digest(sum.Sum(nil)), func() (m kitMade) {
		m.kit, m.err = makeKit(used, pictures)
		return m
	})
	return made.kit, made.err
}

// makeKit has the PDF library write a document of one page with fonts and pictures.
func makeKit(used *characters, pictures [][]byte) (*finish.Kit, error) {
	container, err := parsed()
	if err != nil {
		return nil, err
	}
	var pdf gopdf.GoPdf
	pdf.Start(gopdf.Config{Unit: gopdf.UnitPT, PageSize: *gopdf.PageSizeLetter})
	pdf.SetNoCompression()
	for _, f := range families {
		if err := pdf.AddTTFFontFromFontContainer(f.name, container); err != nil {
			return nil, fmt.Errorf("font %s: %w", f.name, err)
		}
	}
	pdf.AddPage()
	pdf.SetLineWidth(1) // the library writes a malformed page if nothing is done on it
	for _, f := range families {
		if list := used.of(f.style); list != nil {
			if err := pdf.SetFont(f.name, "", 1); err != nil {
				return nil, fmt.Errorf("font %s: %w", f.name, err)
			}
			if _, err := pdf.MeasureTextWidth(string(list)); err != nil { // adds them to the font
				return nil, fmt.Errorf("font %s: %w", f.name, err)
			}
		}
	}
	for _, png := range pictures {
		img, err := gopdf.ImageHolderByBytes(png)
		if err == nil {
			err = pdf.ImageByHolder(img, 0, 0, &gopdf.Rect{W: 1, H: 1})
		}
		if err != nil {
			return nil, fmt.Errorf("picture: %w", err)
		}
	}
	raw, err := pdf.GetBytesPdfReturnErr()
	if err != nil {
		return nil, fmt.Errorf("writing fonts and pictures: %w", err)
	}
	return finish.NewKit(raw)
}
