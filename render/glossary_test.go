package render

import (
	"strings"
	"testing"

	"ownerguide/render/doc"
)

// Terms stand in order where the block is, those that the guide uses elsewhere and that
// are for this unit.
func TestGlossary(t *testing.T) {
	files := body("A GVWR is told, and masts.\n\n```glossary\n```\n")
	files["en/glossary.yaml"] = "mast: { term: mast, says: \"is an upright tube of {maker.name}.\" }\n" +
		"gvwr: { term: GVWR, says: (gross weight) is all together. }\n" +
		"tie: { term: tie, says: is told of nowhere but here; a tie. }\n" +
		"tube: { term: tube, says: \"{?dump} a long hollow thing.\" }\n"
	g, findings := guide(t, "utility-12", false, files)
	if len(findings) > 0 {
		t.Fatal(written(findings))
	}
	var got []string
	for item := range doc.All[*doc.Item](g.Sections) {
		got = append(got, doc.PlainText(item))
	}
	if want := "mast is an upright tube of Bramblewick Trailer Works.|GVWR (gross weight) is all together."; strings.Join(got, "|") != want {
		t.Errorf("got %s\nwant %s", strings.Join(got, "|"), want)
	}

	// Where no term is used nothing is left of the list.
	files = body("Text.\n\n```glossary\n```\n")
	files["en/glossary.yaml"] = "mast: { term: mast, says: a tube. }\n"
	g, _ = guide(t, "utility-12", false, files)
	for list := range doc.All[*doc.List](g.Sections) {
		t.Errorf("an empty list: %v", list)
	}
}

const ownShape = `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 200 100"><path d="M20 90 L20 10 L150 10 Z" fill="#333333"/></svg>`

// A picture of the maker's own is shown where its block stands, is safe like a logo, and
// says what it shows.
func TestOwnPicture(t *testing.T) {
	files := body("Text.\n\n```picture crane.svg\nThe crane of {maker.name}.\n{?dump} Nobody reads this.\n```\n")
	files["pictures/crane.svg"] = ownShape
	g, findings := guide(t, "utility-12", false, files)
	if len(findings) > 0 {
		t.Fatal(written(findings))
	}
	found := false
	for p := range doc.All[*doc.Logo](g.Sections) {
		found = p.InText && p.Alt == "The crane of Bramblewick Trailer Works." && p.Drawing != nil
	}
	if !found {
		t.Error("the picture is not there, or not as it should be")
	}
	for name, c := range map[string]struct{ block, file, data, want string }{
		"no words":     {"```picture crane.svg\n```\n", "crane.svg", ownShape, "only.md:5:1: error: nothing is said to who cannot see the picture"},
		"not there":    {"```picture cran.svg\nA crane.\n```\n", "crane.svg", ownShape, `only.md:5:1: error: there is no picture "cran.svg" in pictures/`},
		"not shown":    {"Text.\n", "crane.svg", ownShape, "own/pictures/crane.svg: error: no text shows this picture"},
		"not safe":     {"```picture crane.svg\nA crane.\n```\n", "crane.svg", `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9"><script>x</script></svg>`, "own/pictures/crane.svg:1:59: error: <script>"},
		"no PNG":       {"```picture crane.png\nA crane.\n```\n", "crane.png", "x", "own/pictures/crane.png:1:1: error: this is no PNG picture"},
		"too long":     {"```picture crane.svg\nA crane.\n```\n", "crane.svg", strings.Replace(ownShape, "200 100", "900 100", 1), "at most eight times as long as wide"},
		"another kind": {"Text.\n", "crane.gif", "x", "own/pictures/crane.gif"},
	} {
		t.Run(name, func(t *testing.T) {
			files := body(c.block)
			files["pictures/"+c.file] = c.data
			_, findings := loadLittle(t, files)
			if got := written(findings); !strings.Contains(got, c.want) {
				t.Errorf("got %s\nwant %s", got, c.want)
			}
		})
	}
}
