// Package record keeps what exactly was delivered with one unit, as data that
// other programs can read, and tells two such records apart.
//
// A unit has two files of data. The [Record] says which unit it is, what its
// guide was made from and which files were delivered; it is small, so that
// thousands can be read for a recall. The [Contents] say what the guide tells,
// for comparing two of them; the record holds their digest as that of any file.
//
// A delivered guide is never changed under its letter: [Record.Promise] is what a
// letter promises, the digests of what the guide says before layout and of its looks,
// and the paper. What tells of an earlier revision enters no digest, so the promise
// follows from sheet, line and templates alone.
//
// A record is the bytes that were written, or none. It ends with its own digest and
// is decoded only when encoding it again gives the same bytes; serial number, letters
// and names of files are checked before they become paths. It names the records of
// the revisions kept below it by digest, so the one in place holds them all. Whoever
// looks for a unit reads all records each time and trusts no summary.
//
// "Unchanged" means the same inputs, the same program and whole files. The record
// holds no trace of the program's own bytes, so two builds of one version give the
// same record; those bytes are noted in the register.
//
// A record is made from a build, its values and its assembled guide; it holds
// no clock, no path of the machine it was made on and nothing that differs
// between two runs with the same inputs. The package reads and writes no file.
package record

import (
	"cmp"
	"crypto/sha256"
	"encoding/hex"
	"slices"
	"strings"

	"ownerguide/spec/source"
)

// Format is the number of this shape of record; a program refuses another one.
const Format = 1

// File is the name of the record itself, LineFile that of the product line the
// guide was made from, packed as zip: what a delivered unit was built from.
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
	Draft     bool   `json:"draft,omitempty"`     // made while somebody was watching, and given to nobody
	Language  string `json:"language"`
	Buyer     string `json:"buyer,omitempty"`
	Dealer    string `json:"dealer,omitempty"`

	Program string `json:"program"` // name and version
	Line    string `json:"line"`    // the line's id and version
	Inputs  Inputs `json:"inputs"`
	Proof   string `json:"proof,omitempty"` // digest of the proof that line and words passed; drafts may have none
	Print   Print  `json:"print"`

	// Content is the digest of all that the guide says, before it was laid
	// out: two guides with the same one say the same. Looks is the digest of
	// what they look like: style sheet, colors and logo.
	Content string      `json:"content"`
	Looks   string      `json:"looks"`
	Pages   int         `json:"pages"`    // of the printed guide
	Files   []Delivered `json:"files"`    // all but the record itself
	Kept    []Kept      `json:"kept"`     // guides of earlier revisions that stand below this one, the earliest first
	Notes   []Note      `json:"findings"` // warnings and notes

	// Unconfirmed is how many prescribed texts of the guide nobody had held
	// against the law in force.
	Unconfirmed int `json:"unconfirmed_texts,omitempty"`

	// SwitchedOff is what the maker left out that this unit would have, with the reason.
	SwitchedOff []SwitchedOff `json:"switched_off,omitempty"`

	Options []Option `json:"options"`
	Parts   []Part   `json:"parts"`
	Fitted  []Mark   `json:"fitted"`

	// Digest is the SHA-256 of the record as it is encoded without it. Since
	// the earlier revisions are named by the digest of their record, the record
	// in place holds all files below it.
	Digest string `json:"digest"`

	*Contents `json:"-"` // nil until they are read, from a file of their own

	// ByLine names figures that a later guide gives otherwise because the line is
	// another one. Who tells the changes since this record fills it in.
	ByLine []string `json:"-"`
}

// Promise names what was delivered under a revision letter: the words, the
// looks and the paper. A guide with another one is another guide.
func (r *Record) Promise() string {
	return Digest([]byte(strings.Join([]string{r.Content, r.Looks, r.Print.Paper}, " ")))
}

// Other says in what a guide differs from this one; empty when nowhere.
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

// Inputs are SHA-256 digests, in hexadecimal, of what a guide is made from.
type Inputs struct {
	Sheet     string `json:"sheet"`
	Line      string `json:"line"`
	Templates string `json:"templates"`
}

// Print says how the files were asked for.
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

// Kept is an earlier revision, whose guide was kept.
type Kept struct {
	Revision string `json:"revision"`
	SHA256   string `json:"sha256"` // of its record's file
}

// FileOf describes a file by its bytes.
func FileOf(name string, data []byte) Delivered {
	return Delivered{name, len(data), Digest(data)}
}

// Digest is the SHA-256 of some bytes in hexadecimal.
func Digest(data []byte) string {
	sum := sha256.Sum256(data)
	return hex.EncodeToString(sum[:])
}

// Note is a finding that did not stop the guide. The file is left out: it is
// the sheet, under whatever name, or the line.
type Note struct {
	Severity string `json:"severity"`
	Code     string `json:"code"`
	Line     int    `json:"line"`
	Message  string `json:"message"`
}

// Note takes down findings, in an order that hangs on what they say and not on
// how the files they are about are called.
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

// Mark is what was read off a part when it was bolted on.
type Mark struct {
	Place string `json:"place"`
	Kind  string `json:"kind"` // axle, tire or part
	Mark  string `json:"mark"` // serial number or tire date code
}
