package proof_test

import (
	"fmt"
	"maps"
	"regexp"
	"slices"
	"strings"
)

var (
	counted = regexp.MustCompile(`\bcount: ([2-9]|[1-9][0-9])\b`)
	gauged  = regexp.MustCompile(`\bwire_gauge: ([0-9/]+)`)
	sized   = regexp.MustCompile(`\b([a-z_]+): ([0-9][0-9,.]*) (?:in|ft|lb|lb/ft³|deg|min|percent|mm²/s)\b`)
	due     = regexp.MustCompile(`\b(distance|months|loads|motor_hours): ([0-9]+)\b`)
	placed  = regexp.MustCompile(`\bat: \{ x: (-?[0-9.]+) in`)
	fitted  = regexp.MustCompile(`(?m)^ +[a-z0-9-]+: \{ use: [^\n]*\n`)
	ofParts = regexp.MustCompile(`\b(?:` + ratingKeys + `|x|y|z)$`)
)

// words that stand for another part or another way, and what a slip makes of them.
var swaps = [][2]string{
	{"acting: double", "acting: single"}, {"acting: single", "acting: double"}, {"holding_valve: counterbalance", "holding_valve: none"},
	{"holding_valve: hose-break", "holding_valve: none"}, {"manual_lowering: hand-pump", "manual_lowering: screw"}, {"manual_lowering: lever", "manual_lowering: none"},
	{"kind: agm", "kind: flooded"}, {"kind: flooded", "kind: agm"}, {"rope: wire", "rope: synthetic"}, {"rope: synthetic", "rope: wire"},
	{"master_disconnect: true", "master_disconnect: false"}, {"empty_only: true", "empty_only: false"}, {"dual: true", "dual: false"}, {"for_dual: true", "for_dual: false"},
	{"brakes: disc", "brakes: drum"}, {"brakes: drum", "brakes: disc"}, {"kind: surge", "kind: electric-over-hydraulic"}, {"form: disc", "form: drum"}, {"form: drum", "form: disc"},
	{"reverse: solenoid", "reverse: pin"}, {"stow: stand-up", "stow: slide-in"}, {"gate: true", "gate: false"}, {"clamping_ring: true", "clamping_ring: false"},
	{"bearings: ported", "bearings: sealed"}, {"bearings: repack", "bearings: sealed"}, {"suspension: leaf", "suspension: torsion"}, {"grade: 70", "grade: 30"}, {"edge_roller: true", "edge_roller: false"},
	{"function: brake", "function: charge"}, {"function: charge", "function: reverse"}, {"color: red, count", "color: amber, count"}, {"kind: low-chassis", "kind: guard"},
}

// lineFaults are slips of whoever writes a line, one at a time: one thing of several
// left out, a thinner wire, another kind, half and twice a size, care ten times rarer, a part in
// another place or forgotten.
func (b *bench) lineFaults() (all []fault) {
	for _, name := range slices.Sorted(maps.Keys(b.line)) {
		if !strings.HasPrefix(name, "components/") && !strings.HasPrefix(name, "models/") && name != "line.yaml" {
			continue
		}
		text := string(b.line[name].Data)
		add := func(kind string, from, to int, put string) {
			row := strings.TrimSpace(text[strings.LastIndexByte(text[:from], '\n')+1 : from+strings.IndexByte(text[from:]+"\n", '\n')])
			all = append(all, fault{kind: kind, what: fmt.Sprintf("%s: %s for %s in %s %s", name, put, strings.TrimSpace(text[from:to]), entryAt(text, from), row[:min(len(row), 50)]),
				line: map[string]string{name: text[:from] + put + text[to:]}, components: b.family(name, from), figures: true})
		}
		for _, m := range counted.FindAllStringSubmatchIndex(text, -1) {
			var n int
			fmt.Sscan(text[m[2]:m[3]], &n)
			add("one less", m[2], m[3], fmt.Sprint(n-1))
		}
		for _, m := range gauged.FindAllStringSubmatchIndex(text, -1) {
			thinner := map[string]string{"2/0": "2", "1/0": "4", "8": "12", "10": "14", "12": "16", "14": "18"}
			if put := thinner[text[m[2]:m[3]]]; put != "" {
				add("wire thinner", m[2], m[3], put)
			}
		}
		for _, m := range sized.FindAllStringSubmatchIndex(text, -1) {
			key, row := text[m[2]:m[3]], text[strings.LastIndexByte(text[:m[0]], '\n')+1:m[0]]
			if ofParts.MatchString(key) || strings.Contains(row, "#") || strings.Contains(row, "size: {") {
				continue // a rating, or no more than a place in the pictures
			}
			var x float64
			fmt.Sscan(strings.ReplaceAll(text[m[4]:m[5]], ",", ""), &x)
			for _, by := range []float64{0.5, 2} {
				add(fmt.Sprintf("size times %g", by), m[4], m[5], fmt.Sprint(x*by))
			}
		}
		for _, m := range due.FindAllStringSubmatchIndex(text, -1) {
			add("care ten times rarer", m[5], m[5], "0")
		}
		for _, m := range placed.FindAllStringSubmatchIndex(text, -1) {
			var x float64
			fmt.Sscan(text[m[2]:m[3]], &x)
			add("part moved", m[2], m[3], fmt.Sprint(x+100))
		}
		for _, m := range fitted.FindAllStringIndex(text, -1) {
			if strings.HasPrefix(name, "models/") {
				add("part left out", m[0], m[1], "")
			}
		}
		for _, s := range swaps {
			for at := 0; ; {
				i := strings.Index(text[at:], s[0])
				if i < 0 {
					break
				}
				add("another kind", at+i, at+i+len(s[0]), s[1])
				at += i + len(s[0])
			}
		}
	}
	return all
}

// family returns the component at a place of a file with all that extend it; nil outside of components.
func (b *bench) family(name string, at int) map[string]bool {
	text := string(b.line[name].Data)
	if !strings.HasPrefix(name, "components/") {
		return nil
	}
	of := map[string]bool{entryAt(text, at): true}
	for range strings.Count(text, "extends: ") { // as deep as it can go
		for _, m := range regexp.MustCompile(`(?m)\bextends: ([a-z0-9-]+)`).FindAllStringSubmatchIndex(text, -1) {
			of[entryAt(text, m[0])] = of[entryAt(text, m[0])] || of[text[m[2]:m[3]]]
		}
	}
	return of
}

// entryAt names the entry that a place of a file belongs to: a component, an option.
func entryAt(text string, at int) string {
	heads := regexp.MustCompile(`(?m)^  ([a-z0-9-]+):`).FindAllStringSubmatch(text[:at], -1)
	if len(heads) == 0 {
		return "its head"
	}
	return heads[len(heads)-1][1]
}
