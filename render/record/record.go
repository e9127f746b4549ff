// Package record defines the record of what was delivered with one unit, as data that
// other programs can read, and compares two records.
//
// A unit has two data files. The [Record] identifies the unit, the inputs of its guide
// and the files delivered; it is small, so that thousands can be read for a recall. The
// [Contents] is what the guide says, for comparing two guides; its digest is in the
// record like that of any file.
//
// A delivered guide is never changed under its revision letter. [Record.Promise] is what
// a letter identifies: the digest of what the guide says before layout, the digest of
// its looks, and the paper. What the guide says about an earlier revision is in no
// digest, so the promise depends only on sheet, line and templates.
//
// A record is valid only byte for byte: it ends with its own digest, and is decoded only
// if encoding it again gives the same bytes. Serial number, letters and names of files are
// validated before they are used as paths. It contains the digests of the records of
// earlier revisions kept below it, so the current one authenticates them all. Searching
// for a unit reads all records each time and relies on no summary.
//
// "Unchanged" means the same inputs, the same program version and intact files. The
// record does not depend on the program's own bytes, so two builds of one version give
// the same record; the digest of those bytes is in the register.
//
// A record is made from a build, its values and its assembled guide. It contains no
// time of day, no path of the machine and nothing that differs between two runs with
// the same inputs. The package does no I/O.
package record

import (
	"cmp"
	"crypto/sha256"
	"encoding/hex"
	"slices"
	"strings"

	"ownerguide/spec/source"
)

// Format is the version of the record format; a program refuses any other.
const Format = 2

// File is the name of the record's file. LineFile is that of the product line, zipped,
// from which a delivered unit was made.
const (
	File     = "record.json"
	LineFile = "line.zip"
)

// Record is what was delivered with one unit.
type Record struct {
	Format    int    `json:"record"`
	Serial    string `json:"serial"` // also the name of the unit's folder
	VIN       string `json:"vin"`
	Model     string `json:"model"`
	ModelName string `json:"model_name"`
	Maker     string `json:"maker"`
	Revision  string `json:"revision"`
	Issued    string `json:"issued"`              // ISO 8601 day
	Delivered string `json:"delivered,omitempty"` // ISO 8601 day; empty before delivery
	Draft     bool   `json:"draft,omitempty"`     // made while watching the sheet, and not delivered
	Language  string `json:"language"`
	Buyer     string `json:"buyer,omitempty"`
	Dealer    string `json:"dealer,omitempty"`

	Program string `json:"program"` // name and version
	Line    string `json:"line"`    // the line's id and version
	Inputs  Inputs `json:"inputs"`
	Proof   string `json:"proof,omitempty"` // digest of the proof that line and templates passed; drafts may have none
	Print   Print  `json:"print"`

	// Content is the digest of the text of the guide before layout: two guides
	// with the same one say the same. Looks is the digest of style sheet, colors and
	// logo.
	Content string      `json:"content"`
	Looks   string      `json:"looks"`
	Pages   int         `json:"pages"`    // of the printed guide
	Files   []Delivered `json:"files"`    // all but the record itself
	Kept    []Kept      `json:"kept"`     // guides of earlier revisions kept below this one, the earliest first
	Notes   []Note      `json:"findings"` // warnings and notes

	// Unconfirmed is the number of prescribed texts in the guide that nobody had
	// compared with the law in force.
	Unconfirmed int `json:"unconfirmed_texts,omitempty"`

	// SwitchedOff is what the maker left out that this unit would otherwise have, with the reason.
	SwitchedOff []SwitchedOff `json:"switched_off,omitempty"`

	Options []Option `json:"options"`
	Parts   []Part   `json:"parts"`
	Fitted  []Mark   `json:"fitted"`

	// Digest is the SHA-256 of the record encoded without it. Earlier revisions
	// are identified by the digest of their record, so the current record
	// authenticates all files below it.
	Digest string `json:"digest"`

	*Contents `json:"-"` // nil until read from its own file

	// ByLine is the names of figures that differ in a later guide because the line
	// differs. It is set by the caller that compares the guides.
	ByLine []string `json:"-"`
}

// Names returns the names of the delivered files.
func (r *Record) Names() (names []string) {
	for _, f := range r.Files {
		names = append(names, f.Name)
	}
	return names
}

// Promise identifies what was delivered under a revision letter: the text, the looks and
// the paper. A guide with another promise needs another letter.
func (r *Record) Promise() string {
	return Digest([]byte(strings.Join([]string{r.Content, r.Looks, r.Print.Paper}, " ")))
}

// Other describes how a guide differs from this one; empty if it does not.
func (r *Record) Other(now *Record) string {
	switch {
	case r.Content != now.Content:
		return "would now read differently"
	case r.Looks != now.Looks:
		return "would now look different: the style sheet, the logo or the colors have changed"
	case r.Print.Paper != now.Print.Paper:
		return "is on " + r.Print.Paper + " paper, not " + now.Print.Paper
	}
	return ""
}

// SwitchedOff is a hazard, a job or a text that the maker left out.
type SwitchedOff struct {
	What   string `json:"what"` // such as "hazard sway"
	Reason string `json:"reason"`
	By     string `json:"by"`
}

// Inputs are the SHA-256 digests, in hexadecimal, of the inputs of a guide.
type Inputs struct {
	Sheet     string `json:"sheet"`
	Line      string `json:"line"`
	Templates string `json:"templates"`
}

// Print is how the files were requested.
type Print struct {
	Paper   string `json:"paper"`
	Booklet bool   `json:"booklet,omitempty"`
}

// Delivered is one file of a unit.
type Delivered struct {
	Name   string `json:"name"`
	Size   int    `json:"size"`
	SHA256 string `json:"sha256"`
}

// Kept is an earlier revision whose guide was kept.
type Kept struct {
	Revision string `json:"revision"`
	SHA256   string `json:"sha256"` // of its record file
}

// FileOf returns the entry of a delivered file.
func FileOf(name string, data []byte) Delivered {
	return Delivered{name, len(data), Digest(data)}
}

// Digest returns the SHA-256 of data in hexadecimal.
func Digest(data []byte) string {
	sum := sha256.Sum256(data)
	return hex.EncodeToString(sum[:])
}

// Note is a finding that did not prevent the guide. The file is left out: it is the sheet,
// whatever its name, or the line.
type Note struct {
	Severity string `json:"severity"`
	Code     string `json:"code"`
	Line     int    `json:"line"`
	Message  string `json:"message"`
}

// Note records findings, in an order that depends on their content and not on the names
// of their files.
func (r *Record) Note(findings source.Findings) {
	for _, f := range findings {
		r.Notes = append(r.Notes, Note{Severity: f.Severity.String(), Code: f.Code, Line: f.Pos.Line, Message: f.Message})
	}
	slices.SortFunc(r.Notes, func(a, b Note) int {
		return cmp.Or(strings.Compare(a.Severity, b.Severity), strings.Compare(a.Code, b.Code), cmp.Compare(a.Line, b.Line), strings.Compare(a.Message, b.Message))
	})
	r.Notes = slices.Compact(r.Notes)
}

// Option is an option of the unit.
type Option struct {
	ID    string `json:"id"`
	Text  string `json:"text"`
	Since string `json:"since,omitempty"` // ISO 8601 day, when fitted after delivery
}

// Part is a component in its place.
type Part struct {
	Place     string `json:"place"`
	Kind      string `json:"kind"`
	Component string `json:"component"`
	Number    string `json:"part_number,omitempty"` // the maker's own
	Text      string `json:"text"`
}

// Mark is what was read off a part when it was mounted.
type Mark struct {
	Place string `json:"place"`
	Kind  string `json:"kind"` // axle, tire or part
	Mark  string `json:"mark"` // serial number or tire date code
}
