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
	Earlier  int               // revisions before this one
	Issued   string            // ISO 8601 day; dates the PDF
	IssuedOn string            // the same as the language writes it
	Draft    string            // what stands on every page of a draft; empty in a guide that may be handed over
	Notice   string            // the maker's notice, such as "invented for demonstration"; may be empty
	Words    map[string]string // the readers' own words in the guide's language: see [ReaderWords]
	Plurals  Plurals           // how the language tells counts apart
	Alphabet Alphabet          // the order of its letters
	Sections []*Section        // the chapters, in order
	Field    Ink               // colour of the cover's field and of the bar atop a screen; None leaves it to the reader
	OnField  Ink               // of the words on it
	Card     *Guide            // the half-sheet card, a document of its own without links into this one; may be nil
	Leaf     *Guide            // the leaf that is signed at the hand-over, likewise; may be nil
	Mail     *Guide            // the text of the mail this one is sent with, likewise; its title is the subject; may be nil
	Unit     string            // names the unit among those of all makers
	Visits   []Visit           // the dated schedule, for a calendar; none when the unit has no dates
	Picture  *Drawing          // the unit from its left, for the top of a screen; nil in a document for the engineer
	Contacts []Contact         // whom the owner can call, the nearest first; none in a document for the engineer
}

// Join joins words by a language's pattern of two, such as "{a}, {b}", from the left.
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

// FirstUnit parts a figure, written by the pattern [BothUnits] of its language, into what stands in the first unit and the rest. All
// of a text that is not written so is the first.
func FirstUnit(pattern, text string) (first, rest string) {
	behind, begins := strings.CutPrefix(pattern, "{first}")
	sign, _, _ := strings.Cut(behind, "{second}")
	if !begins || sign == "" {
		return text, ""
	}
	for _, space := range []string{" ", "\u00a0"} { // no line may end at the space of a figure in a table
		if at := strings.Index(text, strings.ReplaceAll(sign, " ", space)); at >= 0 {
			return text[:at], strings.TrimPrefix(text[at:], space)
		}
	}
	return text, ""
}

// Fill puts words into a pattern's braces: name, word, name, word. Braces in a word stay as they are, as do those of other names.
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

// Visit is one day of the dated schedule, in the words of the guide.
type Visit struct {
	UID   string // unique among all units, and the same in every revision of this one
	Date  string // ISO 8601 day
	Day   string // the same as the guide's language writes it
	Gone  bool   // an earlier revision had it, this one has not
	Title string
	Jobs  []string // what is due, with its figures
	Notes []string // how far the unit has come by then, where the steps stand, whom to call
}

// Contact is somebody the owner can call or write to.
type Contact struct {
	Who   string // what they are to the owner, in the guide's language
	Name  string
	Phone string // as printed; may be empty
	Mail  string // address; may be empty
}

// ReaderWords are the ids a reader may look up in Guide.Words; labels.yaml of
// each language has them all.
var ReaderWords = []string{
	"page", "page-of", // "page {n}", "{n} of {total}": the reader fills in the braces
	"contents", "skip-to-text", "back-to-contents", "serial", "revision", "see-page", // "(page {n})" behind a link
	"list.comma", "list.colon", BothUnits, "link-page", "cover-revision", "unit-revision", "file-title",
	"figure", "to-fill-in", "changed", "draft", "draft-unproved", "date",
	"screen.start", "screen.bar", "screen.numbers", "screen.number", "screen.next", "screen.then", "screen.jobs", "screen.late", "screen.checks", "screen.ticks", "screen.points",
	"screen.points-where", "screen.by-sign", "screen.wrong", "screen.at-hand", "screen.trouble", "screen.signs", "screen.call", "screen.serial-ready", "screen.hurt", "screen.emergency-number",
	"screen.mail", "screen.find", "screen.find-example", "screen.found", "screen.not-found", "screen.little", "screen.endings", "screen.alike", "screen.index", "screen.files", "screen.paper",
	"screen.card", "screen.leaf", "screen.calendar", "screen.kept", "screen.not-kept", "screen.clear", "screen.print",
}
