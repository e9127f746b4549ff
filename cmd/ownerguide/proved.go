package main

import (
	"bytes"
	"crypto/sha256"
	_ "embed" // what the program ships proved
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"strings"
	"time"

	"ownerguide/cmd/ownerguide/internal/guide"
	"ownerguide/cmd/ownerguide/internal/input"
	"ownerguide/cmd/ownerguide/internal/terminal"
	"ownerguide/cmd/ownerguide/internal/usage"
	"ownerguide/render/deliver"
	"ownerguide/render/record"
	"ownerguide/spec/source"
)

// proved says what a proof passed on. Guides are made of nothing else: prove
// keeps it as a file, and write and mail look for that file. It keeps people from
// forgetting to prove; it is no signature, and whoever may write the file can
// forge one.
type proved struct {
	line, words string // SHA-256 of their files
	snapshot    string // SHA-256 of what the words were held against; empty without one
	program     string // name and version
	build       string // SHA-256 of the program, where others may bear its version
}

// proofFile is the proof beside a project file. It holds no path and no clock, so
// that it can be kept in version control with the line it is about.
const proofFile = "ownerguide.proof"

// kindProof is a proof that is kept.
var kindProof = deliver.Kind{Name: "a proof", Endings: []string{filepath.Ext(proofFile)}, Own: deliver.Sealed}

// proofSeal stands before the seal of a proof.
const proofSeal = "# What ownerguide prove passed on; any other state has to be proved again. "

// userCache is where proofs are kept that no project file stands beside.
var userCache = os.UserCacheDir

// toProve is what a proof of line and words would be of.
func toProve(m *guide.Maker, lineName string) (proved, error) {
	p := proved{program: guide.Version(),
		line:  provedDigest(m.Line.Files, func(f source.File) string { return strings.TrimPrefix(f.Shown(), lineName) }),
		words: provedDigest(m.Templates.Files, func(f source.File) string { return f.Name })}
	if m.Templates.Snapshot.Data != nil {
		p.snapshot = provedDigest([]source.File{m.Templates.Snapshot}, func(f source.File) string { return f.Name })
	}
	var err error
	if guide.Unreleased() && !p.isShipped() {
		p.build, err = guide.MadeWith()
	}
	return p, err
}

// provedDigest digests files as a proof sees them: wherever they lie, whatever
// their line ends, and those that say the same in two layers once.
func provedDigest(files []source.File, name func(source.File) string) string {
	sum, met := sha256.New(), map[[sha256.Size]byte]bool{}
	for _, f := range files {
		one := sha256.Sum256(fmt.Appendf(nil, "%q %s", name(f), source.Text(f.Data)))
		if !met[one] {
			met[one] = true
			_, _ = sum.Write(one[:])
		}
	}
	return hex.EncodeToString(sum.Sum(nil))
}

// digest names the proof in a record. It has no trace of the program's own bytes,
// as the rest of a record has none.
func (p proved) digest() string {
	p.build = ""
	return record.Digest([]byte(p.text()))
}

func (p proved) text() string {
	text := ""
	for _, e := range []struct{ key, value string }{{"line", p.line}, {"words", p.words}, {"snapshot", p.snapshot}, {"program", p.program}, {"build", p.build}} {
		if e.value != "" {
			text += e.key + ": " + e.value + "\n"
		}
	}
	return text
}

// file is the proof as it is kept.
func (p proved) file() []byte { return deliver.Seal([]byte(p.text()), proofSeal, "") }

// readProved reads a proof that somebody kept.
func readProved(data []byte) (p proved, ok bool) {
	fields := map[string]string{}
	for l := range strings.Lines(string(data)) {
		if key, value, found := strings.Cut(strings.TrimSpace(l), ": "); found {
			fields[key] = value
		}
	}
	return proved{fields["line"], fields["words"], fields["snapshot"], fields["program"], fields["build"]}, deliver.Sealed(bytes.NewReader(data))
}

// shippedProof says which line and words the program was built with when prove
// passed on them. TestEmbeddedIsProved keeps it true.
//
//go:embed embedded.proof
var shippedProof []byte

// isShipped tells line and words that the program ships proved. Who has them
// without the snapshot asks for less.
func (p proved) isShipped() bool {
	shipped, ok := readProved(shippedProof)
	return ok && p.line == shipped.line && p.words == shipped.words && (p.snapshot == "" || p.snapshot == shipped.snapshot)
}

// after says what has changed since an earlier proof; empty when nothing has.
func (p proved) after(was proved) string {
	var changed []string
	for _, c := range []struct {
		is, was, what string
	}{{p.line, was.line, "the line"}, {p.words, was.words, "the words"}, {p.snapshot, was.snapshot, "the snapshot of the words"}} {
		if c.is != c.was {
			changed = append(changed, c.what)
		}
	}
	switch {
	case len(changed) > 0:
		return strings.Join(changed, " and ") + " changed since"
	case p.program != was.program:
		return "it was " + was.program + " that proved them, and this is " + p.program
	case p.build != was.build:
		return "it was another build of " + p.program + " that proved them"
	}
	return ""
}

// proofPlaces lists where a proof of what a run uses may be kept: beside the
// project file, beside the folder of line or words, and in the user's cache. The
// error says why there is no cache; the other places stand.
func (c *commands) proofPlaces(p proved) (places []string, err error) {
	if c.projectFile != "" {
		places = append(places, path.Join(path.Dir(c.projectFile), proofFile))
	}
	for _, dir := range []string{c.Line, c.Templates} {
		if dir != "" {
			places = append(places, filepath.Join(filepath.Dir(filepath.Clean(dir)), proofFile))
		}
	}
	cache, err := proofInCache(p)
	if err == nil {
		places = append(places, cache)
	}
	return places, err
}

// proofInCache is the place of a proof in the user's cache. It may be deleted at
// any time.
func proofInCache(p proved) (string, error) {
	dir, err := userCache()
	if err != nil {
		return "", terminal.WithHint(fmt.Errorf("the system names no folder for the user's cache: %w", err),
			"set HOME, or XDG_CACHE_HOME to a folder; or write an ownerguide.yaml that names line and words, and the proof is kept beside it")
	}
	return filepath.Join(realPath(dir), "ownerguide", "proofs", record.Digest([]byte(p.text()))+kindProof.Endings[0]), nil
}

// realPath follows the links of a path as far as it is there.
func realPath(name string) string {
	real, err := filepath.EvalSymlinks(name)
	switch above := filepath.Dir(name); {
	case err == nil:
		return real
	case above == name:
		return name
	default:
		return filepath.Join(realPath(above), filepath.Base(name))
	}
}

// proveBefore finds the proof of line and words, and notes it for the records; the
// error says why there is none, and what to type.
func (c *commands) proveBefore(m *guide.Maker) error {
	m.Proof = ""
	p, err := toProve(m, c.lineName())
	if err != nil {
		return err
	}
	if p.isShipped() {
		m.Proof = p.digest()
		return nil
	}
	places, noCache := c.proofPlaces(p)
	again := []string{"prove"}
	var why []error
	for _, name := range places {
		data, err := input.ReadPlain(name, source.SheetLimit)
		was, whole := readProved(data)
		switch name = filepath.ToSlash(name); {
		case errors.Is(err, fs.ErrNotExist):
		case err != nil:
			why = append(why, err)
		case !whole:
			why, again = append(why, errors.New(name+" is not as prove wrote it")), []string{"prove", "--force"}
		case p.after(was) == "":
			m.Proof = p.digest()
			return nil
		default:
			why = append(why, fmt.Errorf("%s (%s)", p.after(was), name))
		}
	}
	if noCache != nil {
		why = append(why, noCache)
	} else if len(why) == 0 {
		why = append(why, errors.New("no proof of this state is kept in "+filepath.ToSlash(filepath.Dir(places[len(places)-1]))))
	}
	return terminal.WithHint(fmt.Errorf("%s not proved as they stand: %w", c.provedThings(), why[0]), "%s", usage.Typed(append(c.typedFlags, again...)))
}

// provedThings names line and words at the head of a sentence.
func (c *commands) provedThings() string {
	switch {
	case c.Line == "" && c.Templates == "":
		return "the program's line and words are"
	case c.Line == "":
		return "the program's line and the words " + filepath.ToSlash(c.Templates) + " are"
	case c.Templates == "":
		return "the line " + filepath.ToSlash(c.Line) + " and the program's words are"
	}
	return "the line " + filepath.ToSlash(c.Line) + " and the words " + filepath.ToSlash(c.Templates) + " are"
}

// keepProof keeps that line and words were proved: beside the project file that
// names them, else, or where that cannot be written, in the user's cache.
func (c *commands) keepProof(t *terminal.Terminal, m *guide.Maker, rules deliver.Rules) error {
	p, err := toProve(m, c.lineName())
	if err != nil || p.isShipped() {
		return err
	}
	if c.projectFile != "" && len(c.typedFlags) == 0 {
		name := path.Join(path.Dir(c.projectFile), proofFile)
		err := keep(t, rules, name, p)
		if err == nil {
			return nil
		}
		t.Note("the proof is not kept beside the project file: %v", err)
	}
	name, err := proofInCache(p)
	if err == nil {
		err = keep(t, rules, name, p)
	}
	if err != nil {
		return fmt.Errorf("all claims hold, but the proof cannot be kept: %w", err)
	}
	return nil
}

func keep(t *terminal.Terminal, rules deliver.Rules, name string, p proved) error {
	for tries := 0; ; tries++ {
		if data, err := input.ReadPlain(name, source.SheetLimit); err == nil && bytes.Equal(data, p.file()) {
			break
		}
		_, err := rules.Write(name, kindProof, p.file())
		if errors.Is(err, deliver.ErrBusy) && tries < proofTries { // another run keeps a proof there
			time.Sleep(10 * time.Millisecond)
			continue
		}
		if err != nil {
			return err
		}
		break
	}
	t.Note("proved as they stand; that is kept in %s", filepath.ToSlash(name))
	return nil
}

// proofTries is how often a run tries to keep its proof in a folder that another
// run writes to.
const proofTries = 200
