package main

import (
	"html"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"ownerguide/spec/testenv"
)

// A buyer's name is data: markup, braces and Markdown in it stay what was
// typed, on screen and on paper. Were it parsed, a name could put words or
// figures into a guide.
func TestTextOfASheetStaysPlain(t *testing.T) {
	const name = `Ana <b>O'Neil</b> {wheels.torque} *x* [a](#tires) &amp; \{`
	sheet := filepath.Join(t.TempDir(), "nasty.yaml")
	text := strings.Join([]string{"serial: NASTY-1", "vin: 1B9TD2024VM000900", "model: tilt-20", "model_year: 2027",
		"built: 2026-11-12", "issued: 2026-11-20", "revision: A", "buyer:", "  name: >-", "    " + name, "notes: >-", "  " + name, ""}, "\n")
	if err := os.WriteFile(sheet, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	dir := writeAll(t, sheet)
	page, err := os.ReadFile(filepath.Join(dir, "NASTY-1", "guide.html"))
	if err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(string(page), html.EscapeString(name)) {
		t.Error("the page does not hold the name as typed")
	}
	file := filepath.Join(dir, "NASTY-1", "handover.pdf")
	papers := []string{""}
	for _, p := range readPDF(t, file).Pages() {
		papers[0] += p.Text(nil) + "\n"
	}
	if testenv.IsHeavy() {
		papers = append(papers, testenv.Tool(t, "pdftotext", "-raw", file, "-"))
	}
	for _, paper := range papers {
		if !strings.Contains(strings.Join(strings.Fields(paper), " "), name) {
			t.Error("the paper does not hold the name as typed")
		}
	}
}
