package main

import (
	"cmp"
	"errors"
	"io"
	netmail "net/mail"
	"path/filepath"
	"slices"

	"ownerguide/cmd/ownerguide/internal/guide"
	"ownerguide/cmd/ownerguide/internal/input"
	"ownerguide/cmd/ownerguide/internal/output"
	"ownerguide/cmd/ownerguide/internal/terminal"
	"ownerguide/cmd/ownerguide/internal/usage"
	"ownerguide/render/deliver"
	"ownerguide/render/mail"
	"ownerguide/render/pdf"
	"ownerguide/spec/sheet"
)

type mailCommand struct {
	forceFlag
	guide.LineFlag
	Out    string  `short:"o" aliases:"output" placeholder:"FILE" complete:"file" help:"File to write, or - for standard output; SERIAL.eml in the folder of the guides when left out."`
	Guides string  `placeholder:"DIR" complete:"folder" help:"Folder of the guides that write made, to know what was delivered before; out, or that of the project, when left out."`
	To     address `placeholder:"ADDRESS" help:"Whom the mail goes to; the buyer of the sheet when left out."`
	From   address `placeholder:"ADDRESS" help:"Whom it comes from; the dealer of the sheet when left out, or else the maker."`
	Sheet  string  `arg:"" name:"sheet" complete:"sheet" help:"Build sheet, or - for standard input."`
}

// Run writes the draft.
func (c *mailCommand) Run(cli *commands, t *terminal.Terminal, in io.Reader) error {
	file, err := input.ReadSheet(c.Sheet, in, t)
	if err != nil {
		return err
	}
	c.Guides = cmp.Or(c.Guides, cli.outFolder())
	rules := cli.outputs(c.Force, namesOf([]input.SheetFile{file})...)
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

// draft makes the draft of one sheet; paper is the paper size of a guide not yet written.
func (c *mailCommand) draft(m *guide.Maker, t *terminal.Terminal, rules deliver.Rules, file input.SheetFile, paper string) error {
	u := m.Read(file)
	if u.Build == nil || u.Findings.HasErrors() {
		return errors.Join(t.SideFindings(u.Findings), terminal.ErrFound)
	}
	maker := m.Line.Maker
	to := c.To.or(u.Sheet.Buyer)
	from := c.From.or(u.Sheet.Dealer, &sheet.Person{Name: maker.Name, Email: maker.Email})
	if to.Address == "" {
		return terminal.WithHint(terminal.Usagef("the sheet has no mail address of the buyer"), "%s", usage.Typed([]string{"mail", c.Sheet, "--to", "ADDRESS"}))
	}
	name := cmp.Or(c.Out, filepath.Join(c.Guides, u.Sheet.Serial.Value+".eml"))
	if c.Out == "" {
		if err := rules.Check(name, kindMail); err != nil {
			return err
		}
	}
	d, err := guide.OpenDelivery(rules.Open, c.Guides, []input.SheetFile{file})
	if err != nil {
		return err
	}
	defer d.Close()
	h, err := output.HistoryOf(filepath.Join(c.Guides, u.Sheet.Serial.Value))
	if err != nil {
		return err
	}
	defer h.Close()
	current := m
	if m, err = c.LineFlag.Of(m, u.Sheet.Identity(), h, d.Known[u.Sheet.Serial.Value].Letter); err != nil {
		return err
	}
	if m != current {
		u = m.Read(file)
	}
	u.Add(d.Clash[file.Name]...)
	files, err := c.files(m, d, h, u, paper)
	m.InOwnLine(u, current)
	if err := errors.Join(err, t.SideFindings(slices.Concat(u.Findings, m.Since(u.Sheet.Identity(), current)))); err != nil {
		return err
	}
	if files == nil {
		return terminal.ErrFound
	}
	draft, err := mail.Draft(u.Guide, from, to, attachments(u.Sheet.Serial.Value, files))
	if errors.Is(err, mail.ErrTooLarge) {
		return terminal.WithHint(err, "send the files that write makes in another way")
	}
	if err != nil {
		return err
	}
	draft = deliver.Seal(draft, "X-Digest: ", "\r")
	if err := d.Mailed(u); err != nil { // before there is a mail that could be sent
		return err
	}
	d.Report(t)
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
	return t.Line("%s %s (to %s, from %s; nothing is sent)", done, filepath.ToSlash(name), to.Address, from.Address)
}

// files makes the files of a unit as write does, with the differences from an earlier
// revision. It returns nil if there are errors.
func (c *mailCommand) files(m *guide.Maker, d *guide.Delivery, h *output.History, u *guide.Unit, paper string) ([]deliver.File, error) {
	serial := u.Sheet.Serial.Value
	earlier, err := m.Before(u, h)
	m.Assemble(u, earlier)
	if err != nil || u.Guide == nil {
		return nil, err
	}
	u.Record.Print.Paper = paper
	if h.Current != nil {
		u.Record.Print.Paper = h.Current.Print.Paper
	}
	u.Record.Kept, _ = h.Kept(u.Record.Revision)
	u.CheckRevision(h, d.Known[serial].Letter)
	return m.Files(u)
}

// address is a mail address given on the command line.
type address struct{ netmail.Address }

// UnmarshalText implements encoding.TextUnmarshaler.
func (a *address) UnmarshalText(text []byte) (err error) {
	a.Address, err = mail.Address(string(text))
	return err
}

// or returns the address if one was given, otherwise that of the first person who has
// one.
func (a address) or(people ...*sheet.Person) netmail.Address {
	for _, p := range people {
		if a.Address.Address == "" && p != nil {
			a.Address = netmail.Address{Name: p.Name.Value, Address: p.Email.Value}
		}
	}
	return a.Address
}

// mailed are the files of a unit for its owner, with their media types.
var mailed = []struct{ name, mediaType string }{
	{"guide.pdf", "application/pdf"}, {"guide.html", "text/html"}, {"handover.pdf", "application/pdf"}, {"service.ics", "text/calendar"},
}

// attachments returns the owner's files. Their names contain the serial number, because a
// download folder may have several guides.
func attachments(serial string, files []deliver.File) (out []mail.Attachment) {
	for _, want := range mailed {
		if i := slices.IndexFunc(files, func(f deliver.File) bool { return f.Name == want.name }); i >= 0 {
			out = append(out, mail.Attachment{Name: serial + "-" + want.name, Type: want.mediaType, Data: files[i].Data})
		}
	}
	return out
}
