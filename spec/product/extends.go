package product

import (
	"path"
	"slices"
	"strings"

	"ownerguide/spec/source"
)

// Extension is how an entry is derived from another one: it contains only the
// differences. Mappings are merged key by key, at any depth; a list or a value replaces
// the other's.
type Extension struct {
	Extends word   `yaml:"extends" doc:"The id of the one that this is made of. Only what differs is written beside it; a list that is written takes the place of the other's."`
	Omits   []word `yaml:"omits" doc:"Keys of the one it is made of that it does not have, such as lift_limit or options.tarp."`
}

// entry is an entry that others may extend, as written.
type entry struct {
	id   string
	node *source.Node
}

// extender merges entries over those that they extend. Nodes keep their positions, so
// every finding is at the text in question, in whichever file that is.
type extender struct {
	what     string  // what the entries are, such as "model"
	where    string  // where they are written, such as "models of line.yaml"
	entries  []entry // in the order of the files; the first of two with the same id counts
	whole    map[string]*source.Node
	open     []string // ids being resolved, to detect cycles
	findings *source.Findings
}

func newExtender(what, where string, entries []entry, findings *source.Findings) *extender {
	return &extender{what: what, where: where, entries: entries, whole: map[string]*source.Node{}, findings: findings}
}

// of returns an entry with everything it inherits; nil, with a finding, if it extends a
// missing entry, or itself.
func (x *extender) of(id string) *source.Node {
	if whole, known := x.whole[id]; known {
		return whole
	}
	i := slices.IndexFunc(x.entries, func(e entry) bool { return e.id == id })
	x.open = append(x.open, id)
	x.whole[id] = x.laid(x.entries[i].node)
	x.open = x.open[:len(x.open)-1]
	return x.whole[id]
}

// laid merges a node over the entry that it extends, if any.
func (x *extender) laid(n *source.Node) *source.Node {
	extends, omits := n.Get("extends"), n.Get("omits")
	switch {
	case extends == nil && omits == nil:
		return n
	case extends == nil:
		x.findings.Add(codeLineExtends.At(omits.At, "omits without extends: there is nothing to leave out").WithHint("delete it"))
		return n
	case extends.Kind != source.Scalar || extends.Null:
		x.findings.Add(codeLineExtends.At(extends.At, "extends does not name one %s", x.what).WithHint("write the id of one, or delete it"))
		return nil
	}
	var ids []string
	for _, e := range x.entries {
		ids = append(ids, e.id)
	}
	id := extends.Text
	switch {
	case slices.Contains(x.open, id):
		round := append(slices.Clone(x.open[slices.Index(x.open, id):]), id)
		x.findings.Add(codeLineExtends.At(extends.At, "%s extends itself: %s", id, strings.Join(round, " extends ")).
			WithHint("one of them has to be written out, without extends"))
		return nil
	case !slices.Contains(ids, id):
		f, otherwise := codeLineExtends.At(extends.At, "there is no %s %q to extend among the %s", x.what, id, x.where), ""
		if len(ids) > 0 {
			otherwise = "there are " + strings.Join(ids, ", ")
		}
		x.findings.Add(f.DidYouMean(id, ids, otherwise))
		return nil
	}
	below := x.of(id)
	if below == nil {
		return nil // reported there
	}
	if below.Kind != source.Mapping {
		return n
	}
	own := func(key string) bool { return key == "extends" || key == "omits" }
	kept := *below
	kept.Keys = slices.DeleteFunc(slices.Clone(below.Keys), func(e source.Entry) bool { return own(e.Key) })
	under := &kept
	if omits != nil {
		for _, item := range omits.Items {
			if item.Kind == source.Scalar && !item.Null {
				under = x.without(under, item, id)
			}
		}
	}
	return n.Over(under)
}

// without returns a node without the key path that omits names.
func (x *extender) without(n *source.Node, omitted *source.Node, id string) *source.Node {
	at, steps := n, strings.Split(omitted.Text, ".")
	for i, step := range steps {
		if at.Get(step) != nil {
			at = at.Get(step)
			continue
		}
		f := codeLineExtends.At(omitted.At, "%s %s has no %s to leave out", x.what, id, strings.Join(steps[:i+1], "."))
		var keys []string
		for _, e := range at.Keys {
			keys = append(keys, strings.Join(append(slices.Clone(steps[:i]), e.Key), "."))
		}
		x.findings.Add(f.DidYouMean(strings.Join(steps[:i+1], "."), keys, ""))
		return n
	}
	return n.Without(steps...)
}

// readComponents reads all files of components and resolves extends within each
// kind.
func (r *lineReader) readComponents() {
	var roots []*source.Node
	kinds := map[string][]entry{}
	for _, file := range r.yamlFiles("components") {
		root := r.parse("components/" + file)
		if root == nil {
			continue
		}
		roots = append(roots, root)
		for _, kind := range root.Keys {
			for _, e := range kind.Value.Keys {
				kinds[kind.Key] = append(kinds[kind.Key], entry{e.Key, e.Value})
			}
		}
	}
	extenders := map[string]*extender{}
	for _, root := range roots {
		for _, kind := range root.Keys { // of the tasks, which are a list, nothing extends
			if extenders[kind.Key] == nil {
				extenders[kind.Key] = newExtender("component", kind.Key+" of components/*.yaml", kinds[kind.Key], &r.Findings)
			}
			extend(kind.Value, extenders[kind.Key].laidEntry)
		}
		tasks := r.line.Components.Tasks
		source.Decode(root, &r.line.Components, &r.Findings) // decoding appends to maps, so each file adds its entries
		if root.Get("tasks") != nil {
			r.line.Components.Tasks = append(tasks, r.line.Components.Tasks...)
		}
	}
}

// laidEntry is laid for a node that is one of the entries itself.
func (x *extender) laidEntry(e source.Entry) *source.Node {
	if i := slices.IndexFunc(x.entries, func(o entry) bool { return o.id == e.Key }); x.entries[i].node == e.Value {
		return x.of(e.Key)
	}
	return x.laid(e.Value) // the second of two with the same id, which is reported elsewhere
}

// extend replaces each value by the result of whole; values for which that is nil, which
// have been reported, are removed.
func extend(n *source.Node, whole func(source.Entry) *source.Node) {
	var keys []source.Entry
	for _, e := range n.Keys {
		if e.Value = whole(e); e.Value != nil {
			keys = append(keys, e)
		}
	}
	n.Keys = keys
}

// readOptions reads the shared options; a line need not have any.
func (r *lineReader) readOptions() *extender {
	var shared []entry
	first := map[string]source.Pos{}
	for _, file := range r.Names("options", ".yaml") {
		root := r.parse("options/" + file)
		if root == nil {
			continue
		}
		if root.Kind != source.Mapping {
			source.Decode(root, &r.line.Shared, &r.Findings)
		}
		for _, e := range root.Keys {
			if at, twice := first[e.Key]; twice {
				r.Findings.Add(codeLineRepeated.At(e.KeyAt, "option %q stands here a second time", e.Key).WithRelated(at, "first here"))
				continue
			}
			first[e.Key] = e.KeyAt
			shared = append(shared, entry{e.Key, e.Value})
		}
	}
	x := newExtender("option", "options of options/*.yaml", shared, &r.Findings)
	for _, e := range shared {
		// Report errors even if no model offers the option.
		if whole := x.of(e.id); whole != nil {
			o := source.Item[Option]{Key: e.id, KeyAt: first[e.id]}
			source.Decode(whole, &o.Value, &r.Findings)
			r.line.Shared = append(r.line.Shared, o)
		}
	}
	return x
}

// readModels reads the models that line.yaml lists and resolves what they extend: other
// models, and shared options.
func (r *lineReader) readModels() {
	options := r.readOptions()
	var models []entry
	read := map[string]bool{}
	for _, id := range r.line.Maker.Models {
		file := "models/" + id.Value + ".yaml"
		switch {
		case !validID(id.Value):
			r.Findings.Add(malformedID("model id", id))
		case read[file]: // reported with the other ids
		case !r.Has(file):
			r.Findings.Add(r.noModelFile(id, file))
		default:
			if root := r.parse(file); root != nil {
				models = append(models, entry{id.Value, root})
			}
		}
		read[file] = true
	}
	x := newExtender("model", "models of line.yaml", models, &r.Findings)
	for _, e := range models {
		whole := x.of(e.id)
		if whole == nil {
			continue
		}
		if longer := e.node.Get("longer"); longer != nil {
			r.longerThan(x, e, longer)
		}
		if offered := whole.Get("options"); offered != nil {
			own := *offered // other models share the nodes of the original
			extend(&own, func(o source.Entry) *source.Node { return r.offered(options, o) })
			whole = whole.With("options", &own)
		}
		m := &Model{ID: e.id, At: source.Pos{File: r.Shown(path.Join("models", e.id+".yaml")), Line: 1, Column: 1}}
		source.Decode(whole, m, &r.Findings)
		r.line.Models = append(r.line.Models, m)
		r.owners[m] = x.above(e)
	}
}

// above returns the files of a model and of those it extends, up to the one with the key
// longer.
func (x *extender) above(e entry) (files []string) {
	for {
		files = append(files, e.node.At.File)
		extends := e.node.Get("extends")
		if extends == nil || e.node.Get("longer") != nil {
			return files
		}
		e = x.entries[slices.IndexFunc(x.entries, func(o entry) bool { return o.id == extends.Text })]
	}
}

// longerThan checks that a model with the key longer extends a suitable model.
func (r *lineReader) longerThan(x *extender, e entry, longer *source.Node) {
	extends := e.node.Get("extends")
	if extends == nil {
		r.Findings.Add(codeLineLonger.At(longer.At, "longer without extends: there is nothing that %s is longer than", e.id).
			WithHint("name under extends the model that it is longer than"))
		return
	}
	if below := x.whole[extends.Text]; below != nil && below.Get("longer") != nil {
		r.Findings.Add(codeLineLonger.At(longer.At, "%s is longer than another model itself", extends.Text).
			WithRelated(below.Get("longer").At, "here").WithHint("extend the shortest one and say how much longer than that %s is", e.id))
	}
}

// offered returns an option of a model with what it inherits from a shared one.
func (r *lineReader) offered(shared *extender, o source.Entry) *source.Node {
	i := slices.IndexFunc(r.line.Shared, func(s source.Item[Option]) bool { return s.Key == o.Key })
	if i >= 0 && o.Value.Get("extends") == nil {
		r.Findings.Add(codeLineRepeated.At(o.KeyAt, "option %q is among the shared options as well", o.Key).
			WithRelated(r.line.Shared[i].KeyAt, "here").WithHint("write extends: %s with what differs, or give it another id", o.Key))
	}
	return shared.laid(o.Value)
}
