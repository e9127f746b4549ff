// Package vin parses vehicle identification numbers of trailers as defined by 49 CFR
// 565: seventeen characters, a check digit in position 9, the model year in position
// 10 and, for a small maker, the second half of the maker's identifier in positions
// 12 to 14.
//
// It returns the parts of a number, and the position of an error in a mistyped one.
// It never looks up a maker, and never guesses or corrects a character: a recall
// reaches the owner through this number, so a person must see a wrong one.
//
// Terms: a position counts characters from 1, as in the regulation. The WMI is the
// world manufacturer identifier in positions 1 to 3. The descriptor is the second
// section, positions 4 to 8, in which the maker encodes the model.
package vin

import (
	"fmt"
	"strings"
)

// length is the number of characters in every number (49 CFR 565.13(b)).
const length = 17

// Positions of single characters, counted from 1 (49 CFR 565.15(c) and (d)).
const (
	checkPosition = 9
	yearPosition  = 10
	tailPosition  = 14 // for trailers, digits only from here to the end
)

// yearCodes are the model-year codes in the order of Table VII of 49 CFR
// 565.15(d)(1); the first stands for 1980 and again for 2010. I, O, Q, U, Z and
// 0 are not used.
const yearCodes = "ABCDEFGHJKLMNPRSTVWXY123456789"

// The range of the two 30-year cycles named in the note to Table VII.
const (
	firstYear = 1980
	lastYear  = 2039
)

// weights are the position weight factors of Table IV of 49 CFR 565.15(c)(2);
// the weight of the check digit itself is 0.
var weights = [length]int{8, 7, 6, 5, 4, 3, 2, 10, 0, 9, 8, 7, 6, 5, 4, 3, 2}

// Reason is the way in which a text is not a valid number.
type Reason int

// The reasons, in the order in which Parse checks them. A later one would often be
// a consequence of an earlier one, so only the first is reported.
const (
	WrongLength     Reason = iota + 1 // not seventeen characters
	ForbiddenLetter                   // I, O or Q, which are mistaken for 1 and 0
	WrongCharacter                    // neither a digit nor a capital letter
	NoYearCode                        // position 10 holds no model-year code
	TailNotNumeric                    // a letter in the last four positions
	WrongCheckDigit                   // position 9 does not match the other characters
)

// Error is the first error in a text.
type Error struct {
	Reason   Reason
	Position int    // the character at fault, from 1; for WrongLength the first one missing or too many
	Found    string // the character there, or the length found
	Expected string // what is expected there, in words or as the check digit
}

// Error returns what was found and what was expected.
func (e *Error) Error() string {
	switch e.Reason {
	case WrongLength:
		return fmt.Sprintf("vin has %s characters, expected %s", e.Found, e.Expected)
	case WrongCheckDigit:
		return fmt.Sprintf("check digit in position %d of the vin is %q, the other characters give %q",
			e.Position, e.Found, e.Expected)
	default:
		return fmt.Sprintf("position %d of the vin is %q, expected %s", e.Position, e.Found, e.Expected)
	}
}

// VIN is a valid vehicle identification number, made only by Parse. The parts of the
// zero VIN are empty.
type VIN struct{ text string }

// Parse parses a vehicle identification number. The error is an *Error if text is
// not seventeen digits and capital letters other than I, O and Q, if position 10
// is not a model-year code, if the last four characters are not digits, or if the
// check digit is wrong.
// Source: 49 CFR 565.13 (length, characters; from memory) and 565.15(c), (d).
func Parse(text string) (VIN, error) {
	characters := []rune(text)
	if err := checkCharacters(characters, false); err != nil {
		return VIN{}, err
	}
	if c := text[yearPosition-1]; strings.IndexByte(yearCodes, c) < 0 {
		return VIN{}, &Error{NoYearCode, yearPosition, string(c),
			"a model-year code, a digit 1-9 or a letter without I, O, Q, U and Z"}
	}
	for i := tailPosition - 1; i < length; i++ {
		if text[i] > '9' {
			return VIN{}, &Error{TailNotNumeric, i + 1, string(text[i]), "a digit, as in the last four positions of every trailer"}
		}
	}
	if found, expected := text[checkPosition-1], digitOf(weightedSum(characters)); found != expected {
		return VIN{}, &Error{WrongCheckDigit, checkPosition, string(found), string(expected)}
	}
	return VIN{text}, nil
}

// CheckDigit returns the character, 0 to 9 or X, that belongs in position 9 of
// text: the weighted sum of all other characters modulo 11, with X for 10. The
// character in position 9 is ignored. The error is an *Error if text is not
// seventeen characters long or another position has a character not allowed in a VIN.
// Source: 49 CFR 565.15(c), Tables III to V. The integer remainder is used:
// Table V prints 0.634 for 7/11, which is 0.636.
func CheckDigit(text string) (byte, error) {
	characters := []rune(text)
	if err := checkCharacters(characters, true); err != nil {
		return 0, err
	}
	return digitOf(weightedSum(characters)), nil
}

// YearCode returns the character for position 10 that stands for a model year
// from 1980 to 2039, and an error for any other year.
// Source: 49 CFR 565.15(d)(1), Table VII (2005 to 2039) and its note; the codes
// of 1980 to 2004 follow from the 30-year cycle.
func YearCode(year int) (byte, error) {
	if year < firstYear || year > lastYear {
		return 0, fmt.Errorf("model year %d has no code, expected %d to %d", year, firstYear, lastYear)
	}
	return yearCodes[(year-firstYear)%len(yearCodes)], nil
}

// WMI returns positions 1 to 3, the world manufacturer identifier.
func (v VIN) WMI() string { return v.positions(1, 3) }

// Descriptor returns positions 4 to 8, which encode make, type, body, length and
// axles of a trailer in the maker's own code (49 CFR 565.15(b), Table I).
func (v VIN) Descriptor() string { return v.positions(4, 8) }

// YearCode returns position 10, or 0 for the zero VIN.
func (v VIN) YearCode() byte {
	if v.text == "" {
		return 0
	}
	return v.text[yearPosition-1]
}

// SmallMaker returns positions 12 to 14 and true if the third character is 9:
// only then do they belong to the maker's identifier.
// Source: 49 CFR 565.15(a) and (d)(3).
func (v VIN) SmallMaker() (id string, ok bool) {
	if v.positions(3, 3) != "9" {
		return "", false
	}
	return v.positions(12, 14), true
}

// positions returns the characters of a range of positions, both ends included.
func (v VIN) positions(from, to int) string {
	if v.text == "" {
		return ""
	}
	return v.text[from-1 : to]
}

// checkCharacters reports a wrong length or the first character not allowed in a VIN.
// It can skip the position of the check digit.
func checkCharacters(characters []rune, skipCheckDigit bool) error {
	if n := len(characters); n != length {
		return &Error{WrongLength, min(n, length) + 1, fmt.Sprint(n), fmt.Sprint(length)}
	}
	for i, c := range characters {
		if skipCheckDigit && i == checkPosition-1 {
			continue
		}
		switch _, ok := valueOf(c); {
		case ok:
		case strings.ContainsRune("IOQ", c):
			return &Error{ForbiddenLetter, i + 1, string(c), "no letter I, O or Q, which are taken for 1 and 0"}
		default:
			return &Error{WrongCharacter, i + 1, string(c), "a digit or a capital letter"}
		}
	}
	return nil
}

// valueOf returns the assigned value of a character (49 CFR 565.15(c)(1),
// Table III), and false for a character not allowed in a VIN.
func valueOf(c rune) (int, bool) {
	const letters, values = "ABCDEFGHJKLMNPRSTUVWXYZ", "12345678123457923456789"
	if '0' <= c && c <= '9' {
		return int(c - '0'), true
	}
	i := strings.IndexRune(letters, c)
	if i < 0 {
		return 0, false
	}
	return int(values[i] - '0'), true
}

// weightedSum returns the sum of value times weight over all positions (49 CFR 565.15(c)(3)).
// The characters must have been checked; the weight of the check digit is 0.
func weightedSum(characters []rune) int {
	sum := 0
	for i, c := range characters {
		value, _ := valueOf(c)
		sum += weights[i] * value
	}
	return sum
}

// digitOf returns the check digit for a weighted sum (49 CFR 565.15(c)(4)).
func digitOf(sum int) byte { return "0123456789X"[sum%11] }
