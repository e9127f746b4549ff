// Package mail makes the mail that a guide is sent with: a draft in a file
// (RFC 5322, with MIME parts as in RFC 2045 to 2047) that any mail program opens.
// It sends nothing.
//
// The text comes from the mail document of the guide, as HTML and as plain text. Mail
// programs support neither style sheets nor scripts reliably, so the few styles needed are on the
// elements.
//
// The same guide gives the same bytes. Date, message id and part boundaries come from
// the document, not from a clock or a random number generator.
//
// Behavior of the libraries that is worked around here: go-message chooses boundaries at
// random, so they are set; it writes the header field set last first; net/mail writes a
// name with both a backslash and a non-ASCII letter in a form that no reader accepts, so
// names are encoded here.
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

// MostBytes is the maximum size of a mail: larger ones may be refused by mail servers,
// or by owners who pay for what they receive. The figure is this project's own.
const MostBytes = 3_000_000

// ErrTooLarge reports that a mail would be larger than [MostBytes].
var ErrTooLarge = errors.New("the mail is too large")

// Attachment is an attached file.
type Attachment struct {
	Name string // file name
	Type string // media type, such as application/pdf; text is UTF-8
	Data []byte
}

// Address parses one address, with or without a name. It accepts only addresses
// that every mail program can write to.
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

// field formats an address with its name. A name with non-ASCII letters is encoded in
// base64: the standard library's quoted-printable form does not escape a backslash,
// which RFC 2047, 5, forbids in a name and the library itself cannot read.
func field(a mail.Address) string {
	encoded := mime.BEncoding.Encode("utf-8", a.Name)
	if encoded == a.Name {
		return a.String()
	}
	return encoded + " " + (&mail.Address{Address: a.Address}).String()
}

// Draft returns the mail with the files of a guide to its owner. The error wraps
// [ErrTooLarge], or says what cannot be written.
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

	var header gomail.Header // fields are written in reverse order
	header.SetContentType("multipart/mixed", map[string]string{"boundary": "=_files_" + mark})
	header.Set("MIME-Version", "1.0")
	header.Set("X-Unsent", "1") // opened as a draft, for a person to check and send
	// A different text needs a different id: a program that drops duplicates must not
	// drop a corrected mail.
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
		for _, b := range bodies { // programs prefer the last alternative they support
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

// noon is the time of day of a mail, UTC: it is the same day in all of North America.
const noon = 12 * time.Hour

// part writes one part of a multipart body.
func part(in *message.Writer, header message.Header, write func(*message.Writer) error) error {
	w, err := in.CreatePart(header)
	if err != nil {
		return err
	}
	return errors.Join(write(w), w.Close())
}

// leaf writes a part without subparts: a body or an attachment.
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

// contents returns names, types and data of files.
func contents(files []Attachment) (out []string) {
	for _, f := range files {
		out = append(out, f.Name, f.Type, string(f.Data))
	}
	return out
}

// digest returns a digest of texts as hexadecimal digits. After "=_" it is a boundary
// that neither encoding of a part can produce (RFC 2045, 6.7).
func digest(texts []string) string {
	sum := sha256.New()
	for _, s := range texts {
		_ = binary.Write(sum, binary.BigEndian, uint64(len(s))) // a hash never returns an error
		_, _ = io.WriteString(sum, s)
	}
	return hex.EncodeToString(sum.Sum(nil)[:16])
}
