package pdftest

import (
	"bytes"
	"fmt"
	"strconv"
	"strings"
)

// lexer parses values of all of PDF, not only those gopdf writes.
type lexer struct {
	data []byte
	at   int
}

func (l *lexer) fail(format string, args ...any) {
	panic(fmt.Sprintf("at byte %d: %s", l.at, fmt.Sprintf(format, args...)))
}

func (l *lexer) white() {
	for l.at < len(l.data) && strings.IndexByte(" \n\r\t\f\x00", l.data[l.at]) >= 0 {
		l.at++
	}
}

func (l *lexer) take(s string) bool {
	if bytes.HasPrefix(l.data[l.at:], []byte(s)) {
		l.at += len(s)
		return true
	}
	return false
}

var escapes = map[byte]byte{'n': '\n', 'r': '\r', 't': '\t', 'b': '\b', 'f': '\f', '(': '(', ')': ')', '\\': '\\'}

// word reads up to white space or a delimiter.
func (l *lexer) word() string {
	start := l.at
	for l.at < len(l.data) && strings.IndexByte(" \n\r\t\f\x00()<>[]{}/%", l.data[l.at]) < 0 {
		l.at++
	}
	return string(l.data[start:l.at])
}

// number parses a number, or a reference, which begins with one.
func (l *lexer) number() any {
	word := l.word()
	v, err := strconv.ParseFloat(word, 64)
	if err != nil {
		l.fail("word %q", word)
	}
	after := l.at
	if n, err := strconv.ParseUint(word, 10, 31); err == nil && l.take(" ") {
		generation := l.word()
		if _, err := strconv.ParseUint(generation, 10, 16); err == nil && l.take(" ") && l.word() == "R" {
			return Ref(n)
		}
	}
	l.at = after
	return v
}

func (l *lexer) value() any {
	l.white()
	switch {
	case l.take("<<"):
		d := Dict{}
		for l.white(); !l.take(">>"); l.white() {
			key, ok := l.value().(Name)
			if _, twice := d[string(key)]; !ok || twice {
				l.fail("key %q", key)
			}
			d[string(key)] = l.value()
		}
		return d
	case l.take("["):
		list := []any{}
		for l.white(); !l.take("]"); l.white() {
			list = append(list, l.value())
		}
		return list
	case l.take("<"):
		hex, rest, _ := bytes.Cut(l.data[l.at:], []byte(">"))
		l.at = len(l.data) - len(rest)
		var s []byte
		for i := 0; i+1 < len(hex); i += 2 {
			b, err := strconv.ParseUint(string(hex[i:i+2]), 16, 8)
			if err != nil {
				l.fail("hex %q", hex)
			}
			s = append(s, byte(b))
		}
		return string(s)
	case l.take("("):
		return l.literal()
	case l.take("/"):
		return Name(l.word())
	case l.take("true"):
		return true
	case l.take("false"):
		return false
	case l.take("null"):
		return nil
	}
	return l.number()
}

func (l *lexer) literal() string {
	var s []byte
	for depth := 1; ; l.at++ {
		c := l.data[l.at]
		switch {
		case c == '\\' && l.data[l.at+1] >= '0' && l.data[l.at+1] <= '7':
			v, _ := strconv.ParseUint(string(l.data[l.at+1:l.at+4]), 8, 8)
			s = append(s, byte(v))
			l.at += 3
			continue
		case c == '\\':
			l.at++
			s = append(s, escapes[l.data[l.at]])
			continue
		case c == '(':
			depth++
		case c == ')':
			if depth--; depth == 0 {
				l.at++
				return string(s)
			}
		}
		s = append(s, c)
	}
}

// Value parses one value.
func Value(written string) any { return (&lexer{data: []byte(written)}).value() }
