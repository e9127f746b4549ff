package main

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"os"
	"path/filepath"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/apognu/gocal"

	"ownerguide/cmd/ownerguide/internal/guide"
	"ownerguide/cmd/ownerguide/internal/input"
	"ownerguide/render/calendar"
	"ownerguide/render/doc"
	"ownerguide/render/mail"
	"ownerguide/spec/derive"
	"ownerguide/spec/sheet"
	"ownerguide/spec/testenv"
)

// reader is Python's own mail parser, which shares nothing with ours; its strict
// policy stops at the first defect. It prints what a person would see.
const reader = `
import email, email.policy, hashlib, json, sys
m = email.message_from_binary_file(open(sys.argv[1], "rb"), policy=email.policy.strict)
one = lambda field: [[a.display_name, a.addr_spec] for a in m[field].addresses]
body = lambda kind: m.get_body((kind,)).get_content()
defects = [str(d) for p in m.walk() for d in p.defects] + [str(d) for h in m.values() for d in getattr(h, "defects", ())]
print(json.dumps({
  "subject": m["subject"], "date": m["date"].datetime.isoformat(), "unsent": m["x-unsent"], "from": one("from"), "to": one("to"),
  "plain": body("plain"), "html": body("html"), "defects": defects, "kinds": [p.get_content_type() for p in m.walk()],
  "files": {a.get_filename(): hashlib.sha256(a.get_payload(decode=True)).hexdigest() for a in m.iter_attachments()},
}))
`

type readMail struct {
	Subject, Date, Unsent, Plain, HTML string
	From, To                           [][2]string
	Defects, Kinds                     []string
	Files                              map[string]string
}

func readWithPython(t *testing.T, file string) (m readMail) {
	t.Helper()
	if err := json.Unmarshal([]byte(testenv.Tool(t, "python3", "-c", reader, file)), &m); err != nil {
		t.Fatal(err)
	}
	if len(m.Defects) > 0 {
		t.Errorf("%s: %v", file, m.Defects)
	}
	return m
}

// Mails as another program reads them: addresses, text, and attachments that
// are the very files that write made. One unit has dates and a buyer whose name
// is not ASCII, one has no dates and no address, one is the plainest, one the fullest.
func TestMailsAreReadByAnotherProgram(t *testing.T) {
	testenv.Outside(t, "python3")
	var sheets []string
	for _, serial := range []string{"BW-27-0142", "BW-27-0155", "BW-27-0118", "BW-27-0163"} {
		sheets = append(sheets, "../../testdata/sheets/"+serial+".yaml")
	}
	dir := demo.guides(t)
	calendars := 0
	for _, name := range sheets {
		s := sheetAt(t, name)
		serial := s.Serial.Value
		t.Run(serial, func(t *testing.T) {
			args, to := []string{"mail", "--guides", dir, name}, [2]string{"", "owner@example.com"}
			if s.Buyer != nil && s.Buyer.Email.Set {
				to = [2]string{s.Buyer.Name.Value, s.Buyer.Email.Value}
			} else {
				args = append(args, "--to", to[1])
			}
			code, stdout, stderr := program(t, args...)
			file := filepath.Join(dir, serial+".eml")
			if code != exitClean || !strings.HasPrefix(stdout, "written "+filepath.ToSlash(file)) {
				t.Fatalf("exit %d\n%s%s", code, stdout, stderr)
			}
			m := readWithPython(t, file)
			if len(m.To) != 1 || m.To[0] != to || len(m.From) != 1 || !strings.HasSuffix(m.From[0][1], "@example.com") || m.Unsent != "1" {
				t.Errorf("to %q, from %q, unsent %q", m.To, m.From, m.Unsent)
			}
			if want := s.Issued.Value.String() + "T12:00:00+00:00"; m.Date != want || !strings.Contains(m.Subject, serial) {
				t.Errorf("%q of %s, want %s", m.Subject, m.Date, want)
			}
			kinds := []string{"multipart/mixed", "multipart/alternative", "text/plain", "text/html", "application/pdf", "text/html", "application/pdf"}
			files := []string{"guide.pdf", "guide.html", "handover.pdf"}
			if _, err := os.Stat(filepath.Join(dir, serial, "service.ics")); err == nil {
				kinds, files = append(kinds, "text/calendar"), append(files, "service.ics")
				calendars++
			}
			if !slices.Equal(m.Kinds, kinds) || len(m.Files) != len(files) {
				t.Errorf("%v, %v", m.Kinds, m.Files)
			}
			for _, f := range files {
				data, err := os.ReadFile(filepath.Join(dir, serial, f))
				sum := sha256.Sum256(data)
				if err != nil || m.Files[serial+"-"+f] != hex.EncodeToString(sum[:]) {
					t.Errorf("%s is not what write made: %v", f, err)
				}
			}
			if says := strings.Contains(m.Plain, "for your calendar (ICS)"); says != slices.Contains(files, "service.ics") {
				t.Errorf("the mail speaks of a calendar: %t\n%s", says, m.Plain)
			}
		})
	}
	if calendars == 0 || calendars == len(sheets) {
		t.Errorf("%d of %d mails have a calendar; both kinds are wanted", calendars, len(sheets))
	}
}

func sheetAt(t *testing.T, name string) *sheet.Sheet {
	t.Helper()
	data, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	s, findings := sheet.Read(name, data)
	if s == nil {
		t.Fatal(findings)
	}
	return s
}

var (
	markup  = regexp.MustCompile(`(?s)<head>.*?</head>|<[^>]*>`)
	rule    = regexp.MustCompile(`(?m)^-+$`)
	numbers = regexp.MustCompile(`(?m)^([0-9]+\.|-) `)
)

// Both bodies say the same, word for word, and the HTML one has nothing that a
// mail program takes out or asks the network for.
func TestBothBodiesSayTheSame(t *testing.T) {
	testenv.Outside(t, "python3")
	name := "../../testdata/sheets/BW-27-0142.yaml"
	file := filepath.Join(t.TempDir(), "draft.eml")
	if code, _, stderr := program(t, "mail", "--guides", t.TempDir(), "--out", file, name); code != exitClean {
		t.Fatal(stderr)
	}
	m := readWithPython(t, file)
	words := func(s string) []string {
		return strings.FieldsFunc(s, func(r rune) bool { return strings.ContainsRune(" \n\u00a0:", r) })
	}
	page := markup.ReplaceAllStringFunc(m.HTML, func(tag string) string {
		if strings.HasPrefix(tag, "<strong") || strings.HasPrefix(tag, "</strong") || strings.HasPrefix(tag, "<em") || strings.HasPrefix(tag, "</em") {
			return ""
		}
		return " "
	})
	page = strings.NewReplacer("&#39;", "'", "&#34;", `"`, "&amp;", "&", "&lt;", "<", "&gt;", ">").Replace(page)
	plain := numbers.ReplaceAllString(rule.ReplaceAllString(m.Plain, ""), "")
	a, b := words(plain), words(page)
	for i := range max(len(a), len(b)) {
		if i >= len(a) || i >= len(b) || a[i] != b[i] {
			t.Fatalf("they differ at word %d\n plain: %v\n html:  %v", i, a[min(i, len(a)):min(i+8, len(a))], b[min(i, len(b)):min(i+8, len(b))])
		}
	}
	if len(a) < 500 {
		t.Errorf("only %d words", len(a))
	}
	for _, bad := range []string{"<script", "<style", "<img", "<link", "src=", "url(", "class=", "http:"} {
		if strings.Contains(m.HTML, bad) {
			t.Errorf("the HTML holds %s", bad)
		}
	}
}

// A calendar says what the dated schedule of the guide says: the same days, the
// same jobs, the same figures. It is read back with a second library.
func TestCalendarIsTheSchedule(t *testing.T) {
	m := loaded(t)
	visits := 0
	for _, name := range demoSheets() {
		data, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		u := m.Read(input.SheetFile{Name: name, Data: data})
		m.Assemble(u, nil)
		rows := datedRows(u.Guide, u.Values.Plan)
		events := eventsOf(t, u)
		if len(rows) != len(events) {
			t.Fatalf("%s: %d rows, %d events", name, len(rows), len(events))
		}
		for i, row := range rows {
			e := events[i]
			got := datedRow{number: strings.Fields(e.Summary)[2], day: e.Start.Format("Jan 2, 2006")}
			for line := range strings.SplitSeq(e.Description, `\n`) { // the library leaves line breaks escaped
				if job, ok := strings.CutPrefix(line, "- "); ok {
					title, _, _ := strings.Cut(job, ":") // its figures follow
					got.jobs = append(got.jobs, title)
				} else if byThen, ok := strings.CutPrefix(line, "By then: "); ok {
					got.byThen, _, _ = strings.Cut(byThen, " (") // the second unit and the loads follow
				}
			}
			slices.Sort(got.jobs)
			row.day = strings.Join(strings.Fields(row.day), " ") // its spaces keep it on one line
			got.number = strings.TrimSuffix(got.number, ":")
			if !reflect.DeepEqual(got, row) {
				t.Errorf("%s:\n guide:    %+v\n calendar: %+v", name, row, got)
			}
			visits++
		}
	}
	if visits < 50 {
		t.Errorf("only %d visits were compared", visits)
	}
}

// datedRow is a visit as a schedule tells it.
type datedRow struct {
	number, day, byThen string
	jobs                []string // sorted
}

// datedRows are the visits in a guide: rows of a box with the number, the day, the
// distance by then and the intervals that fall due, a dot for each. Which jobs those are stands in
// the plan (TestVisitsSayWhatThePlanSays); their titles are those of the links
// that the schedule leads to them with.
func datedRows(g *doc.Guide, plan derive.Plan) (rows []datedRow) {
	titles := map[string]string{}
	for n := range doc.Walk(g.Sections) {
		t, ok := n.(*doc.Table)
		if !ok || t.Role != doc.TableSchedule {
			continue
		}
		for _, row := range t.Rows {
			if len(row.Cells) > 3 {
				rows = append(rows, datedRow{number: strings.TrimSpace(doc.PlainText(row.Cells[0])), day: doc.PlainText(row.Cells[1]), byThen: doc.PlainText(row.Cells[2])})
				continue
			}
			for l := range doc.All[*doc.Link]([]doc.Node{row}) {
				titles[strings.TrimPrefix(l.To, "#")] = doc.PlainText(l)
			}
		}
	}
	for i, v := range plan.Visits {
		if i >= len(rows) {
			break
		}
		for _, task := range v.Tasks {
			rows[i].jobs = append(rows[i].jobs, titles[task])
		}
		slices.Sort(rows[i].jobs)
	}
	return rows
}

func eventsOf(t *testing.T, u *guide.Unit) []gocal.Event {
	t.Helper()
	if u.Guide == nil {
		t.Fatal(u.Findings)
	}
	data, err := calendar.Write(u.Guide)
	if err != nil {
		t.Fatal(err)
	}
	p := gocal.NewParser(bytes.NewReader(data))
	p.SkipBounds = true
	if err := p.Parse(); err != nil {
		t.Fatal(err)
	}
	return p.Events
}

// A later revision moves the events that are in the owner's calendar already:
// the identity of each visit stays, its sequence number grows, and its day and
// jobs are those of the new schedule.
func TestLaterRevisionMovesEvents(t *testing.T) {
	m := loaded(t)
	data, err := os.ReadFile("../../testdata/sheets/BW-27-0142.yaml")
	if err != nil {
		t.Fatal(err)
	}
	events := func(text string) []gocal.Event {
		u := m.Read(input.SheetFile{Name: "sheet.yaml", Data: []byte(text)})
		m.Assemble(u, nil)
		return eventsOf(t, u)
	}
	first := events(string(data))
	changed := strings.NewReplacer("revision: A", "revision: B", "distance_per_month: 900 mi", "distance_per_month: 1,800 mi", "issued: 2026-11-20", "issued: 2026-12-15").Replace(string(data))
	second := events(changed)
	if len(second) < len(first) {
		t.Fatalf("%d visits, then %d; the test wants more use to bring more", len(first), len(second))
	}
	moved := 0
	for i, e := range first {
		now := second[i]
		if now.Uid != e.Uid || e.Sequence != 0 || now.Sequence != 1 || !now.Stamp.After(*e.Stamp) {
			t.Errorf("%s, sequence %d, became %s, sequence %d", e.Uid, e.Sequence, now.Uid, now.Sequence)
		}
		if !now.Start.Equal(*e.Start) {
			moved++
		}
	}
	if moved == 0 {
		t.Error("no visit has moved, so nothing was shown")
	}
	seen := map[string]bool{}
	for _, e := range second {
		if seen[e.Uid] {
			t.Errorf("two events are called %s", e.Uid)
		}
		seen[e.Uid] = true
	}
}

// The fullest unit of each model still makes a mail that goes through.
func TestFullestMailsGoThrough(t *testing.T) {
	m := loaded(t)
	for _, model := range testenv.Sample(t, m.Line.Models, 3) {
		var most []string
		m.Line.Problem(model).Each(-1, func(options []string) bool {
			if len(options) > len(most) {
				most = slices.Clone(options)
			}
			return true
		})
		file := filepath.Join(t.TempDir(), "full.yaml")
		text := fullSheet(t, m.Line, model, most) + `delivered: 2026-11-30
use: { distance_per_month: 6000 mi, loads_per_week: 20, motor_hours_per_month: 30 }
buyer: { name: Pat Example, email: pat@example.com }
`
		if err := os.WriteFile(file, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
		code, stdout, stderr := program(t, "mail", "--guides", t.TempDir(), "--out", "-", file)
		if code != exitClean {
			t.Errorf("%s: exit %d\n%s", model.ID, code, stderr)
		}
		if size := len(stdout); size > mail.MostBytes*3/4 {
			t.Errorf("%s: %d bytes leave a maker's own line little room", model.ID, size)
		}
	}
}

// A mail that is too large is not written, and says what to do.
func TestMailTooLarge(t *testing.T) {
	templates := t.TempDir()
	style := append([]byte("/*"), bytes.Repeat([]byte("much "), 400_000)...)
	if err := os.WriteFile(filepath.Join(templates, "style.css"), append(style, "*/\n"...), 0o644); err != nil {
		t.Fatal(err)
	}
	must(t, takeAsProved(".", "--templates", templates))
	file := filepath.Join(t.TempDir(), "draft.eml")
	code, _, stderr := program(t, "mail", "--guides", t.TempDir(), "--templates", templates, "--out", file, "../../testdata/sheets/BW-27-0142.yaml")
	if code != exitErrors || !strings.Contains(stderr, "the mail is too large: it has ") || !strings.Contains(stderr, "  hint: ") {
		t.Errorf("exit %d\n%s", code, stderr)
	}
	if _, err := os.Stat(file); err == nil {
		t.Error("it was written all the same")
	}
}
