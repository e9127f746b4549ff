package html

import (
	"fmt"
	"math"
	"os"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// rootRule finds the variables of a style sheet, media by media.
var rootRule = regexp.MustCompile(`(?s)(@media [^{]*\{\s*)?:root \{(.*?)\}`)

var variable = regexp.MustCompile(`--([a-z-]+): (#[0-9a-f]{3,6});`)

// luminance is the relative luminance of a color such as #1b1d1f, from 0 to 1. Source: WCAG 2.2, "relative luminance".
func luminance(t *testing.T, color string) float64 {
	t.Helper()
	hex := strings.TrimPrefix(color, "#")
	if len(hex) == 3 {
		hex = fmt.Sprintf("%[1]c%[1]c%[2]c%[2]c%[3]c%[3]c", hex[0], hex[1], hex[2])
	}
	sum := 0.0
	for i, weight := range []float64{0.2126, 0.7152, 0.0722} {
		v, err := strconv.ParseUint(hex[2*i:2*i+2], 16, 8)
		if err != nil {
			t.Fatalf("%q is no color", color)
		}
		c := float64(v) / 255
		if c <= 0.04045 {
			c /= 12.92
		} else {
			c = math.Pow((c+0.055)/1.055, 2.4)
		}
		sum += weight * c
	}
	return sum
}

// On a phone in the sun, on a dark screen at night and from a black-and-white printer every pair of colors that belongs together must
// be told apart by its lightness alone. Limits: WCAG 2.2, success criteria 1.4.3 (text 4.5 to 1), 1.4.6 (running text 7 to 1) and 1.4.11
// (lines of drawings and controls 3 to 1).
func TestColorsCanBeToldApart(t *testing.T) {
	css, err := os.ReadFile("../../templates/style.css")
	if err != nil {
		t.Fatal(err)
	}
	pairs := []struct {
		ink, ground string
		least       float64
	}{
		{"ink", "paper", 7}, {"ink", "tint", 7}, {"soft", "paper", 4.5}, {"accent", "paper", 4.5}, {"focus", "paper", 3},
		{"danger-text", "danger", 4.5}, {"warning-text", "warning", 4.5}, {"caution-text", "caution", 4.5}, {"notice-text", "notice", 4.5},
		{"ink-full", "ink-paper", 7}, {"ink-full", "ink-faint", 4.5}, {"ink-full", "ink-pale", 4.5}, {"ink-middle", "ink-paper", 4.5}, {"ink-signal", "ink-paper", 4.5},
	}
	colors := map[string]string{}
	seen := map[string]bool{}
	for _, rule := range rootRule.FindAllStringSubmatch(string(css), -1) {
		media := strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(rule[1]), "{"))
		for _, v := range variable.FindAllStringSubmatch(rule[2], -1) {
			colors[v[1]] = v[2]
		}
		for _, p := range pairs {
			a, b := luminance(t, colors[p.ink]), luminance(t, colors[p.ground])
			if ratio := (max(a, b) + 0.05) / (min(a, b) + 0.05); ratio < p.least {
				t.Errorf("%s: %s on %s has a contrast of %.1f to 1, expected %.1f", media, p.ink, p.ground, ratio, p.least)
			}
		}
		seen[media] = true
	}
	for _, media := range []string{"", "@media (prefers-color-scheme: dark)", "@media print"} {
		if !seen[media] {
			t.Errorf("no colors for %q", media)
		}
	}
	// The frames of panels differ without color too, and all but the mildest word have the alert symbol.
	for _, w := range []string{"danger", "warning", "caution", "notice"} {
		if !strings.Contains(string(css), ".panel."+w+" .signal { background: var(--"+w+"); color: var(--"+w+"-text);") {
			t.Errorf("the bar of %s is not set in the pair of colors that was checked", w)
		}
	}
}
