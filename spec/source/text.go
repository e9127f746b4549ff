package source

import (
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"
)

// Codes of the findings about texts.
var (
	codeTextEmpty     = codes.Error("text-empty", "an entry with nothing in it would leave a hole in the guide")
	codeTextControl   = codes.Error("text-control", "control characters and line breaks can hide or split what the guide and its mail say")
	codeTextDirection = codes.Error("text-direction", "characters that turn the reading direction can make a figure read backwards")
	codeTextLong      = codes.Error("text-too-long", "text far longer than its place pushes the cautions off the page")
)

// BaseLanguage is the language in which lines and templates must be complete. It is also
// the language of a guide whose sheet names none.
const BaseLanguage = "en"

// ValidLanguage reports whether a text is a language tag, with or without script and
// region (RFC 5646, from memory).
func ValidLanguage(tag string) bool { return languageTag().MatchString(tag) }

var languageTag = Pattern(`^[a-z]{2,3}(?:-[A-Z][a-z]{3})?(?:-(?:[A-Z]{2}|[0-9]{3}))?$`)

// Composed returns text in Unicode's form NFC, with precomposed letters as in a
// typeface: some computers write é as e and a combining mark, which would print over
// the next letter.
func Composed(text string) string { return norm.NFC.String(text) }

// Unmarked returns a letter without its diacritics: e for é.
func Unmarked(letter rune) rune {
	plain, _ := utf8.DecodeRuneInString(norm.NFD.String(string(letter)))
	return plain
}

// TextLimit is the limit on a text: its length in characters, and whether it may have
// line breaks and tabs.
type TextLimit struct {
	Characters int
	Lines      bool
}

// CheckTexts checks every scalar of a file, whether its key is known or not: text from
// a file is printed in the guide and put in a mail. The limit depends on the path.
func CheckTexts(n *Node, limit func(path string) TextLimit) (findings Findings) {
	for _, e := range n.Keys {
		findings.Add(CheckTexts(e.Value, limit)...)
	}
	for _, item := range n.Items {
		findings.Add(CheckTexts(item, limit)...)
	}
	if n.Kind == Scalar && !n.Null {
		findings.Add(checkText(n, limit(n.Path))...)
	}
	return findings
}

func checkText(n *Node, limit TextLimit) (findings Findings) {
	add := func(f Finding) { findings.Add(f.WithPath(n.Path)) }
	if length := utf8.RuneCountInString(n.Text); length > limit.Characters {
		add(codeTextLong.At(n.At, "%s has %d characters; at most %d have room", n.Path, length, limit.Characters))
		return findings
	}
	blank := true
	for _, c := range n.Text {
		blank = blank && unicode.IsSpace(c)
		switch {
		case limit.Lines && (c == '\n' || c == '\t'):
		case turnsDirection(c):
			add(codeTextDirection.At(n.At, "%s holds U+%04X, which turns the reading direction", n.Path, c).WithHint("delete the character"))
			return findings
		case isHidden(c):
			add(codeTextControl.At(n.At, "%s holds the control character U+%04X", n.Path, c).WithHint("delete the character; only notes may have line breaks"))
			return findings
		}
	}
	if blank {
		add(codeTextEmpty.At(n.At, "%s is empty; expected a text", n.Path).WithHint("write the text, or leave the key out"))
	}
	return findings
}

// turnsDirection reports whether a character overrides, embeds or isolates a reading
// direction (Unicode Standard Annex 9, section 2). The marks U+200E, U+200F and
// U+061C are harmless.
func turnsDirection(c rune) bool {
	return '\u202a' <= c && c <= '\u202e' || '\u2066' <= c && c <= '\u2069'
}

// isHidden reports whether a character is a control character, a separator that breaks
// a line invisibly, or a noncharacter.
func isHidden(c rune) bool {
	return unicode.IsControl(c) || c == '\u2028' || c == '\u2029' || c == '\ufeff' || c&0xfffe == 0xfffe || '\ufdd0' <= c && c <= '\ufdef'
}
