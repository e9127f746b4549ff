package paint

import (
	"crypto/sha256"
	"fmt"
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

// kits caches kits: subsetting and compressing fonts takes as long as painting thirty pages. The guides of a run need few different
// ones; each has some 200 kB.
var kits = parallel.Cache[kitMade]{Most: 12}

type kitMade struct {
	kit *finish.Kit
	err error
}

// kit returns the kit with the fonts and pictures of the document.
func (p *Painter) kit() (*finish.Kit, error) {
	var used [len(families)]string
	sum := sha256.New()
	for i, f := range families {
		used[i] = string(p.pages.Characters(int(f.style) + 1))
		fmt.Fprintf(sum, "%s\n", used[i])
	}
	for _, png := range p.pictures {
		fmt.Fprintf(sum, "%x\n", sha256.Sum256(png))
	}
	made := kits.Get(parallel.Digest(sum.Sum(nil)), func() (m kitMade) {
		m.kit, m.err = makeKit(used, p.pictures)
		return m
	})
	return made.kit, made.err
}

// makeKit has the PDF library write a document of one page with fonts, of the characters used by family, and pictures.
func makeKit(used [len(families)]string, pictures [][]byte) (*finish.Kit, error) {
	container, err := parsed()
	if err != nil {
		return nil, err
	}
	var pdf gopdf.GoPdf
	pdf.Start(gopdf.Config{Unit: gopdf.UnitPT, PageSize: *gopdf.PageSizeLetter})
	pdf.SetNoCompression()
	pdf.AddPage()
	pdf.SetLineWidth(1) // the library writes a malformed page if nothing is done on it
	var numbers []int
	for i, f := range families {
		if used[i] == "" { // the library would write and compress its file too
			continue
		}
		err := pdf.AddTTFFontFromFontContainer(f.name, container)
		if err == nil {
			err = pdf.SetFont(f.name, "", 1)
		}
		if err == nil {
			_, err = pdf.MeasureTextWidth(used[i]) // adds them to the font
		}
		if err != nil {
			return nil, fmt.Errorf("font %s: %w", f.name, err)
		}
		numbers = append(numbers, int(f.style)+1)
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
	return finish.NewKit(raw, numbers)
}
