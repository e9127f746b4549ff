package doc

import "strings"

// Guide is the assembled guide of one unit.
type Guide struct {
	Lang     string // BCP 47, such as "en"
	Title    string // of the document: model and "owner guide"
	Maker    string
	Model    string
	Serial   string
	VIN      string
	Revision string
	Earlier  int               // number of earlier revisions
	Issued   string            // ISO 8601 day; date of the PDF
	IssuedOn string            // the same in the notation of the language
	Draft    string            // the text on every page of a draft; empty in a guide that may be handed over
	Notice   string            // the maker's notice, such as "invented for demonstration"; may be empty
	Words    map[string]string // the readers' own words in the guide's language: see [ReaderWords]
	Plurals  Plurals           // plural rules of the language
	Alphabet Alphabet          // the order of its letters
	Sections []*Section        // the chapters, in order
	Index    []Indexed         // all that an index can list; nil if it is still to be made
	Field    Ink               // color of the cover's field and of the bar at the top of a screen; None leaves it to the reader
	OnField  Ink               // color of the words on it
	Card     *Guide            // the half-sheet card, a separate document without links into this one; may be nil
	Leaf     *Guide            // the leaf signed at the hand-over, likewise; may be nil
	Mail     *Guide            // the text of the mail this one is sent with, likewise; its title is the subject; may be nil
	Unit     string            // identifies the unit among those of all makers
	Visits   []Visit           // the dated schedule, for a calendar; empty if the unit has no dates
	Picture  *Drawing          // the unit from its left, for the top of a screen; nil in a document for the engineer
	Contacts []Contact         // whom the owner can call, the nearest first; empty in a document for the engineer
}

// Join joins items from the left by a language's pattern for two, such as "{a}, {b}".
func Join(pattern string, items ...string) (joined string) {
	for i, item := range items {
		if i == 0 {
			joined = item
			continue
		}
		joined = Fill(pattern, "a", joined, "b", item)
	}
	return joined
}

// BothUnits is the id of the pattern for a figure in two systems of units, such as "{first} ({second})".
const BothUnits = "number.both"

// FirstUnit splits a figure, written with the pattern [BothUnits] of its language, into the first unit and the rest. A
// text that does not match the pattern is returned as first.
func FirstUnit(pattern, text string) (first, rest string) {
	behind, begins := strings.CutPrefix(pattern, "{first}")
	sign, _, _ := strings.Cut(behind, "{second}")
	if !begins || sign == "" {
		return text, ""
	}
	for _, space := range []string{" ", "\u00a0"} { // figures in tables have no-break spaces
		if at := strings.Index(text, strings.ReplaceAll(sign, " ", space)); at >= 0 {
			return text[:at], strings.TrimPrefix(text[at:], space)
		}
	}
	return text, ""
}

// Fill replaces placeholders in a pattern: name, word, name, word. Braces in a word and other placeholders are unchanged.
func Fill(pattern string, words ...string) string {
	var out strings.Builder
	rest := pattern
	for {
		open := strings.IndexByte(rest, '{')
		if open < 0 {
			break
		}
		name, after, closed := strings.Cut(rest[open+1:], "}")
		at := -1
		for i := 0; closed && i+1 < len(words) && at < 0; i += 2 {
			if words[i] == name {
				at = i + 1
			}
		}
		if at < 0 {
			out.WriteString(rest[:open+1])
			rest = rest[open+1:]
			continue
		}
		out.WriteString(rest[:open])
		out.WriteString(words[at])
		rest = after
	}
	if rest == pattern {
		return pattern
	}
	out.WriteString(rest)
	return out.String()
}

// Visit is one day of the dated schedule, in the guide's language.
type Visit struct {
	UID   string // unique among all units, and the same in every revision of this one
	Date  string // ISO 8601 day
	Day   string // the same in the notation of the guide's language
	Gone  bool   // an earlier revision has it, this one does not
	Title string
	Jobs  []string // what is due, with its figures
	Notes []string // the expected distance by then, where the steps are, whom to call
}

// Contact is a person or company the owner can call or write to.
type Contact struct {
	Who   string // what they are to the owner, in the guide's language
	Name  string
	Phone string // as printed; may be empty
	Mail  string // address; may be empty
}

// ReaderWords are the keys a reader may look up in Guide.Words; labels.yaml of
// each language has all of them.
var ReaderWords = []string{
	"page", "page-of", // "page {n}", "{n} of {total}": the reader fills in the placeholders
	"contents", "skip-to-text", "back-to-contents", "serial", "revision", "see-page", // "(page {n})" after a link
	"list.comma", "list.colon", BothUnits, "link-page", "cover-revision", "unit-revision", "file-title",
	"figure", "to-fill-in", "changed", "draft", "draft-unproved", "date",
	"screen.start", "screen.bar", "screen.numbers", "screen.number", "screen.next", "screen.then", "screen.jobs", "screen.late", "screen.checks", "screen.ticks", "screen.points",
	"screen.points-where", "screen.by-sign", "screen.wrong", "screen.at-hand", "screen.trouble", "screen.signs", "screen.call", "screen.serial-ready", "screen.hurt", "screen.emergency-number",
	"screen.mail", "screen.find", "screen.find-example", "screen.found", "screen.not-found", "screen.little", "screen.endings", "screen.alike", "screen.index", "screen.files", "screen.paper",
	"screen.card", "screen.leaf", "screen.calendar", "screen.kept", "screen.not-kept", "screen.clear", "screen.print",
}
