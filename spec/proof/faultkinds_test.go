package proof_test

import (
	"fmt"
	"maps"
	"path"
	"regexp"
	"slices"
	"strings"

	"ownerguide/spec/derive"
	"ownerguide/spec/logic"
	"ownerguide/spec/product"
	"ownerguide/spec/source"
)

// rules drops each rule in turn.
func (b *bench) rules() (all []fault) {
	l, _ := embedded()
	for mi, m := range l.Models {
		for oi, o := range m.Options {
			for di, d := range o.Value.Requires {
				all = append(all, fault{kind: "rule dropped", what: m.ID + ": " + o.Key + " requires, " + d.Because.Value, change: func(l *product.Line) {
					own := &l.Models[mi].Options[oi].Value
					own.Requires = slices.Delete(slices.Clone(own.Requires), di, di+1)
				}})
			}
			for di, d := range o.Value.Excludes {
				all = append(all, fault{kind: "rule dropped", what: m.ID + ": " + o.Key + " excludes, " + d.Because.Value, change: func(l *product.Line) {
					own := &l.Models[mi].Options[oi].Value
					own.Excludes = slices.Delete(slices.Clone(own.Excludes), di, di+1)
				}})
			}
		}
		for ri, r := range m.Rules {
			all = append(all, fault{kind: "rule dropped", what: m.ID + ": group, " + r.Because.Value, change: func(l *product.Line) {
				l.Models[mi].Rules = slices.Delete(slices.Clone(l.Models[mi].Rules), ri, ri+1)
			}})
		}
	}
	return all
}

type word = source.Given[string]

// baseConditions negates each word in the conditions of tasks.
func (b *bench) baseConditions() (all []fault) {
	l, _ := embedded()
	negations := func(kind, id string, of func(*product.Line) *logic.Condition) {
		for _, name := range of(l).Facts() {
			all = append(all, fault{kind: kind + " negated", what: id + ", " + name, change: func(l *product.Line) {
				c := of(l)
				*c = logic.Condition{Pos: c.Pos, Formula: c.Substitute(func(fact string) logic.Formula {
					if fact == name {
						return logic.Not(logic.Fact(fact))
					}
					return logic.Fact(fact)
				})}
			}})
		}
	}
	for i, h := range l.Tasks {
		negations("task", h.ID.Value, func(l *product.Line) *logic.Condition { return &l.Tasks[i].When })
	}
	return all
}

// ratingKeys are the keys of what a part can take, carry or give, and of what
// stands on the label. Sizes, weights, places and intervals are no ratings.
const ratingKeys = `gvwr|gawr|speed_limit|lift_limit|beam|spring|hub|rating|u_bolt_torque|single|dual|cold_pressure|load|max_pressure|torque|` +
	`gross|vertical|breaking|tab_breaking|lift|static|battery|fuse|ampacity|working_load|load_limit|pull|current|rope_breaking|hook_breaking|` +
	`relief|motor_current|capacity|fitting_rating|output|pair_rating`

var (
	rated    = regexp.MustCompile(`\b(` + ratingKeys + `): \[?(-?[0-9][0-9,.]*)( (?:lb-ft|lb/ft³|lb|psi|in|ft|mi|A|V|Ah|ohm|gpm|gal|qt|min|h|mph|percent|deg|cSt|months?|years?)\b)?`)
	geometry = regexp.MustCompile(`(\{ x:| y:| z:| at:|size:|overall:|hinge|cylinder_foot|cylinder_head)`)
)

// ratings halves and doubles each rating of components, models and options.
func (b *bench) ratings() (all []fault) {
	for _, name := range slices.Sorted(maps.Keys(b.line)) {
		if !strings.HasPrefix(name, "components/") && !strings.HasPrefix(name, "models/") {
			continue
		}
		text := string(b.line[name].Data)
		start := 0
		for row := range strings.Lines(text) {
			at := start
			start += len(row)
			if strings.HasPrefix(name, "models/") && geometry.MatchString(row) {
				continue
			}
			if comment := strings.Index(row, " #"); comment >= 0 {
				row = row[:comment]
			}
			for _, m := range rated.FindAllStringSubmatchIndex(row, -1) {
				figure := row[m[4]:m[5]]
				var x float64
				if _, err := fmt.Sscanf(strings.ReplaceAll(figure, ",", ""), "%g", &x); err != nil || x == 0 {
					continue
				}
				for _, by := range []float64{0.5, 2} {
					own := text[:at+m[4]] + fmt.Sprint(x*by) + text[at+m[5]:]
					all = append(all, fault{kind: fmt.Sprintf("rating times %g", by), what: name + ": " + strings.TrimSpace(row[m[0]:m[1]]) + " in " + strings.TrimSpace(row[:min(len(row)-1, 60)]),
						line: map[string]string{name: own}, components: b.family(name, at+m[0]), figures: true})
				}
			}
		}
	}
	return all
}

var (
	inlineCondition = regexp.MustCompile(`\{\?([^}]*)\}`)
	named           = regexp.MustCompile(`(not )?\b([a-z0-9]+[a-z0-9:._-]*)`)
	front           = regexp.MustCompile(`(?m)\bwhen: ([^\n,}]*[^\n,} ])`)
)

// negated returns a condition with each of its names negated in turn.
func negated(condition string) (all map[string]string) {
	all = map[string]string{}
	for _, m := range named.FindAllStringSubmatchIndex(condition, -1) {
		name := condition[m[4]:m[5]]
		if name == "and" || name == "or" || name == "not" {
			continue
		}
		other := "not " + name
		if m[2] >= 0 {
			other = name
		}
		all[condition[m[0]:m[5]]] = condition[:m[0]] + other + condition[m[1]:]
	}
	return all
}

// conditionFaults drops each condition of a file, and negates each word of it.
func conditionFaults(name, text string) (all []fault) {
	add := func(kind, what string, from, to int) {
		condition := text[from:to]
		before, after := strings.TrimSuffix(text[:from], "{?"), strings.TrimPrefix(text[to:], "}")
		if before == text[:from] {
			before = strings.TrimRight(strings.TrimSuffix(before, "when: "), ", ")
		}
		all = append(all, fault{kind: strings.Replace(kind, "negated", "dropped", 1), what: fmt.Sprintf(what, condition, "whole"), words: map[string]string{name: before + after}})
		other := negated(condition)
		for _, word := range slices.Sorted(maps.Keys(other)) {
			all = append(all, fault{kind: kind, what: fmt.Sprintf(what, condition, word), words: map[string]string{name: text[:from] + other[word] + text[to:]}})
		}
	}
	for _, m := range inlineCondition.FindAllStringSubmatchIndex(text, -1) {
		add("text condition negated", name+": {?%s}, %s, "+around(text, m[0], m[1]), m[2], m[3])
	}
	head := len(text) // the condition of a section stands in its front matter
	if path.Ext(name) == ".md" {
		head = strings.Index(text[4:], "\n---\n") + 4
	}
	for _, m := range front.FindAllStringSubmatchIndex(text[:head], -1) {
		line := text[strings.LastIndexByte(text[:m[0]], '\n')+1 : m[0]]
		if !strings.HasPrefix(line, "#") {
			id := ""
			if at := strings.LastIndex(text[:m[0]], "id: "); at >= 0 && path.Ext(name) == ".yaml" {
				id = " " + strings.TrimRight(strings.Fields(text[at+len("id: "):])[0], ",")
			}
			add("front condition negated", name+id+": %s, %s", m[2], m[3])
		}
	}
	return all
}

var placeholder = regexp.MustCompile(`\{([a-z][a-z0-9_.-]*)\}`)

// around returns the words before and after a place: a line number would be
// another after the next change of the file.
func around(text string, from, to int) string {
	words := func(s string) []string { return strings.Fields(strings.ReplaceAll(s, "```", " ")) }
	before, after := words(text[:from]), words(text[to:])
	return "after “" + strings.Join(before[max(0, len(before)-4):], " ") + "” before “" + strings.Join(after[:min(4, len(after))], " ") + "”"
}

// useFaults deletes each use of a figure, in a sentence or as a row of a block.
func useFaults(name, text string) (all []fault) {
	drop := func(from, to int, what string) {
		all = append(all, fault{kind: "figure dropped", what: fmt.Sprintf("%s: %s, %s", name, what, around(text, from, to)),
			words: map[string]string{name: text[:from] + text[to:]}})
	}
	for _, m := range placeholder.FindAllStringSubmatchIndex(text, -1) {
		if derive.IsDeclared(text[m[2]:m[3]]) {
			drop(m[0], m[1], text[m[0]:m[1]])
		}
	}
	start, inside := 0, false
	for row := range strings.Lines(text) {
		if strings.HasPrefix(row, "```") {
			inside = !inside && regexp.MustCompile("^```(values|numbers)").MatchString(row)
		} else if inside {
			drop(start, start+len(row), strings.TrimSpace(row))
		}
		start += len(row)
	}
	return all
}

var cautionFence = regexp.MustCompile("```caution ([a-z-]+)\n```\n")

// fenceFaults deletes each caution where it stands.
func (b *bench) fenceFaults(name, text string) (all []fault) {
	for _, m := range cautionFence.FindAllStringSubmatchIndex(text, -1) {
		all = append(all, fault{kind: "caution dropped once", what: name + ": " + text[m[2]:m[3]], words: map[string]string{name: text[:m[0]] + text[m[1]:]}})
	}
	return all
}

var (
	itemRow   = regexp.MustCompile(`(?m)^(?:[0-9]+\.|-|    -) .*\n`)
	forbidden = regexp.MustCompile(`\bNever ([a-z])`)
)

// itemFaults takes out each step, point and way to avoid a hazard, and turns round each
// line that forbids.
func itemFaults(name, text string) (all []fault) {
	for _, m := range itemRow.FindAllStringIndex(text, -1) {
		all = append(all, fault{kind: "step dropped", what: name + ": " + strings.TrimSpace(text[m[0]:m[1]]), words: map[string]string{name: text[:m[0]] + text[m[1]:]}})
	}
	for _, m := range forbidden.FindAllStringSubmatchIndex(text, -1) {
		all = append(all, fault{kind: "never dropped", what: name + ": " + around(text, m[0], m[1]), words: map[string]string{name: text[:m[0]] + strings.ToUpper(text[m[2]:m[3]]) + text[m[3]:]}})
	}
	return all
}

// lowered gives each hazard a lesser signal word, and takes each grave one out of the
// safety chapter.
func (b *bench) lowered() (all []fault) {
	const name = "cautions.yaml"
	text := string(b.words[name].Data)
	lesser := map[string]string{"danger": "warning", "warning": "caution", "caution": "notice"}
	for _, m := range regexp.MustCompile(`\bword: (danger|warning|caution)\b`).FindAllStringSubmatchIndex(text, -1) {
		all = append(all, fault{kind: "signal word lowered", what: around(text, m[0], m[1]), words: map[string]string{name: text[:m[2]] + lesser[text[m[2]:m[3]]] + text[m[3]:]}})
	}
	for _, m := range regexp.MustCompile(`, grave: true`).FindAllStringIndex(text, -1) {
		all = append(all, fault{kind: "grave dropped", what: around(text, m[0], m[1]), words: map[string]string{name: text[:m[0]] + text[m[1]:]}})
	}
	return all
}

// deletions takes out each caution, task and stop with all that names it.
func (b *bench) deletions() (all []fault) {
	l, _ := embedded()
	everywhere := func(change func(name, text string) string) map[string]string {
		words := map[string]string{}
		for name, f := range b.words {
			if own := change(name, string(f.Data)); own != string(f.Data) {
				words[name] = own
			}
		}
		return words
	}
	for _, m := range regexp.MustCompile(`(?m)^- \{ id: ([a-z-]+),`).FindAllStringSubmatch(string(b.words["cautions.yaml"].Data), -1) {
		all = append(all, fault{kind: "caution deleted", what: m[1], words: everywhere(func(name, text string) string {
			switch name {
			case "cautions.yaml":
				return regexp.MustCompile(`(?m)^- \{ id: `+m[1]+`,.*\n`).ReplaceAllString(text, "")
			case "en/cautions.yaml":
				return regexp.MustCompile(`(?m)^`+m[1]+`:\n(?:  .*\n)*`).ReplaceAllString(text, "")
			}
			return strings.ReplaceAll(text, "```caution "+m[1]+"\n```\n", "")
		})})
	}
	for i, task := range l.Tasks {
		id := task.ID.Value
		all = append(all, fault{kind: "task deleted", what: id, words: map[string]string{"en/tasks/" + id + ".md": ""},
			change: func(l *product.Line) { l.Tasks = slices.Delete(slices.Clone(l.Tasks), i, i+1) }})
	}
	for _, name := range slices.Sorted(maps.Keys(b.words)) {
		if strings.Contains(string(b.words[name].Data), "\nrole: stop\n") {
			all = append(all, fault{kind: "stop deleted", what: name, words: map[string]string{name: ""}})
		}
	}
	return all
}

// otherWords makes texts that are no copy of the first language: what begins with a capital
// letter ends with another one. Ids, names of figures and conditions are small.
func otherWords(file, text string) string {
	text = capitalized.ReplaceAllString(text, "${0}é")
	if file == "labels.yaml" {
		text = strings.Replace(text, "\nnever: never\n", "\nnever: never neveré\n", 1)
	}
	return text
}

var capitalized = regexp.MustCompile(`\b[A-Z][a-z]+\b`)

// translations makes a second language with the texts of the first, and takes out
// each of its texts and figures.
func (b *bench) translations() (all []fault) {
	second := map[string]string{}
	for name, f := range b.words {
		rest, is := strings.CutPrefix(name, "en/")
		if !is {
			continue
		}
		text := string(f.Data)
		if strings.HasPrefix(rest, "sections/") {
			head := strings.Index(text[4:], "\n---\n") + 4
			kept := ""
			for row := range strings.Lines(text[4:head]) {
				if strings.HasPrefix(row, "title:") || strings.HasPrefix(row, "short:") {
					kept += strings.TrimSpace(row) + "\n"
				}
			}
			text = "---\n" + kept + "---\n" + text[head+5:]
		}
		second["es/"+rest] = otherWords(rest, text)
	}
	add := func(what, name, text string) {
		words := maps.Clone(second)
		words[name] = text
		all = append(all, fault{kind: "translation dropped", what: what, words: words, languages: true})
	}
	for _, name := range slices.Sorted(maps.Keys(second)) {
		text := second[name]
		if path.Ext(name) == ".md" {
			add(name, name, "")
			for _, f := range useFaults(name, text) {
				add(f.what, name, f.words[name])
			}
			for _, f := range b.fenceFaults(name, text) {
				add(f.what, name, f.words[name])
			}
			continue
		}
		for _, m := range regexp.MustCompile(`(?m)^([a-z0-9_.-]+):.*\n(?:  .*\n)*`).FindAllStringSubmatchIndex(text, -1) {
			add(name+": "+text[m[2]:m[3]], name, text[:m[0]]+text[m[1]:])
		}
	}
	return all
}
