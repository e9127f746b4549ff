// Package mail makes the mail that a guide is sent with: a draft in a file
// (RFC 5322, with MIME parts as in RFC 2045 to 2047) that any mail program opens.
// Nothing is sent.
//
// The text comes from the document beside the guide, once as HTML and once
// plain, for who reads mail without HTML. HTML in a mail has no style sheet to
// rely on and no script: what little it needs stands on the elements.
//
// The same guide makes the same bytes. Date and identity come from the document
// and not from a clock or a generator of random numbers, and so do the marks
// between the parts.
//
// What the libraries do that is met here: go-message draws the marks between parts
// at random, so they are set; of header fields the one set last is written first;
// net/mail writes a name with a backslash and a letter beyond ASCII so that no reader
// takes it, so names are encoded here.
package mail

import (
	"bytes"
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"mime"
	"net/mail"
	"strings"
	"time"
	"unicode/utf8"

	"github.com/emersion/go-message"
	gomail "github.com/emersion/go-message/mail"

	"ownerguide/render/doc"
)

// MostBytes is how large a mail may be: what larger ones meet on their way is
// refused by some mail servers and by owners who pay for what they receive. The
// figure is this project's own.
const MostBytes = 3_000_000

// ErrTooLarge says that a mail would be larger than [MostBytes].
var ErrTooLarge = errors.New("the mail is too large")

// Attachment is a file that goes with the mail.
type Attachment struct {
	Name string // under which it is saved
	Type string // media type, such as application/pdf; text is UTF-8
	Data []byte
}

// Address reads one address, with or without a name before it. Only addresses
// that every mail program can write to are taken.
func Address(text string) (mail.Address, error) {
	a, err := mail.ParseAddress(text)
	if err != nil {
		return mail.Address{}, errors.New("expected one address such as name@example.com")
	}
	return *a, checkAddress(*a)
}

func checkAddress(a mail.Address) error {
	switch {
	case strings.ContainsFunc(a.Address, func(r rune) bool { return r <= ' ' || r > '~' }):
		return fmt.Errorf("address %q: expected plain letters, digits and signs without spaces; write a foreign domain in its xn-- form", a.Address)
	case !utf8.ValidString(a.Name):
		return fmt.Errorf("name %q: expected text in UTF-8", a.Name)
	}
	return nil
}

// field writes an address with its name. A name with letters beyond ASCII goes
// in base64: the standard library's choice for it leaves a backslash as it is,
// which RFC 2047, 5, forbids in a name and its own reader refuses.
func field(a mail.Address) string {
	encoded := mime.BEncoding.Encode("utf-8", a.Name)
	if encoded == a.Name {
		return a.String()
	}
	return encoded + " " + (&mail.Address{Address: a.Address}).String()
}

// Draft returns the mail that brings the files of a guide to its owner. The
// error wraps [ErrTooLarge], or names what cannot be written.
func Draft(g *doc.Guide, from, to mail.Address, files []Attachment) ([]byte, error) {
	if g.Mail == nil {
		return nil, errors.New("mail: no section of the templates is for the mail")
	}
	if err := errors.Join(checkAddress(from), checkAddress(to)); err != nil {
		return nil, fmt.Errorf("mail: %w", err)
	}
	issued, err := time.Parse(time.DateOnly, g.Issued)
	if err != nil {
		return nil, fmt.Errorf("mail: day of issue: %w", err)
	}
	plain, err := plainText(g.Mail)
	if err != nil {
		return nil, err
	}
	page, err := hypertext(g.Mail)
	if err != nil {
		return nil, err
	}
	bodies := []Attachment{{Type: "text/plain", Data: plain}, {Type: "text/html", Data: page}}
	mark := digest(append([]string{field(from), field(to), g.Mail.Title, g.Issued}, contents(append(bodies, files...))...))

	var header gomail.Header // it is written from the field set last to the first
	header.SetContentType("multipart/mixed", map[string]string{"boundary": "=_files_" + mark})
	header.Set("MIME-Version", "1.0")
	header.Set("X-Unsent", "1") // opened as a draft, to be looked at and sent by a person
	// Another text has another identity: a program that drops repeated mails
	// must not drop a corrected one.
	header.SetMessageID(mark + from.Address[strings.LastIndexByte(from.Address, '@'):])
	header.SetDate(issued.Add(noon))
	header.SetSubject(g.Mail.Title)
	header.Set("To", field(to))
	header.Set("From", field(from))

	var out bytes.Buffer
	w, err := message.CreateWriter(&out, header.Header)
	if err != nil {
		return nil, fmt.Errorf("mail: %w", err)
	}
	var text message.Header
	text.SetContentType("multipart/alternative", map[string]string{"boundary": "=_text_" + mark})
	err = part(w, text, func(w *message.Writer) error {
		for _, b := range bodies { // the last one is preferred by who can show it
			if err := leaf(w, b); err != nil {
				return err
			}
		}
		return nil
	})
	for _, f := range files {
		err = errors.Join(err, leaf(w, f))
	}
	if err := errors.Join(err, w.Close()); err != nil {
		return nil, fmt.Errorf("mail: %w", err)
	}
	if out.Len() >= MostBytes {
		return nil, fmt.Errorf("%w: it has %d bytes; expected fewer than %d", ErrTooLarge, out.Len(), MostBytes)
	}
	return out.Bytes(), nil
}

// noon is the time of day of a mail: at noon of Greenwich the day is the same in
// all of North America.
const noon = 12 * time.Hour

// part writes one part of a multipart body.
func part(in *message.Writer, header message.Header, write func(*message.Writer) error) error {
	w, err := in.CreatePart(header)
	if err != nil {
		return err
	}
	return errors.Join(write(w), w.Close())
}

// leaf writes a part without parts: a body, or a file under its name.
func leaf(in *message.Writer, a Attachment) error {
	var header message.Header
	header.Set("Content-Transfer-Encoding", "base64")
	if a.Name == "" {
		header.Set("Content-Transfer-Encoding", "quoted-printable")
	} else {
		header.SetContentDisposition("attachment", map[string]string{"filename": a.Name})
	}
	params := map[string]string{}
	if strings.HasPrefix(a.Type, "text/") {
		params["charset"] = "utf-8"
	}
	header.SetContentType(a.Type, params)
	return part(in, header, func(w *message.Writer) error {
		_, err := w.Write(a.Data)
		return err
	})
}

// contents lists all there is to know of files.
func contents(files []Attachment) (out []string) {
	for _, f := range files {
		out = append(out, f.Name, f.Type, string(f.Data))
	}
	return out
}

// digest returns a number that stands for texts in their order, in hexadecimal
// digits. Behind an equals sign and an underscore it is a mark that neither
// encoding of a part can produce (RFC 2045, 6.7).
func digest(texts []string) string {
	sum := sha256.New()
	for _, s := range texts {
		_ = binary.Write(sum, binary.BigEndian, uint64(len(s))) // a hash takes everything
		_, _ = io.WriteString(sum, s)
	}
	return hex.EncodeToString(sum.Sum(nil)[:16])
}
