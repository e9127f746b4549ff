package main

import (
	"os"
	"path/filepath"
	"regexp"
	"testing"
)

var (
	idAttribute  = regexp.MustCompile(` id="([^"]+)"`)
	internalHref = regexp.MustCompile(` href="#([^"]+)"`)
	anyAddress   = regexp.MustCompile(`(?:src|href)="([^"#][^"]*)"`)
	allowed      = regexp.MustCompile(`^(https:|tel:\+?[0-9]+$|mailto:[^ @]+@[^ @]+$)`)
)

// Every anchor of a page is there once, every internal link finds one, and a
// page is small enough for a phone on a bad line.
func TestPagesHoldTogether(t *testing.T) {
	dir := demo.guides(t)
	pages, _ := filepath.Glob(filepath.Join(dir, "*", "guide.html"))
	for _, name := range pages {
		page, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		unit := filepath.Base(filepath.Dir(name))
		ids := map[string]bool{}
		for _, m := range idAttribute.FindAllSubmatch(page, -1) {
			if ids[string(m[1])] {
				t.Errorf("%s: two elements have the id %s", unit, m[1])
			}
			ids[string(m[1])] = true
		}
		links := internalHref.FindAllSubmatch(page, -1)
		for _, m := range links {
			if !ids[string(m[1])] {
				t.Errorf("%s: a link to #%s leads nowhere", unit, m[1])
			}
		}
		if len(links) < 50 {
			t.Errorf("%s: only %d links", unit, len(links))
		}
		for _, m := range anyAddress.FindAllSubmatch(page, -1) {
			if allowed.Match(m[1]) {
				continue
			}
			if _, err := os.Stat(filepath.Join(filepath.Dir(name), filepath.Base(string(m[1])))); err != nil {
				t.Errorf("%s: address %s: %v", unit, m[1], err)
			}
		}
		if len(page) > 600_000 {
			t.Errorf("%s: the page has %d bytes", unit, len(page))
		}
	}
}
