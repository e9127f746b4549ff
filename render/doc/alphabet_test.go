package doc

import (
	"slices"
	"strings"
	"testing"
)

// Titles are filed as a dictionary of the language has them (the order of letters is that of
// the Spanish and Swedish alphabets, from memory).
func TestAlphabet(t *testing.T) {
	for alphabet, want := range map[Alphabet]string{
		"abcdefghijklmnñopqrstuvwxyz":     "12 V, Aceite, África, Azul, Niple, Nudo, Ñandú, Óxido, Zapata",
		"abcdefghijklmnopqrstuvwxyzåäö":   "Axel, Hjul, Ventil, Åska, Ängel, Öra",
		"abcdefghijklmnopqrstuvwxyz":      "2-inch ball, Ball, Élan, Empty",
		"абвгдеёжзийклмнопрстуфхцчшщъыьэ": "Диск, Ёмкость, Йод",
	} {
		titles := strings.Split(want, ", ")
		slices.Reverse(titles)
		titles = Sorted(alphabet, titles, func(title string) string { return title })
		if got := strings.Join(titles, ", "); got != want {
			t.Errorf("%s: %s, want %s", alphabet, got, want)
		}
	}
	spanish := Alphabet("abcdefghijklmnñopqrstuvwxyz")
	if spanish.Letter("África") != "A" || spanish.Letter("ñandú") != "Ñ" || spanish.Letter("12 V") != "1" {
		t.Error("filed under another letter")
	}
}
