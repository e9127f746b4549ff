package main

import (
	"cmp"
	"errors"
	"io"
	netmail "net/mail"
	"path/filepath"
	"slices"

	"ownerguide/render/deliver"
	"ownerguide/render/mail"
	"ownerguide/render/pdf"
	"ownerguide/spec/sheet"
)

type mailCommand struct {
	forceFlag
	lineFlag
	Out    string  `short:"o" aliases:"output" placeholder:"FILE" complete:"file" help:"File to write, or - for standard output; SERIAL.eml in the folder of the guides when left out."`
	Guides string  `placeholder:"DIR" complete:"folder" help:"Folder of the guides that write made, to know what was delivered before; out, or that of the project, when left out."`
	To     address `placeholder:"ADDRESS" help:"Whom the mail goes to; the buyer of the sheet when left out."`
	From   address `placeholder:"ADDRESS" help:"Whom it comes from; the dealer of the sheet when left out, or else the maker."`
	Sheet  string  `arg:"" name:"sheet" complete:"sheet" help:"Build sheet, or - for standard input."`
}

// Help implements kong's help provider.
func (mailCommand) Help() string {
	return `Makes a mail that brings the guide to a buyer far away, as a draft in a file:
open it in a mail program, look at it, and send it there; a program that shows
it as a mail received can edit it as a new one. Nothing is sent. The
guide is made as write makes it, of what was proved, and attached, with the hand-over leaf, and a calendar of the service
visits where the sheet says when and how the unit is used. A sheet with errors
gets no mail. A draft that is there already is replaced only as long as nobody
has changed it, or with --force. What was mailed counts as delivered: from then on
a changed guide needs the next revision letter.

Example:

  ownerguide mail testdata/sheets/BW-27-0142.yaml`
}

// Run writes the draft.
func (c *mailCommand) Run(cli *commands, t *terminal, in io.Reader) error {
	file, err := readSheet(c.Sheet, in, t)
	if err != nil {
		return err
	}
	c.Guides = cmp.Or(c.Guides, cli.outFolder())
	rules := cli.outputs(c.Force, namesOf([]sheetFile{file})...)
	if c.Out != "" && c.Out != "-" {
		if err := rules.Check(c.Out, kindMail); err != nil {
			return err
		}
	}
	m, err := cli.load(t)
	if err == nil {
		err = cli.proveBefore(m)
	}
	if err != nil {
		return err
	}
	return c.draft(m, t, rules, file, cmp.Or(cli.paper, string(pdf.Letter)))
}

// draft makes the draft of one sheet; paper is that of a guide not written yet.
func (c *mailCommand) draft(m *maker, t *terminal, rules deliver.Rules, file sheetFile, paper string) error {
	u := m.read(file)
	if u.build == nil || u.findings.HasErrors() {
		return errors.Join(t.sideFindings(u.findings), errFound)
	}
	maker := m.line.Maker
	to := c.To.or(u.sheet.Buyer)
	from := c.From.or(u.sheet.Dealer, &sheet.Person{Name: maker.Name, Email: maker.Email})
	if to.Address == "" {
		return withHint(usagef("the sheet has no mail address of the buyer"), "%s", typed([]string{"mail", c.Sheet, "--to", "ADDRESS"}))
	}
	name := cmp.Or(c.Out, filepath.Join(c.Guides, u.sheet.Serial.Value+".eml"))
	if c.Out == "" {
		if err := rules.Check(name, kindMail); err != nil {
			return err
		}
	}
	folder, err := rules.Open(c.Guides)
	if err != nil {
		return err
	}
	defer folder.Close()
	d, err := openDelivery(folder, c.Guides, []sheetFile{file})
	if err != nil {
		return err
	}
	defer d.stock.close()
	h, err := historyOf(filepath.Join(c.Guides, u.sheet.Serial.Value))
	if err != nil {
		return err
	}
	defer h.close()
	current := m
	if m, err = c.lineFlag.of(m, u.sheet, h, d.known[u.sheet.Serial.Value].Letter); err != nil {
		return err
	}
	if m != current {
		u = m.read(file)
	}
	u.add(d.clash[file.name]...)
	files, err := c.files(m, d, h, u, paper)
	m.inOwnLine(u, current)
	if err := errors.Join(err, t.sideFindings(slices.Concat(u.findings, m.since(u.sheet, current)))); err != nil {
		return err
	}
	if files == nil {
		return errFound
	}
	draft, err := mail.Draft(u.guide, from, to, attachments(u.sheet.Serial.Value, files))
	if errors.Is(err, mail.ErrTooLarge) {
		return withHint(err, "send the files that write makes in another way")
	}
	if err != nil {
		return err
	}
	draft = deliver.Seal(draft, "X-Digest: ", "\r")
	if err := d.mailed(u); err != nil { // before there is a mail that could be sent
		return err
	}
	d.tell(t)
	if c.Out == "-" {
		_, err := t.Write(draft)
		return err
	}
	done := "written"
	replaced, err := rules.Write(name, kindMail, draft)
	if err != nil {
		return err
	}
	if replaced {
		done = "replaced"
	}
	return t.line("%s %s (to %s, from %s; nothing is sent)", done, filepath.ToSlash(name), to.Address, from.Address)
}

// files makes the files of a unit as write makes them, with what differs from an
// earlier revision. Nil when findings stop it.
func (c *mailCommand) files(m *maker, d *delivery, h *history, u *unit, paper string) ([]deliver.File, error) {
	serial := u.sheet.Serial.Value
	earlier, err := m.before(u, h)
	m.assemble(u, earlier)
	if err != nil || u.guide == nil {
		return nil, err
	}
	u.record.Print.Paper = paper
	if h.current != nil {
		u.record.Print.Paper = h.current.Print.Paper
	}
	u.record.Kept, _ = h.kept(u.record.Revision)
	u.holdLetter(h, d.known[serial].Letter)
	return m.files(u)
}

// address is a mail address on the command line.
type address struct{ netmail.Address }

// UnmarshalText implements encoding.TextUnmarshaler.
func (a *address) UnmarshalText(text []byte) (err error) {
	a.Address, err = mail.Address(string(text))
	return err
}

// or is the address where one was given, or else that of the first person who
// has one.
func (a address) or(people ...*sheet.Person) netmail.Address {
	for _, p := range people {
		if a.Address.Address == "" && p != nil {
			a.Address = netmail.Address{Name: p.Name.Value, Address: p.Email.Value}
		}
	}
	return a.Address
}

// mailed are the files of a unit that its owner gets, with their media types.
var mailed = []struct{ name, mediaType string }{
	{"guide.pdf", "application/pdf"}, {"guide.html", "text/html"}, {"handover.pdf", "application/pdf"}, {"service.ics", "text/calendar"},
}

// attachments picks the owner's files. Each is named after the unit: in a folder
// of downloads there is more than one guide.
func attachments(serial string, files []deliver.File) (out []mail.Attachment) {
	for _, want := range mailed {
		if i := slices.IndexFunc(files, func(f deliver.File) bool { return f.Name == want.name }); i >= 0 {
			out = append(out, mail.Attachment{Name: serial + "-" + want.name, Type: want.mediaType, Data: files[i].Data})
		}
	}
	return out
}
