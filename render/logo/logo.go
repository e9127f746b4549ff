package logo

import (
	"bytes"
	"image"
	"image/color"
	"image/draw"
	"image/png"
	"path"
	"strings"

	"ownerguide/render/doc"
	"ownerguide/spec/source"
)

// Limits of a logo. It is printed no wider than a third of a page: more pixels or
// shapes only make every guide larger.
const (
	mostBytes  = 256 << 10
	mostDots   = 1600 // width and height of a PNG, in pixels
	mostShapes = 2000
	mostSteps  = 20000 // lines and curves of all shapes
	deepest    = 32    // nesting of groups
	longest    = 8.0   // greatest ratio of width to height, and of height to width
)

var (
	codeFile  = codes.Error("logo-file", "a logo that cannot be read would leave a hole in every cover")
	codeShape = codes.Error("logo-shape", "what is more than plain shapes can run, load or hide something in every guide")
	codeSheet = codes.Error("logo-sheet", "a shape that leaves its sheet would be printed over the numbers of the cover")
)

// Codes returns the codes of the findings this package can report.
func Codes() []source.Code { return codes }

var codes source.CodeList

// Read reads a logo in the format given by the extension of its name, .svg or .png. Name
// is also the file name in positions. Alt is the text alternative. The result is nil if
// there are findings.
func Read(name string, data []byte, alt string) (*doc.Logo, source.Findings) {
	at := source.Pos{File: name, Line: 1, Column: 1}
	if len(data) > mostBytes {
		return nil, source.Findings{codeFile.At(at, "the logo has %d bytes; expected at most %d", len(data), mostBytes)}
	}
	n := &doc.Logo{Alt: alt}
	var findings source.Findings
	switch strings.ToLower(path.Ext(name)) {
	case ".svg":
		n.Drawing, findings = readSVG(name, data)
	case ".png":
		var fault string
		if n.PNG, n.Width, n.Height, fault = readPNG(data); fault != "" {
			findings.Add(codeFile.At(at, "%s", fault))
		}
	default:
		findings.Add(codeFile.At(at, "a logo is a file that ends in .svg or .png"))
	}
	if len(findings) > 0 {
		return nil, findings.Sorted()
	}
	return n, nil
}

// readPNG decodes a PNG and encodes it again on white, so that no comment, profile or
// transparent pixel of the file is passed on. Fault is what is wrong, if not empty.
func readPNG(data []byte) (clean []byte, width, height int, fault string) {
	head, err := png.DecodeConfig(bytes.NewReader(data))
	switch {
	case err != nil:
		return nil, 0, 0, "this is no PNG picture: " + err.Error()
	case head.Width > mostDots || head.Height > mostDots:
		return nil, 0, 0, "the picture is larger than 1600 by 1600 dots"
	case tooLong(float64(head.Width), float64(head.Height)):
		return nil, 0, 0, "the picture is more than eight times as long as wide"
	}
	img, err := png.Decode(bytes.NewReader(data))
	if err != nil {
		return nil, 0, 0, "the picture is damaged: " + err.Error()
	}
	plain := image.NewRGBA(image.Rect(0, 0, head.Width, head.Height))
	draw.Draw(plain, plain.Bounds(), image.NewUniform(color.White), image.Point{}, draw.Src)
	draw.Draw(plain, plain.Bounds(), img, img.Bounds().Min, draw.Over)
	var out bytes.Buffer
	if err := png.Encode(&out, plain); err != nil {
		return nil, 0, 0, "the picture cannot be written anew: " + err.Error()
	}
	return out.Bytes(), head.Width, head.Height, ""
}

// tooLong reports whether the ratio of width to height is unusable on a cover.
func tooLong(w, h float64) bool { return !(w > 0 && h > 0 && w/h <= longest && h/w <= longest) }
