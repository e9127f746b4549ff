package html

import (
	"cmp"
	"crypto/sha256"
	_ "embed" // the script
	"encoding/base64"
	"fmt"
	"html"
	"slices"
	"strconv"
	"strings"
	"sync"
	"sync/atomic"
	"unicode/utf8"

	"ownerguide/render/doc"
	"ownerguide/spec/parallel"
	"ownerguide/spec/source"
)

// Write returns the page of a guide with the given style sheet. The error for an unknown
// node has its type and position.
func Write(g *doc.Guide, css string) ([]byte, error) {
	p := &page{out: spare.Get(), guide: g, aids: gather(g), keyed: map[string]bool{}}
	p.head(css)
	p.top()
	p.text("<main id=\"text\" tabindex=\"-1\">\n")
	for _, s := range g.Sections {
		p.block(s)
	}
	p.text("</main>\n")
	if p.aids != nil {
		p.index()
		p.sideColumn()
	}
	p.text("</div>\n")
	if p.aids != nil {
		p.phoneBar()
		p.text("<script>", script, "</script>\n")
	}
	p.text("</body>\n</html>\n")
	return p.out, p.err
}

// spare is room for pages: two of a unit take more than a megabyte.
var spare = parallel.Spare[[]byte]{New: func() []byte { return make([]byte, 0, 600<<10) }, Each: 2}

// Free makes room for other pages in one that is not used any more.
func Free(page []byte) { spare.Put(page[:0]) }

// page is one file being written. The first error sticks.
type page struct {
	out    []byte
	guide  *doc.Guide
	aids   *aids           // nil for a document that has none
	row    *doc.Row        // the current table row, or nil
	line   []doc.Inline    // the current paragraph
	inLink bool            // inside a link; links are not nested
	keyed  map[string]bool // ids that keys of pictures have linked to
	err    error
}

func (p *page) text(parts ...string) {
	for _, s := range parts {
		p.out = append(p.out, s...)
	}
}

func (p *page) printf(format string, args ...any) { p.out = fmt.Appendf(p.out, format, args...) }

// esc escapes text and attribute values.
func esc(s string) string { return html.EscapeString(s) }

func (p *page) word(key string) string { return esc(p.guide.Words[key]) }

// script is the only one a page may run. The page is readable without it: it keeps ticks,
// searches, and marks the current chapter.
//
//go:embed guide.js
var script string

var scriptPolicy = sync.OnceValue(func() string { return policySource([]byte(script)) })

// policySource returns the source of a style or script in a content security policy.
func policySource(text []byte) string {
	sum := sha256.Sum256(text)
	return "'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'"
}

func (p *page) head(css string) {
	own := fieldStyle(p.guide)
	if p.guide.Draft != "" {
		own += draftStyle
	}
	p.text(faces(), css, own) // to be digested, before the page begins
	style := policySource(p.out)
	p.out = p.out[:0]
	policy, unit := "default-src 'none'; img-src data:; font-src data:; style-src "+style+"; base-uri 'none'; form-action 'none'", ""
	if p.aids != nil {
		policy += "; script-src " + scriptPolicy()
		unit = " data-unit=\"" + esc(p.guide.Serial+"/"+p.guide.Revision) + "\"" + p.days()
	}
	p.printf("<!DOCTYPE html>\n<html lang=\"%s\"%s>\n<head>\n<meta charset=\"utf-8\">\n", esc(p.guide.Lang), unit)
	p.printf("<meta http-equiv=\"Content-Security-Policy\" content=\"%s\">\n", policy)
	p.text("<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n<meta name=\"color-scheme\" content=\"light dark\">\n")
	class := ""
	if p.aids == nil {
		class = " class=\"sums\"" // a document to work through, not for quick reference
	}
	p.text("<title>", esc(p.guide.Title), "</title>\n<style>", faces(), css, own, "</style>\n</head>\n<body", class, ">\n")
}

// draftStyle is the style of the mark of a draft, whatever style sheet a maker has.
const draftStyle = ".draft { margin: 0; padding: 0.5rem 1rem; border: 0.25rem solid #000; background: #fff; color: #000; font-weight: bold; text-align: center; }\n"

// fieldStyle returns the maker's colors for the bar at the top of a screen; "" if there are none.
func fieldStyle(g *doc.Guide) string {
	if _, _, _, ok := g.Field.RGB(); !ok {
		return ""
	}
	return "@media screen { .top { background: " + hex(g.Field) + "; color: " + hex(g.OnField) + "; } }\n"
}

// top writes what precedes the text: the skip link, the unit, and on a wide screen the
// contents at the side.
func (p *page) top() {
	g := p.guide
	p.printf("<a class=\"skip\" href=\"#text\">%s</a>\n", p.word("skip-to-text"))
	p.printf("<header class=\"top\"><p><b>%s</b> <span>%s %s</span> <span>%s %s</span></p></header>\n",
		esc(g.Model), p.word("serial"), esc(g.Serial), p.word("revision"), esc(g.Revision))
	if g.Draft != "" {
		p.printf("<p class=\"draft\" role=\"note\">%s</p>\n", esc(g.Draft))
	}
	p.text("<div class=\"frame\">\n")
	if p.aids != nil {
		p.firstScreen()
	}
	if entries := contents(g); entries != nil {
		p.printf("<nav class=\"side\" aria-label=\"%s\">\n", p.word("contents"))
		if p.aids != nil {
			p.text("<p class=\"ways aid\">")
			p.quickLinks()
			p.text("</p>\n")
		}
		p.entries(entries)
		p.text("</nav>\n")
	}
}

// contents returns the entries of the guide's contents; nil if it has none.
func contents(g *doc.Guide) []doc.Entry {
	for c := range doc.All[*doc.Contents](g.Sections) {
		return c.Entries
	}
	return nil
}

// entries writes the contents: a line for each chapter, which opens to show its
// sections.
func (p *page) entries(entries []doc.Entry) {
	p.text("<ol class=\"toc\" id=\"toc\">\n")
	part := ""
	for len(entries) > 0 {
		if now := entries[0].Part; now != part {
			part = now
			p.printf("<li class=\"part\">%s</li>\n", esc(part))
		}
		chapter, n := entries[0], 1
		for n < len(entries) && entries[n].Level > 1 {
			n++
		}
		title := number(chapter.Number) + esc(chapter.Title)
		if n == 1 {
			p.printf("<li><a href=\"#%s\" data-chapter=\"%s\">%s</a></li>\n", esc(chapter.ID), esc(chapter.ID), title)
		} else {
			p.printf("<li><details><summary data-chapter=\"%s\">%s</summary><ol>\n<li><a href=\"#%s\">%s</a></li>\n", esc(chapter.ID), title, esc(chapter.ID), esc(chapter.Title))
			for _, e := range entries[1:n] {
				p.printf("<li><a href=\"#%s\">%s%s</a></li>\n", esc(e.ID), number(e.Number), esc(e.Title))
			}
			p.text("</ol></details></li>\n")
		}
		entries = entries[n:]
	}
	p.text("</ol>\n")
}

func number(n string) string {
	if n == "" {
		return ""
	}
	return "<span class=\"no\">" + esc(n) + "</span> "
}

// changed returns the word for a changed part, for screen readers; empty if it has not
// changed.
func (p *page) changed(n doc.Part) string {
	if !n.Attr().Changed {
		return ""
	}
	return "<span class=\"unseen\">" + p.word("changed") + " </span>"
}

// changedClass returns the style class of a changed part, to be appended to another.
func changedClass(n doc.Part) string {
	if n.Attr().Changed {
		return " changed"
	}
	return ""
}

// fail records an unknown node.
func (p *page) fail(n doc.Node) {
	if p.err == nil {
		p.err = fmt.Errorf("html: %w", doc.Unknown(n, source.Pos{}))
	}
}

func (p *page) blocks(list []doc.Block) {
	for _, n := range list {
		p.block(n)
	}
}

func (p *page) inlines(list []doc.Inline) {
	for _, n := range list {
		p.inline(n)
	}
}

// shared is a shared block as it stands in pages, without links to call the contacts of a unit.
type shared struct {
	text    string
	without *atomic.Pointer[[]string] // signs of contacts last found not to be in it
	err     error
}

func (p *page) block(n doc.Block) {
	if pic, ok := n.(*doc.Figure); ok {
		for _, v := range pic.Column {
			for _, k := range v.Key {
				p.keyed["#"+k.To] = true
			}
		}
	}
	if t, ok := n.(*doc.Table); !doc.IsShared(n) || ok && t.Role != doc.TablePlain && t.Role != doc.TableLog { // the rows of other tables get ids
		p.ownBlock(n)
		return
	}
	of := doc.Once(n, func() shared {
		own := page{guide: p.guide}
		own.ownBlock(n)
		return shared{string(own.out), new(atomic.Pointer[[]string]), own.err}
	})
	p.err = cmp.Or(p.err, of.err)
	if p.aids != nil {
		signs := p.aids.calls.signs
		if last := of.without.Load(); last == nil || !slices.Equal(*last, signs) {
			if p.aids.calls.in(of.text) {
				p.ownBlock(n)
				return
			}
			of.without.Store(&signs)
		}
	}
	p.text(of.text)
}

// ownBlock writes a block; a changed one has a bar at its side, and the word for screen
// readers.
func (p *page) ownBlock(n doc.Block) {
	if _, section := n.(*doc.Section); n.Attr().Changed && !section {
		p.printf("<div class=\"changed\">%s\n", p.changed(n))
		defer p.text("</div>\n")
	}
	if lang := n.Attr().Lang; lang != "" {
		p.printf("<div lang=\"%s\">\n", esc(lang))
		defer p.text("</div>\n")
	}
	switch n := n.(type) {
	case *doc.Section:
		p.section(n)
	case *doc.Paragraph:
		p.line = n.Inlines
		p.text("<p>")
		p.inlines(n.Inlines)
		p.text("</p>\n")
	case *doc.List:
		p.list(n)
	case *doc.Table:
		p.table(n)
	case *doc.Contents:
		if len(n.Entries) > 0 && n.Entries[0].ID == "" {
			p.printf("<p class=\"back aid\"><a href=\"#a-z\">%s</a></p>\n", p.word("screen.index")) // it is before the text already
			break
		}
		p.printf("<p class=\"back aid\"><a href=\"#toc\">%s</a></p>\n", p.word("contents")) // they are before the text already
	case *doc.Caution:
		p.caution(n)
	case *doc.JobLine:
		p.jobLine(n)
	case *doc.Limit:
		p.text("<p class=\"limit\">")
		p.inlines(n.Inlines)
		p.text("</p>\n")
	case *doc.Trouble:
		p.trouble(n)
	case *doc.Figure:
		p.figure(n)
	case *doc.Logo:
		p.logo(n)
	case *doc.Form:
		p.form(n)
	default:
		p.fail(n)
	}
}

// section writes a chapter or a section. The cover's heading is the page's h1; chapters
// begin with h2.
func (p *page) section(s *doc.Section) {
	landmark := "" // chapters only: a hundred landmarks would be useless
	if s.Level == 1 {
		landmark = " aria-labelledby=\"h-" + esc(s.ID) + "\""
	}
	daily := ""
	if p.aids != nil && p.aids.trip == s {
		daily = " data-daily" // ticks of another day do not count
	}
	fold := p.aids != nil && p.aids.folds[s]
	class := strings.TrimPrefix(string(s.Role)+" l"+strconv.Itoa(s.Level)+changedClass(s), string(doc.RolePlain)+" ")
	if fold {
		p.text("<section class=\"", class, "\"><details class=\"fold\" open><summary>\n")
	} else {
		p.text("<section id=\"", esc(s.ID), "\" class=\"", class, "\"", landmark, daily, ">\n")
	}
	if h := s.Heading; h != nil {
		level := min(s.Level+1, 6)
		if s.Role == doc.RoleCover {
			level = 1
		}
		changed := ""
		if h.Changed {
			changed = " class=\"changed\""
		}
		strip := s.Level == 1 && s.Role != doc.RoleCover && s.Role != doc.RoleContents && p.aids != nil
		if strip { // it stays at the upper edge while its chapter is read
			p.text("<div class=\"strip\">")
		}
		id, open, end := "", "<a href=\"#"+esc(s.ID)+"\">", "</a>"
		if s.Level == 1 {
			id = " id=\"h-" + esc(s.ID) + "\"" // the name of the landmark
		}
		if linked(h) || level == 1 || fold {
			open, end = "", ""
		}
		p.text("<h", strconv.Itoa(level), id, changed, ">", open, p.changed(s), p.changed(h), number(s.Number))
		p.inLink = open != ""
		p.inlines(h.Inlines)
		p.inLink = false
		p.text(end, "</h", strconv.Itoa(level), ">")
		if strip {
			p.printf("<a class=\"aid\" href=\"#start\">%s</a></div>", p.word("screen.start"))
		}
		p.text("\n")
	}
	if fold {
		p.text("</summary>\n")
		p.foldBelowTitle(s.ID)
	}
	if p.aids != nil && s == p.aids.trouble {
		p.troubleSections()
	}
	p.blocks(s.Blocks)
	if p.aids != nil && p.aids.signs[s] != nil {
		p.relatedSymptoms(s)
	}
	if s.Level == 1 && s.Role == doc.RoleChapter && p.aids == nil && contents(p.guide) != nil {
		p.printf("<p class=\"back\"><a href=\"#toc\">%s</a></p>\n", p.word("back-to-contents"))
	}
	if fold {
		p.text("</div></details>\n")
	}
	p.text("</section>\n")
}

// linked reports whether a heading contains a link, so that it cannot be inside one.
func linked(h *doc.Heading) bool {
	for range doc.All[*doc.Link](h.Inlines) {
		return true
	}
	return false
}

// alertSymbol returns the safety alert symbol; a notice, which is about property only, has
// none.
func alertSymbol(w doc.Word) string {
	if w == doc.Notice {
		return ""
	}
	return `<svg class="alert" viewBox="0 0 24 22" aria-hidden="true" focusable="false"><path d="M12 1 23 21H1Z"/><path class="mark" d="M10.8 7.5h2.4l-.4 7h-1.6Zm0 8.6h2.4v2.2h-2.4Z"/></svg>`
}

func (p *page) form(f *doc.Form) {
	p.printf("<div class=\"form\"><p>%s</p>", esc(f.Label))
	p.text(strings.Repeat("<div class=\"rule\"></div>", max(1, f.Rules)))
	p.text("</div>\n")
}

// widestValue is the maximum length of a figure that is kept on one line: longer ones do not
// fit on a screen of 320 px in a list. A value in words breaks like words.
const widestValue = 24

func (p *page) inline(n doc.Inline) {
	switch n := n.(type) {
	case *doc.Text:
		words := keepNumbersWhole(esc(n.Content))
		if p.aids != nil && !p.inLink {
			words = p.aids.calls.link(words)
		}
		p.text(words)
	case *doc.Value:
		class := "v"
		if utf8.RuneCountInString(n.Printed) > widestValue || !strings.ContainsAny(n.Printed, "0123456789") {
			class = "v long"
		}
		p.text("<span class=\"", class, "\">", esc(n.Printed), "</span>")
	case *doc.PointMark:
		p.printf("<span class=\"stop-mark\">%d</span>", n.Number)
	case *doc.Box:
		p.printf("<input type=\"checkbox\" id=\"%s\" aria-label=\"%s\">", esc(n.ID), esc(p.boxLabel()))
	case *doc.Break:
		p.text("<br>")
	case *doc.Emphasis:
		tag := "em"
		if n.Strong {
			tag = "strong"
		}
		p.text("<", tag, ">")
		p.inlines(n.Inlines)
		p.text("</", tag, ">")
	case *doc.Link:
		p.text("<a href=\"", esc(n.To), "\">")
		p.inLink = true
		p.inlines(n.Inlines)
		p.inLink = false
		p.text("</a>")
	default:
		p.fail(n)
	}
}

// boxLabel returns the words of the table row or paragraph of a checkbox without text, for
// screen readers.
func (p *page) boxLabel() string {
	if p.row == nil {
		return doc.PlainText(p.line...)
	}
	var parts []string
	for _, cell := range p.row.Cells {
		if words := doc.PlainText(cell); words != "" {
			parts = append(parts, words)
		}
	}
	return doc.Join(p.guide.Words["list.comma"], parts...)
}
