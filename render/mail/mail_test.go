package mail

import (
	"bytes"
	"encoding/base64"
	"errors"
	"io"
	"maps"
	"math/rand/v2"
	"mime"
	"mime/multipart"
	"mime/quotedprintable"
	"net/mail"
	"reflect"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"ownerguide/render/doc"
)

func text(s string) *doc.Text { return &doc.Text{Content: s} }

func paragraph(words ...doc.Inline) *doc.Paragraph { return &doc.Paragraph{Inlines: words} }

func section(id, title string, blocks ...doc.Block) *doc.Section {
	return &doc.Section{Attributes: doc.Attributes{ID: id}, Level: 1, Heading: &doc.Heading{Inlines: []doc.Inline{text(title)}}, Blocks: blocks}
}

func item(blocks ...doc.Block) *doc.Item { return &doc.Item{Blocks: blocks} }

func row(cells ...string) *doc.Row {
	r := &doc.Row{}
	for _, c := range cells {
		r.Cells = append(r.Cells, &doc.Cell{Inlines: []doc.Inline{text(c)}})
	}
	return r
}

// guide has one of everything that a mail can hold.
func guide() *doc.Guide {
	strong := &doc.Emphasis{Strong: true, Inlines: []doc.Inline{text("Never")}}
	link := &doc.Link{To: "https://example.com/a?b=1&c=2", Inlines: []doc.Inline{text("the site")}}
	bare := &doc.Link{To: "tel:555-0118", Inlines: []doc.Inline{text("555-0118")}}
	sections := []*doc.Section{
		section("first", "Guide <of> María",
			paragraph(text("Set it to "), &doc.Value{Printed: "80\u00a0psi"}, text(". "), strong, &doc.Break{}, text("guess "), &doc.Emphasis{Inlines: []doc.Inline{text("it")}}, text("."))),
		section("second", "Do",
			&doc.List{Items: []*doc.Item{item(paragraph(&doc.Box{}, text("one"))), item(paragraph(text("two")), paragraph(text("more")))}},
			&doc.List{Ordered: true, Start: 3, Items: []*doc.Item{item(paragraph(text("three"))), item(paragraph(&doc.PointMark{Number: 7}))}},
			&doc.Limit{Inlines: []doc.Inline{text("Stop.")}},
			&doc.Table{Role: doc.TableNumbers, Rows: []*doc.Row{row("Torque", "120 lb-ft")}},
			&doc.Table{Head: row("A", "B", "C"), Rows: []*doc.Row{row("1", "2", "3")}},
			&doc.Caution{Name: "rolls", Word: doc.Danger, Signal: "DANGER", Brief: true, Hazard: []doc.Inline{text("It rolls.")}, Avoid: [][]doc.Inline{{text("Chock it.")}}},
			paragraph(link, text(", "), bare)),
	}
	return &doc.Guide{Issued: "2026-11-20", Mail: &doc.Guide{Lang: "en", Words: map[string]string{"list.colon": "{a}: {b}"}, Title: "Owner guide of Núñez, " + strings.Repeat("long ", 30), Sections: sections}}
}

// more adds a block at the end of the text.
func more(g *doc.Guide, b doc.Block) {
	s := g.Mail.Sections[1]
	s.Blocks = append(s.Blocks, b)
}

var (
	dealer = mail.Address{Name: "Example Trailer Sales", Address: "sales@example.com"}
	buyer  = mail.Address{Name: "María Núñez", Address: "maria@example.com"}
	files  = []Attachment{
		{"EX-1-guide.pdf", "application/pdf", []byte("%PDF-1.7\r\n\x00\xff--=_files_\n")},
		{"EX-1-service.ics", "text/calendar", []byte("BEGIN:VCALENDAR\r\nEND:VCALENDAR\r\n")},
	}
)

func draft(t testing.TB, g *doc.Guide) []byte {
	t.Helper()
	data, err := Draft(g, dealer, buyer, files)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// received is a mail as the standard library reads it, with the parts that are
// no parts of their own in their order.
type received struct {
	header mail.Header
	parts  []receivedPart
}

type receivedPart struct {
	mediaType, charset, file string
	data                     string
}

func receive(t testing.TB, data []byte) received {
	t.Helper()
	m, err := mail.ReadMessage(bytes.NewReader(data))
	if err != nil {
		t.Fatalf("%v\n%s", err, data)
	}
	r := received{header: m.Header}
	r.read(t, m.Header.Get("Content-Type"), m.Body)
	return r
}

func (r *received) read(t testing.TB, contentType string, body io.Reader) {
	t.Helper()
	kind, params, err := mime.ParseMediaType(contentType)
	if err != nil || !strings.HasPrefix(kind, "multipart/") {
		t.Fatalf("%q, %v", contentType, err)
	}
	parts := multipart.NewReader(body, params["boundary"])
	for {
		p, err := parts.NextRawPart()
		if err == io.EOF {
			return
		}
		if err != nil {
			t.Fatal(err)
		}
		kind, params, err := mime.ParseMediaType(p.Header.Get("Content-Type"))
		if err != nil {
			t.Fatal(err)
		}
		if strings.HasPrefix(kind, "multipart/") {
			r.read(t, p.Header.Get("Content-Type"), p)
			continue
		}
		var decoded io.Reader
		switch encoding := p.Header.Get("Content-Transfer-Encoding"); encoding {
		case "base64":
			decoded = base64.NewDecoder(base64.StdEncoding, p)
		case "quoted-printable":
			decoded = quotedprintable.NewReader(p)
		default:
			t.Fatalf("encoding %q", encoding)
		}
		content, err := io.ReadAll(decoded)
		if err != nil {
			t.Fatal(err)
		}
		r.parts = append(r.parts, receivedPart{kind, params["charset"], p.FileName(), string(content)})
	}
}

// What was written is what the standard library's own readers receive.
func TestDraftIsReceivedWhole(t *testing.T) {
	g := guide()
	r := receive(t, draft(t, g))
	subject, err := new(mime.WordDecoder).DecodeHeader(r.header.Get("Subject"))
	if err != nil || subject != g.Mail.Title {
		t.Errorf("subject %q, %v", subject, err)
	}
	for field, want := range map[string]mail.Address{"From": dealer, "To": buyer} {
		got, err := r.header.AddressList(field)
		if err != nil || len(got) != 1 || *got[0] != want {
			t.Errorf("%s: %v, %v", field, got, err)
		}
	}
	if date, err := r.header.Date(); err != nil || date.Format("2006-01-02 15:04 -0700") != "2026-11-20 12:00 +0000" {
		t.Errorf("date %s, %v", date, err)
	}
	if r.header.Get("X-Unsent") != "1" || r.header.Get("Mime-Version") != "1.0" {
		t.Errorf("%v", r.header)
	}
	if len(r.parts) != 4 {
		t.Fatalf("%d parts", len(r.parts))
	}
	for i, want := range []receivedPart{
		{"text/plain", "utf-8", "", wantPlain},
		{"text/html", "utf-8", "", ""},
		{"application/pdf", "", "EX-1-guide.pdf", string(files[0].Data)},
		{"text/calendar", "utf-8", "EX-1-service.ics", string(files[1].Data)},
	} {
		got := r.parts[i]
		if i < 2 {
			got.data = strings.ReplaceAll(got.data, "\r\n", "\n") // lines of text end so in a mail
		}
		if i == 1 {
			want.data = wantHTML
		}
		if got != want {
			t.Errorf("part %d is\n%+v\nwant\n%+v", i, got, want)
		}
	}
}

const wantPlain = `Guide <of> María
----------------

Set it to 80` + "\u00a0" + `psi. Never guess it.

Do
--

- [ ] one
- two
  more

3. three
4. (7)

Stop.

Torque: 120 lb-ft

A | B | C
1 | 2 | 3

DANGER: It rolls.
Chock it.

the site (https://example.com/a?b=1&c=2), 555-0118
`

const wantHTML = `<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<title>Owner guide of Núñez, long long long long long long long long long long long long long long long long long long long long long long long long long long long long long long </title>
</head>
<body style="` + styleBody + `">
<h1 style="` + styleHeading + `">Guide &lt;of&gt; María</h1>
<p>Set it to 80` + "\u00a0" + `psi. <strong>Never</strong><br>guess <em>it</em>.</p>
<h2 style="` + styleHeading + `">Do</h2>
<ul><li>☐ one</li>
<li><p>two</p>
<p>more</p>
</li>
</ul>
<ol start="3"><li>three</li>
<li>(7)</li>
</ol>
<p style="` + styleCaution + `">Stop.</p>
<table style="` + styleTable + `"><tr><th scope="row" style="` + styleCell + `">Torque</th>
<td style="` + styleNumber + `">120 lb-ft</td>
</tr>
</table>
<table style="` + styleTable + `"><tr><th scope="col" style="` + styleNumber + `">A</th>
<th scope="col" style="` + styleNumber + `">B</th>
<th scope="col" style="` + styleNumber + `">C</th>
</tr>
<tr><th scope="row" style="` + styleCell + `">1</th>
<td style="` + styleCell + `">2</td>
<td style="` + styleCell + `">3</td>
</tr>
</table>
<div style="` + styleCaution + `">
<p style="` + styleInPanel + `"><strong>DANGER: It rolls.</strong></p>
<p style="` + styleInPanel + `">Chock it.</p>
</div>
<p><a href="https://example.com/a?b=1&amp;c=2">the site</a>, <a href="tel:555-0118">555-0118</a></p>
</body>
</html>
`

// checkLines checks a mail against RFC 5322, 2.1.1 and 2.3, and RFC 2045, 6.7
// and 6.8: ASCII only, lines end with CRLF, and have at most 76 characters in
// the encoded parts; a line of the header may have 998.
func checkLines(t testing.TB, data []byte) {
	t.Helper()
	header, body, found := strings.Cut(string(data), "\r\n\r\n")
	if !found {
		t.Fatalf("no end of the header\n%s", data)
	}
	for i, part := range []string{header, body} {
		for line := range strings.SplitSeq(part, "\r\n") {
			if most := []int{998, 76}[i]; len(line) > most || strings.ContainsFunc(line, func(r rune) bool { return r < ' ' && r != '\t' || r > '~' }) {
				t.Errorf("%d characters: %q", len(line), line)
			}
		}
	}
}

func TestLines(t *testing.T) { checkLines(t, draft(t, guide())) }

// The same guide makes the same mail; a change in anything makes one that no
// program takes for a repetition.
func TestIdentity(t *testing.T) {
	first := draft(t, guide())
	if !bytes.Equal(first, draft(t, guide())) {
		t.Error("the same guide makes two mails")
	}
	seen := map[string]string{receive(t, first).header.Get("Message-Id"): "the first"}
	for name, change := range map[string]func(g *doc.Guide, from, to *mail.Address, files []Attachment){
		"day":     func(g *doc.Guide, _, _ *mail.Address, _ []Attachment) { g.Issued = "2026-11-21" },
		"subject": func(g *doc.Guide, _, _ *mail.Address, _ []Attachment) { g.Mail.Title += "." },
		"text":    func(g *doc.Guide, _, _ *mail.Address, _ []Attachment) { more(g, paragraph(text("More"))) },
		"from":    func(_ *doc.Guide, from, _ *mail.Address, _ []Attachment) { from.Name = "Other" },
		"to":      func(_ *doc.Guide, _, to *mail.Address, _ []Attachment) { to.Address = "other@example.com" },
		"file":    func(_ *doc.Guide, _, _ *mail.Address, files []Attachment) { files[0].Data = []byte("%PDF-1.7") },
		"name":    func(_ *doc.Guide, _, _ *mail.Address, files []Attachment) { files[0].Name = "EX-2-guide.pdf" },
	} {
		g, from, to, files := guide(), dealer, buyer, slices.Clone(files)
		change(g, &from, &to, files)
		data, err := Draft(g, from, to, files)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		id := receive(t, data).header.Get("Message-Id")
		if !strings.HasPrefix(id, "<") || !strings.HasSuffix(id, "@example.com>") {
			t.Errorf("%s: identity %q", name, id)
		}
		if other, twice := seen[id]; twice {
			t.Errorf("%s has the identity of %s", name, other)
		}
		seen[id] = name
	}
}

func TestTooLarge(t *testing.T) {
	noise := make([]byte, MostBytes)
	source := rand.NewChaCha8([32]byte{})
	_, _ = source.Read(noise)
	// Base64 makes 4 characters of 3 bytes, and a line of 76 has an end of 2.
	fits := MostBytes * 3 / 4 * 76 / 78
	for size, tooLarge := range map[int]bool{fits - 4000: false, fits: true, MostBytes: true} {
		data, err := Draft(guide(), dealer, buyer, []Attachment{{"a.pdf", "application/pdf", noise[:size]}})
		if errors.Is(err, ErrTooLarge) != tooLarge || tooLarge != (data == nil) || len(data) >= MostBytes {
			t.Errorf("%d bytes make %d: %v", size, len(data), err)
		}
	}
}

func TestDraftErrors(t *testing.T) {
	for name, change := range map[string]func(g *doc.Guide, to *mail.Address){
		"no section":    func(g *doc.Guide, _ *mail.Address) { g.Mail = nil },
		"no day":        func(g *doc.Guide, _ *mail.Address) { g.Issued = "" },
		"address":       func(_ *doc.Guide, to *mail.Address) { to.Address = "maría@example.com" },
		"line break":    func(_ *doc.Guide, to *mail.Address) { to.Address = "a@example.com\r\nBcc: b@example.com" },
		"name":          func(_ *doc.Guide, to *mail.Address) { to.Name = "\xff" },
		"unknown block": func(g *doc.Guide, _ *mail.Address) { more(g, &doc.Figure{}) },
		"unknown words": func(g *doc.Guide, _ *mail.Address) { more(g, paragraph(struct{ *doc.Text }{})) },
	} {
		g, to := guide(), buyer
		change(g, &to)
		if data, err := Draft(g, dealer, to, files); err == nil || data != nil {
			t.Errorf("%s: written", name)
		}
	}
}

// Of the types a guide can have, both bodies write all but those that no
// section for the mail can bring.
func TestEveryTypeIsWrittenOrRefused(t *testing.T) {
	met := map[reflect.Type]bool{}
	for n := range doc.Walk(guide().Mail.Sections) {
		met[reflect.TypeOf(n)] = true
	}
	for _, n := range []doc.Block{&doc.Contents{}, &doc.Figure{}, &doc.JobLine{}, &doc.Trouble{}, &doc.Form{}, &doc.Logo{}} {
		if met[reflect.TypeOf(n)] {
			t.Errorf("%T is in the guide of these tests", n)
		}
		met[reflect.TypeOf(n)] = true
		g := &doc.Guide{Sections: []*doc.Section{section("s", "S", n)}}
		if _, err := plainText(g); err == nil {
			t.Errorf("plain text passes over %T", n)
		}
		if _, err := hypertext(g); err == nil {
			t.Errorf("HTML passes over %T", n)
		}
	}
	for _, n := range doc.Types {
		if !met[reflect.TypeOf(n)] {
			t.Errorf("nobody knows what becomes of %T", n)
		}
	}
}

func TestAddress(t *testing.T) {
	for given, want := range map[string]mail.Address{
		"a@example.com":                           {Address: "a@example.com"},
		"Pat Example <pat@example.com>":           {Name: "Pat Example", Address: "pat@example.com"},
		`"Example, Pat" <pat@example.com>`:        {Name: "Example, Pat", Address: "pat@example.com"},
		"María Núñez <m@xn--pea-8ja.example.com>": {Name: "María Núñez", Address: "m@xn--pea-8ja.example.com"},
	} {
		if got, err := Address(given); err != nil || got != want {
			t.Errorf("%q: %+v, %v", given, got, err)
		}
	}
	for _, given := range []string{"", "a", "a@", "@b", "a@b, c@d", "a@b\r\nBcc: c@d", "maría@example.com", "a@peña.example.com", "\"a b\"@example.com",
		"\xff <a@example.com>", "Group: a@b, c@d;", "<a@b> <c@d>"} {
		if got, err := Address(given); err == nil {
			t.Errorf("%q was taken for %+v", given, got)
		}
	}
}

// Whatever a name or an address holds, it stays in its field: the header has
// the fields it should have and no other, and the name comes back as it was.
func FuzzNamesAndAddresses(f *testing.F) {
	for _, s := range []string{"María Núñez", `Peña \ Hijos`, "a\r\nBcc: x@example.com", "=?utf-8?q?x?=", `"quoted" \`, strings.Repeat("ñ", 200), strings.Repeat("x", 1200), "李 <a@example.com>", "a, b; c:"} {
		f.Add(s, "pat@example.com")
		f.Add("Pat", s)
		f.Add("Pat", "Pat <"+s+"@example.com>")
	}
	f.Fuzz(func(t *testing.T, name, address string) {
		to, err := Address(address)
		if err != nil {
			to = buyer
		}
		if utf8.RuneCountInString(name) > 300 || len(to.Address) > 300 {
			t.Skip("longer than a sheet can say: see text-long")
		}
		g := guide()
		g.Mail.Title = "Guide of " + name + "."
		from := mail.Address{Name: name, Address: "sales@example.com"}
		data, err := Draft(g, from, to, files)
		if err != nil {
			if utf8.ValidString(name) {
				t.Fatal(err)
			}
			return
		}
		checkLines(t, data)
		r := receive(t, data)
		fields := slices.Sorted(maps.Keys(r.header))
		if want := []string{"Content-Type", "Date", "From", "Message-Id", "Mime-Version", "Subject", "To", "X-Unsent"}; !slices.Equal(fields, want) {
			t.Fatalf("fields %v\n%s", fields, data)
		}
		for field, want := range map[string]mail.Address{"From": from, "To": to} {
			got, err := r.header.AddressList(field)
			if err != nil || len(got) != 1 || got[0].Address != want.Address || len(r.header[field]) != 1 {
				t.Fatalf("%s: %v, %v, want %v\n%s", field, got, err, want, data)
			}
			if got[0].Name != want.Name && printable(want.Name) {
				t.Errorf("%s is called %q, want %q", field, got[0].Name, want.Name)
			}
		}
		subject, err := new(mime.WordDecoder).DecodeHeader(r.header.Get("Subject"))
		if err == nil && subject != g.Mail.Title && printable(name) && !strings.Contains(name, "=?") { // nobody's model is called that
			t.Errorf("subject %q, want %q", subject, g.Mail.Title)
		}
	})
}

// printable names are those a sheet can give: see text-control and text-empty.
func printable(name string) bool {
	return strings.TrimSpace(name) == name && !strings.ContainsFunc(name, func(r rune) bool { return r < ' ' || r == 0x7f })
}
