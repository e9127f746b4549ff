package main

import (
	_ "embed" // what the program ships proved
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path"
	"path/filepath"

	"ownerguide/cmd/ownerguide/internal/guide"
	"ownerguide/cmd/ownerguide/internal/input"
	"ownerguide/cmd/ownerguide/internal/proved"
	"ownerguide/cmd/ownerguide/internal/terminal"
	"ownerguide/cmd/ownerguide/internal/usage"
	"ownerguide/render/deliver"
	"ownerguide/spec/source"
)

// proofFile is the name of the proof in the folder of a project file.
const proofFile = "ownerguide.proof"

// userCache returns the folder for proofs of runs without a project file.
var userCache = os.UserCacheDir

// toProve returns the state of line and templates; shipped reports whether the program is
// shipped with a proof of it.
func (c *commands) toProve(m *guide.Maker) (s proved.State, shipped bool, err error) {
	s, err = proved.Of(m, c.lineName(), shippedProof)
	return s, s.Within(shippedProof), err
}

// shippedProof is the proof of the embedded line and templates.
// TestEmbeddedIsProved keeps it up to date.
//
//go:embed embedded.proof
var shippedProof []byte

// proofPlaces returns the places where a proof for this run may be: in the folder of the
// project file, next to the folder of line or templates, and in the user's cache. The
// error is the reason why there is no cache; the other places are valid.
func (c *commands) proofPlaces(s proved.State) (places []string, err error) {
	if c.projectFile != "" {
		places = append(places, path.Join(path.Dir(c.projectFile), proofFile))
	}
	for _, dir := range []string{c.Line, c.Templates} {
		if dir != "" {
			places = append(places, filepath.Join(filepath.Dir(filepath.Clean(dir)), proofFile))
		}
	}
	cache, err := proofInCache(s)
	if err == nil {
		places = append(places, cache)
	}
	return places, err
}

// proofInCache returns the place of a proof in the user's cache, which may be deleted at
// any time.
func proofInCache(s proved.State) (string, error) {
	dir, err := userCache()
	if err != nil {
		return "", terminal.WithHint(fmt.Errorf("the system names no folder for the user's cache: %w", err),
			"set HOME, or XDG_CACHE_HOME to a folder; or write an ownerguide.yaml that names line and words, and the proof is kept beside it")
	}
	return filepath.Join(realPath(dir), "ownerguide", "proofs", s.FileName()), nil
}

// realPath resolves the links in the existing part of a path.
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

// proveBefore finds the proof of line and templates, and stores its digest for the records.
// The error says why there is none, and what to type.
func (c *commands) proveBefore(m *guide.Maker) error {
	m.Proof = ""
	s, shipped, err := c.toProve(m)
	if err != nil {
		return err
	}
	if shipped {
		m.Proof = s.Digest()
		return nil
	}
	places, noCache := c.proofPlaces(s)
	again := []string{"prove"}
	var why []error
	for _, name := range places {
		data, err := input.ReadPlain(name, source.SheetLimit)
		was, whole := proved.Read(data)
		switch name = filepath.ToSlash(name); {
		case errors.Is(err, fs.ErrNotExist):
		case err != nil:
			why = append(why, err)
		case !whole:
			why, again = append(why, errors.New(name+" is not as prove wrote it")), []string{"prove", "--force"}
		case s.After(was) == "":
			m.Proof = s.Digest()
			return nil
		default:
			why = append(why, fmt.Errorf("%s (%s)", s.After(was), name))
		}
	}
	if noCache != nil {
		why = append(why, noCache)
	} else if len(why) == 0 {
		why = append(why, errors.New("no proof of this state is kept in "+filepath.ToSlash(filepath.Dir(places[len(places)-1]))))
	}
	return terminal.WithHint(fmt.Errorf("%s not proved as they stand: %w", c.provedThings(), why[0]), "%s", usage.Typed(append(c.typedFlags, again...)))
}

// provedThings returns the subject of a sentence about line and templates.
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

// keepProof writes the proof of line and templates to the folder of the project file that
// names them or, if that does not exist or cannot be written, to the user's cache.
func (c *commands) keepProof(t *terminal.Terminal, m *guide.Maker, rules deliver.Rules) error {
	s, shipped, err := c.toProve(m)
	if err != nil || shipped {
		return err
	}
	if c.projectFile != "" && len(c.typedFlags) == 0 {
		name := path.Join(path.Dir(c.projectFile), proofFile)
		err := keepIn(t, rules, name, s)
		if err == nil {
			return nil
		}
		t.Note("the proof is not kept beside the project file: %v", err)
	}
	name, err := proofInCache(s)
	if err == nil {
		err = keepIn(t, rules, name, s)
	}
	if err != nil {
		return fmt.Errorf("all claims hold, but the proof cannot be kept: %w", err)
	}
	return nil
}

func keepIn(t *terminal.Terminal, rules deliver.Rules, name string, s proved.State) error {
	err := s.Keep(rules, name)
	if err == nil {
		t.Note("proved as they stand; that is kept in %s", filepath.ToSlash(name))
	}
	return err
}
