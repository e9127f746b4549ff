package output

import (
	"bufio"
	"bytes"
	"crypto/sha256"
	_ "embed"
	"encoding/base64"
	"fmt"
	"html"
	"html/template"
	"io"
	"ownerguide/cmd/ownerguide/internal/terminal"
	"ownerguide/render/deliver"
	"ownerguide/render/record"
	"ownerguide/render/register"
	"slices"
	"strings"
	"time"
)

// IndexFile is the page that lists every unit of an output folder.
const IndexFile = "index.html"

// The seal of an index is an HTML comment.
const (
	SealBefore = "<!-- "
	SealAfter  = " -->"
)

//go:embed index.html
var indexPage string

//go:embed index.css
var indexStyle string

//go:embed index.js
var indexScript string

// KindIndex is the index as a kind of file.
var KindIndex = deliver.Kind{Name: "an index", Endings: []string{".html"}, Own: deliver.Sealed}

// index is the page that lists units, while it is written.
type index struct {
	out  *bufio.Writer
	tail []byte
	rows int
	days map[string]string // formatted days, by ISO 8601: thousands of rows share them

	links map[linked][]string // the links to files, split at the serial number
}

// linked is the key of rows that link to the same files.
type linked struct {
	column *[]link
	files  string
	pages  int
}

// rowsInBody is the number of rows in a tbody, which a browser skips as a whole while it
// is not visible.
const rowsInBody = 50

// BeginIndex writes the page up to its rows, for so many units.
func BeginIndex(w io.Writer, units int) (*index, error) {
	page, err := template.New(IndexFile).Parse(indexPage)
	if err != nil {
		return nil, fmt.Errorf("index: %w", err)
	}
	var b bytes.Buffer
	style := indexStyle + narrowed()
	err = page.Execute(&b, map[string]any{
		"Units": units, "Heads": heads, "States": states,
		"Style": template.CSS(style), "StyleHash": contentHash(style),
		"Script": template.JS(indexScript), "ScriptHash": contentHash(indexScript),
	})
	if err != nil {
		return nil, fmt.Errorf("index: %w", err)
	}
	const rows = "<tbody>\n"
	before, after, _ := bytes.Cut(b.Bytes(), []byte(rows))
	out := bufio.NewWriterSize(w, 64<<10)
	_, _ = out.Write(before) // a write error is returned by End
	_, _ = out.WriteString(rows)
	return &index{out: out, tail: after, days: map[string]string{}, links: map[linked][]string{}}, nil
}

// End writes the page after its rows, and returns the first write error.
func (x *index) End() error {
	_, _ = x.out.Write(x.tail)
	return x.out.Flush()
}

// heads are the columns of the index; a plain one cannot be sorted by.
var heads = []struct {
	Text  string
	Plain bool
}{{"Serial", false}, {"Buyer", false}, {"Model", false}, {"Print", true}, {"Status", false}, {"Issued", false}, {"Delivered", false}, {"Office", true}}

// states are the filters of the index, which are classes of its rows.
var states = []struct{ ID, Text string }{
	{"all", "All"}, {"waiting", "Not delivered"}, {"given", "Delivered"}, {"changed", "Changed"},
	{"unproved", "Not proved"}, {"unconfirmed", "Not confirmed"}, {"findings", "With findings"},
}

// narrowed returns the style sheet that hides the rows of other states, so that the filter
// works without scripts.
func narrowed() string {
	var b strings.Builder
	for _, s := range states[1:] {
		fmt.Fprintf(&b, "body:has(#show-%[1]s:checked) tbody tr:not(.%[1]s) { display: none; }\n", s.ID)
	}
	return b.String()
}

// The files of a unit that its row links to: for the print room, and for the office.
var (
	printRoom   = []link{{"guide.pdf", "Guide", "Guide, guide of ", " as PDF"}, {"card.pdf", "Card", "Card, card of ", " as PDF"}, {"handover.pdf", "Hand-over", "Hand-over, hand-over leaf of ", " as PDF"}}
	officeFiles = []link{{"calculations.html", "Calculations", "Calculations, calculations of ", ""}, {"service.ics", "Dates", "Dates, service dates of ", ""}, {record.File, "Record", "Record, record of ", ""}}
)

// link is a link to a file; its label has the serial number between before and after.
type link struct{ name, text, before, after string }

// Row writes the row of one unit. A serial number needs no escaping in an address. A place
// without a record has no links.
func (x *index) Row(p Place, e register.Entry) {
	if x.rows++; x.rows > rowsInBody {
		x.rows = 1
		x.write("</tbody>\n<tbody>\n")
	}
	if e.Stamp == "" {
		x.write("<tr class=\"unread\"><th scope=\"row\">", html.EscapeString(p.Name), "</th><td>no record that can be read</td></tr>\n")
		return
	}
	name := html.EscapeString(e.Serial)
	state, flags := stateOf(e)
	x.write("<tr class=\"", state.class)
	for _, f := range flags {
		x.write(" ", f.class)
	}
	x.write("\"><th scope=\"row\"><a href=\"", name, "/guide.html\">", name, "</a><small>", html.EscapeString(e.VIN), "</small></th><td>")
	if e.Buyer != "" {
		x.write("<b>", html.EscapeString(e.Buyer), "</b>")
	}
	x.write(html.EscapeString(e.Dealer), "</td><td><b>", html.EscapeString(e.Model), "</b>")
	switch n := strings.Count(e.Options, ", ") + 1; {
	case e.Options == "":
		x.write("no options")
	default:
		x.write("<details><summary>", terminal.Counted(n, "option"), "</summary>", html.EscapeString(e.Options), "</details>")
	}
	x.write("</td><td class=\"print\">")
	x.leadTo(&printRoom, e, name)
	x.write("</td><td class=\"state ", state.class, "\"><b>", state.words, "</b>")
	for _, f := range flags {
		x.write("<small>", f.words, "</small>")
	}
	x.write("</td><td data-head=\"Issued\">", x.day(e.Issued), "<small>revision ", e.Revision)
	for k := range strings.FieldsSeq(e.Kept) {
		k, _, _ = strings.Cut(k, ":")
		x.write(" <a href=\"", name, "/revisions/", k, "/guide.html\" aria-label=\"revision ", k, " of ", name, "\">", k, "</a>")
	}
	x.write("</small></td><td")
	if e.Delivered != "" {
		x.write(" data-head=\"Delivered\"")
	}
	x.write(">", x.day(e.Delivered), "</td><td class=\"office\">")
	x.leadTo(&officeFiles, e, name)
	x.write("</td></tr>\n")
}

// day formats a day in ISO 8601 for the page; anything else is unchanged.
func (x *index) day(iso string) string {
	if said, ok := x.days[iso]; ok {
		return said
	}
	d, err := time.Parse(time.DateOnly, iso)
	if err != nil {
		return html.EscapeString(iso)
	}
	said := "<time datetime=\"" + iso + "\">" + d.Format("Jan\u00a02, 2006") + "</time>"
	x.days[iso] = said
	return said
}

// leadTo writes the links of a column to the files that a unit has.
func (x *index) leadTo(column *[]link, e register.Entry, unit string) {
	key := linked{column, e.Files, e.Pages}
	around, ok := x.links[key]
	if !ok {
		const mark = "\x00" // stands for the serial number; it occurs in no text of the page
		files := append(strings.Fields(e.Files), record.File)
		var b strings.Builder
		for _, l := range *column {
			if !slices.Contains(files, l.name) {
				continue
			}
			b.WriteString("<a href=\"" + mark + "/" + l.name + "\" aria-label=\"" + l.before + mark + l.after + "\">" + l.text + "</a> ")
			if l.name == "guide.pdf" {
				b.WriteString("<small>" + terminal.Counted(e.Pages, "page") + "</small> ")
			}
		}
		around = strings.Split(b.String(), mark)
		x.links[key] = around
	}
	for i, text := range around {
		if i > 0 {
			x.write(unit)
		}
		x.write(text)
	}
}

// state is a class of rows, by which the index can be filtered, and its words.
type state struct{ class, words string }

// stateOf returns the state of a unit's guide, and what to notice about it.
func stateOf(e register.Entry) (is state, flags []state) {
	switch {
	case e.Promise == "":
		is = state{"waiting", "Draft"}
	case e.Letter.Revision != e.Revision:
		is = state{"waiting", "Not delivered"}
	case e.Letter.How == MailedHow:
		is = state{"given", "Mailed"}
	default:
		is = state{"given", "Delivered"}
	}
	if kept := strings.Fields(e.Kept); len(kept) > 0 {
		last, _, _ := strings.Cut(kept[len(kept)-1], ":")
		flags = append(flags, state{"changed", "changed since revision " + last})
	}
	if e.Proof == "" { // only drafts are made from what was not proved
		flags = append(flags, state{"unproved", "not proved"})
	}
	if e.Unconfirmed > 0 {
		flags = append(flags, state{"unconfirmed", terminal.Counted(e.Unconfirmed, "text") + " not confirmed"})
	}
	if e.Notes > 0 {
		flags = append(flags, state{"findings", terminal.Counted(e.Notes, "finding")})
	}
	return is, flags
}

func (x *index) write(texts ...string) {
	for _, text := range texts {
		_, _ = x.out.WriteString(text)
	}
}

// contentHash returns the source of a style or script in a content security policy.
func contentHash(text string) string {
	sum := sha256.Sum256([]byte(text))
	return "sha256-" + base64.StdEncoding.EncodeToString(sum[:])
}
