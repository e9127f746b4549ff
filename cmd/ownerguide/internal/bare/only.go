// Package bare reduces a line to one model without options, except those of which a unit
// must have one.
package bare

import (
	"slices"
	"strings"

	"ownerguide/spec/product"
	"ownerguide/spec/source"
)

// Line returns the files of a line with only one model, without options except those of which
// it must have one: its parts and what they extend, and their texts. Comments are kept, so
// that the result reads like the complete line.
func Line(l *product.Line, m *product.Model, files map[string]string) map[string]string {
	used, reasons, kept := map[string]bool{}, map[string]bool{}, map[string]bool{}
	parts := slices.Clone(m.Parts)
	for _, r := range m.Rules {
		for _, o := range r.ExactlyOne {
			kept[o.Value], reasons[r.Because.Value] = true, true
			parts = append(parts, m.Options.Get(o.Value).Parts...)
		}
	}
	for _, p := range parts {
		used[p.Value.Use.Value] = true
	}
	for more := true; more; { // components that are extended, directly or indirectly
		more = false
		for name, text := range files {
			for id, from := range extended(name, text) {
				if used[id] && !used[from] {
					used[from], more = true, true
				}
			}
		}
	}
	bulk := slices.ContainsFunc(parts, func(p source.Item[product.Part]) bool {
		c, _ := l.Component(p.Value.Use.Value)
		return c.Kind == "dump-box"
	})
	out := map[string]string{}
	for name, text := range files {
		folder, _, _ := strings.Cut(name, "/")
		switch {
		case name == "line.yaml":
			text = modelList().ReplaceAllString(text, "models: ["+m.ID+"]\n")
			text = strings.Replace(text, "#   options/*.yaml     what several models offer, written once\n", "", 1)
			text = keepEntries(text, func(top, _ string) bool { return top != "logo" && (top != "materials" || bulk) })
		case folder == "models" && name == "models/"+m.ID+".yaml":
			text = keepEntries(text, func(top, id string) bool {
				return top != "options" && (top != "rules" || len(kept) > 0) || top == "options" && kept[id]
			})
			text = otherRule().ReplaceAllString(text, "")
		case folder == "components":
			text = keepEntries(text, func(_, id string) bool { return used[id] })
		case folder == "text":
			text = keepEntries(text, func(top, id string) bool {
				switch {
				case id == "":
					return true
				case top == "models":
					return id == m.ID
				case top == "components":
					return used[id]
				case top == "options":
					return kept[id]
				case top == "because":
					return reasons[id]
				}
				return top == "materials" && bulk
			})
		default: // other models, shared options, the logo
			continue
		}
		if entryLine().MatchString(text) {
			out[name] = text
		}
	}
	return out
}

var (
	modelList = source.Pattern(`(?m)^models:\n(?:  - .*\n)+`)
	otherRule = source.Pattern(`(?m)^  - \{ at_most_one: .*\n`)
	entryLine = source.Pattern(`(?m)^[a-z_]+:`)
	anyEntry  = source.Pattern(`^( *)([\w-]+):`)
	parentOf  = source.Pattern(`extends: ?([\w-]+)`)
)

// extended returns for each component in a file the one that it extends.
func extended(name, text string) map[string]string {
	out := map[string]string{}
	if !strings.HasPrefix(name, "components/") {
		return out
	}
	id := ""
	for line := range strings.Lines(text) {
		if m := anyEntry().FindStringSubmatch(line); m != nil && len(m[1]) == 2 {
			id = m[2]
		}
		if m := parentOf().FindStringSubmatch(line); m != nil {
			out[id] = m[1]
		}
	}
	return out
}

// keepEntries removes from a YAML text the entries of its first two levels that keep
// rejects, each with the comments above it; id is empty for an entry that has none of its
// own. It supports only the formatting of the embedded line.
func keepEntries(text string, keep func(top, id string) bool) string {
	head, tops := yamlEntries(strings.SplitAfter(text, "\n"), "")
	out := head
	for _, top := range tops {
		above, own := yamlEntries(top.lines, "  ")
		if len(own) == 0 && keep(top.key, "") {
			out = append(out, top.lines...)
		}
		some := false
		for _, e := range own {
			if keep(top.key, e.key) {
				if !some {
					out, some = append(out, above...), true
				}
				out = append(out, e.lines...)
			}
		}
	}
	return strings.TrimRight(strings.Join(out, ""), "\n") + "\n"
}

// yamlEntry is a key of a YAML text with its lines, starting with the comments directly above it.
type yamlEntry struct {
	key   string
	lines []string
}

// yamlEntries splits lines at the keys with a given indentation; head is the lines above
// the first.
func yamlEntries(lines []string, indent string) (head []string, entries []yamlEntry) {
	begin := -1
	for i, line := range lines {
		m := anyEntry().FindStringSubmatch(line)
		if m == nil || m[1] != indent {
			continue
		}
		first := i
		for first > 0 && first-1 > begin && strings.HasPrefix(lines[first-1], indent+"#") {
			first--
		}
		if len(entries) == 0 {
			head = lines[:first:first]
		} else {
			entries[len(entries)-1].lines = lines[begin:first:first]
		}
		entries, begin = append(entries, yamlEntry{m[2], lines[first:]}), first
	}
	return head, entries
}
