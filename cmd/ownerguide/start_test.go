package main

import (
	"testing"

	"ownerguide/render"
	"ownerguide/spec"
	"ownerguide/spec/line"
)

// BenchmarkLoadTemplates and BenchmarkLoadLine read what is in the program, as
// each process does once.
func BenchmarkLoadTemplates(b *testing.B) {
	for b.Loop() {
		if t, _ := render.LoadTemplates(embeddedLayer); t == nil {
			b.Fatal("no templates")
		}
	}
}

func BenchmarkLoadLine(b *testing.B) {
	for b.Loop() {
		if l, findings := spec.LoadLine(line.Files, embeddedLine); l == nil {
			b.Fatal(findings)
		}
	}
}

func BenchmarkCheckAgainst(b *testing.B) {
	t, _ := render.LoadTemplates(embeddedLayer)
	l, _ := spec.LoadLine(line.Files, embeddedLine)
	for b.Loop() {
		t.CheckAgainst(l)
	}
}

func BenchmarkCheckSheet(b *testing.B) {
	m := loaded(b)
	sheets, _ := readSheets([]string{"../../testdata/sheets/BW-27-0142.yaml"}, nil)
	for b.Loop() {
		m.check(sheets)
	}
}
