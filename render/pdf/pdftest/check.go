package pdftest

import (
	"regexp"
	"slices"
	"strconv"
	"strings"
)

// CheckReferences checks that each reference has an object and that each object is referred to.
func (r *File) CheckReferences() {
	reached := map[int]bool{}
	var walk func(v any)
	walk = func(v any) {
		switch v := v.(type) {
		case Ref:
			if !reached[int(v)] {
				reached[int(v)] = true
				walk(r.Get(v))
			}
		case []any:
			for _, x := range v {
				walk(x)
			}
		case Dict:
			for _, x := range v {
				walk(x)
			}
		}
	}
	walk(r.Trailer["Root"])
	walk(r.Trailer["Info"])
	for n, o := range r.Objects {
		if d, _ := o.(Dict); !reached[n] && d["Type"] != Name("ObjStm") && d["Type"] != Name("XRef") {
			r.tb.Errorf("nothing leads to object %d: %v", n, o)
		}
	}
}

// mark matches the beginning of marked content: its role, and its identifier unless it is an artifact.
var mark = regexp.MustCompile(`^/(\w+)<<(?:/MCID (\d+))?.*>>BDC$`)

// paints reports whether a line of a content stream paints something.
func paints(line string) bool {
	at := strings.LastIndexAny(line, " ])>") + 1
	switch line[at:] {
	case "TJ", "Tj", "S", "s", "f", "f*", "B", "b", "Do":
		return true
	}
	return false
}

// CheckTags checks that pages, structure tree and parent tree agree in both directions, and returns the roles in reading order.
func (r *File) CheckTags() []string {
	root := r.Dict(r.Dict(r.Trailer["Root"])["StructTreeRoot"])
	parents := map[int]any{}
	nums := r.List(r.Dict(root["ParentTree"])["Nums"])
	last := -1
	for i := 0; i < len(nums); i += 2 {
		key := int(nums[i].(float64))
		if key <= last {
			r.tb.Errorf("parent tree is not sorted at %d", key)
		}
		last = key
		parents[key] = nums[i+1]
	}
	if next := root["ParentTreeNextKey"]; next != float64(last+1) {
		r.tb.Errorf("next key %v after %d", next, last)
	}

	// The owner of each piece and link according to the tree.
	type content struct {
		page Ref
		id   int
	}
	pieces, links := map[content]Ref{}, map[Ref]Ref{}
	var roles []string
	var walk func(ref, parent Ref)
	walk = func(ref, parent Ref) {
		e := r.Dict(ref)
		if e["P"] != parent {
			r.tb.Errorf("element %d has parent %v, its parent is %d", ref, e["P"], parent)
		}
		roles = append(roles, string(e["S"].(Name)))
		for _, k := range r.List(e["K"]) {
			switch k := k.(type) {
			case float64:
				pieces[content{e["Pg"].(Ref), int(k)}] = ref
			case Ref:
				walk(k, ref)
			case Dict:
				if k["Type"] == Name("OBJR") {
					links[k["Obj"].(Ref)] = ref
					continue
				}
				pieces[content{k["Pg"].(Ref), int(k["MCID"].(float64))}] = ref
			}
		}
	}
	rootRef := r.Dict(r.Trailer["Root"])["StructTreeRoot"].(Ref)
	walk(root["K"].(Ref), rootRef)

	// The same according to the pages.
	found := 0
	for i, kid := range r.List(r.Dict(r.Dict(r.Trailer["Root"])["Pages"])["Kids"]) {
		ref := kid.(Ref)
		page := r.Dict(ref)
		if page["Tabs"] != Name("S") {
			r.tb.Errorf("page %d: tab order %v", i+1, page["Tabs"])
		}
		owners := r.List(parents[int(page["StructParents"].(float64))])
		open, next := "", 0
		text, marked := false, false // a text object is open; it was begun inside marked content
		for line := range strings.Lines(string(r.Streams[int(page["Contents"].(Ref))])) {
			line = strings.TrimSuffix(line, "\n")
			var m []string
			if strings.HasPrefix(line, "/") {
				m = mark.FindStringSubmatch(line)
			}
			switch {
			case line == "BT" || line == "ET":
				if text == (line == "BT") || text && marked != (open != "") {
					r.tb.Errorf("page %d: a text object and a mark overlap at %s inside %q", i+1, line, open)
				}
				text, marked = line == "BT", open != ""
			case m != nil && open != "":
				r.tb.Errorf("page %d: %s inside %s", i+1, m[1], open)
			case m != nil && m[1] == "Artifact":
				open = m[1]
			case m != nil:
				open = m[1]
				id, _ := strconv.Atoi(m[2])
				owner := pieces[content{ref, id}]
				if id != next || id >= len(owners) || owners[id] != owner || r.Dict(owner)["S"] != Name(m[1]) {
					r.tb.Errorf("page %d: piece %d (%s) is out of order or has not the owner it should", i+1, id, m[1])
				}
				next++
				found++
			case line == "EMC":
				if text && marked {
					r.tb.Errorf("page %d: a mark ends inside a text object that was begun in it", i+1)
				}
				open = ""
			case open == "" && paints(line):
				r.tb.Errorf("page %d: %s outside of any mark", i+1, line)
			}
		}
		if next != len(owners) {
			r.tb.Errorf("page %d has %d pieces, the parent tree %d", i+1, next, len(owners))
		}
		for _, a := range r.List(page["Annots"]) {
			link := r.Dict(a)
			owner := links[a.(Ref)]
			if parents[int(link["StructParent"].(float64))] != owner || r.Dict(owner)["S"] != Name("Link") || link["Contents"] == "" {
				r.tb.Errorf("page %d: link %v is not tied to a Link element", i+1, a)
			}
			delete(links, a.(Ref))
			if d, ok := link["Dest"].(string); ok && r.Anchors()[d] == nil {
				r.tb.Errorf("page %d: link leads to %q", i+1, d)
			}
		}
	}
	if found != len(pieces) || len(links) != 0 {
		r.tb.Errorf("%d pieces on pages, %d in the tree; %d links on no page", found, len(pieces), len(links))
	}
	return roles
}

// Anchors returns the named destinations.
func (r *File) Anchors() map[string][]any {
	names := map[string][]any{}
	list := r.List(r.Dict(r.Dict(r.Dict(r.Trailer["Root"])["Names"])["Dests"])["Names"])
	var order []string
	for i := 0; i < len(list); i += 2 {
		order = append(order, list[i].(string))
		names[list[i].(string)] = r.List(list[i+1])
	}
	if !slices.IsSorted(order) || len(order) != len(names) {
		r.tb.Errorf("names are not sorted or there twice: %q", order)
	}
	return names
}

// CheckOutline walks the bookmarks forwards, checks the links between neighbors, and returns the titles.
func (r *File) CheckOutline() (titles []string) {
	var level func(parent Ref) int
	level = func(parent Ref) (visible int) {
		p := r.Dict(parent)
		var prev any
		at := p["First"]
		for at != nil {
			item := r.Dict(at)
			if item["Parent"] != parent || item["Prev"] != prev {
				r.tb.Errorf("bookmark %v: parent %v, previous %v", at, item["Parent"], item["Prev"])
			}
			titles = append(titles, item["Title"].(string))
			if r.Anchors()[item["Dest"].(string)] == nil {
				r.tb.Errorf("bookmark %v leads to %v", at, item["Dest"])
			}
			visible++
			if item["First"] != nil {
				below := level(at.(Ref))
				count := int(item["Count"].(float64))
				if count != below && count != -below {
					r.tb.Errorf("bookmark %v counts %d, has %d", at, count, below)
				}
				visible += max(count, 0)
			}
			prev, at = at, item["Next"]
		}
		if p["Last"] != prev {
			r.tb.Errorf("last bookmark %v, should be %v", p["Last"], prev)
		}
		return visible
	}
	root := r.Dict(r.Trailer["Root"])["Outlines"].(Ref)
	if n := level(root); r.Dict(root)["Count"] != float64(n) {
		r.tb.Errorf("outline counts %v, shows %d", r.Dict(root)["Count"], n)
	}
	return titles
}
