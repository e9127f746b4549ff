// Package record keeps what exactly was delivered with one unit, as data that
// other programs can read, and tells two such records apart.
//
// A record is made from a build, its values and its assembled guide; it holds
// no clock, no path of the machine it was made on and nothing that differs
// between two runs with the same inputs. The package reads and writes no file.
package record

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
)

// Format is the number of this shape of record; a program refuses a later one.
const Format = 1

// File is the name of the record itself.
const File = "record.json"

// Record is what was delivered with one unit.
type Record struct {
	Format    int    `json:"record"`
	Serial    string `json:"serial"`
	VIN       string `json:"vin"`
	Model     string `json:"model"`
	ModelName string `json:"model_name"`
	Maker     string `json:"maker"`
	Revision  string `json:"revision"`
	Issued    string `json:"issued"`              // ISO 8601 day
	Delivered string `json:"delivered,omitempty"` // ISO 8601 day; empty before delivery
	Language  string `json:"language"`
	Buyer     string `json:"buyer,omitempty"`
	Dealer    string `json:"dealer,omitempty"`

	Program string `json:"program"` // name and version
	Line    string `json:"line"`    // the line's id and version
	Inputs  Inputs `json:"inputs"`
	Print   Print  `json:"print"`

	// Content is the digest of all that the guide says, before it was laid
	// out: two guides with the same one say the same.
	Content string      `json:"content"`
	Pages   []string    `json:"pages"`    // digest of the words of each printed page
	Files   []Delivered `json:"files"`    // all but the record itself
	Notes   []Note      `json:"findings"` // warnings and notes

	Options  []Option  `json:"options"`
	Features []string  `json:"features"`
	Parts    []Part    `json:"parts"`
	Fitted   []Mark    `json:"fitted"`
	Values   []Value   `json:"values"`
	Cautions []Named   `json:"cautions"`
	Tasks    []Named   `json:"tasks"`
	Stops    []Named   `json:"stops"`
	Sections []Section `json:"sections"`
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

// Named is a caution, task or stop by its id, with its words in the guide's language.
type Named struct {
	ID   string `json:"id"`
	Text string `json:"text"`
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
	Text      string `json:"text"`
}

// Mark is what was read off a part when it was bolted on.
type Mark struct {
	Place string `json:"place"`
	Kind  string `json:"kind"` // axle, tire or part
	Mark  string `json:"mark"` // serial number or tire date code
}

// Section is one section of the guide: Page is where it begins, Blocks are the
// digests of what stands in it, subsections left out.
type Section struct {
	ID     string   `json:"id"`
	Level  int      `json:"level"`
	Title  string   `json:"title"`
	Page   int      `json:"page"`
	Blocks []string `json:"blocks"`
}

// SetPages takes down what was printed: the words of each page, and the page
// on which each section begins, by its id.
func (r *Record) SetPages(words []string, begins map[string]int) {
	r.Pages = nil
	for _, w := range words {
		r.Pages = append(r.Pages, Digest([]byte(w))[:16])
	}
	for i := range r.Sections {
		r.Sections[i].Page = begins[r.Sections[i].ID]
	}
}

// Encode gives the record as indented JSON with a line end.
func (r *Record) Encode() ([]byte, error) {
	data, err := json.MarshalIndent(r, "", " ")
	if err != nil {
		return nil, fmt.Errorf("record of %s: %w", r.Serial, err)
	}
	return append(data, '\n'), nil
}

// Decode reads a record. It is an error when the bytes are no record or one of a later shape.
func Decode(data []byte) (*Record, error) {
	var r Record
	if err := json.Unmarshal(data, &r); err != nil {
		return nil, fmt.Errorf("not a record: %w", err)
	}
	if r.Format < 1 || r.Format > Format {
		return nil, fmt.Errorf("not a record this program knows: shape %d, expected %d", r.Format, Format)
	}
	if r.Serial == "" || r.Revision == "" {
		return nil, fmt.Errorf("not a record: serial or revision is missing")
	}
	return &r, nil
}
