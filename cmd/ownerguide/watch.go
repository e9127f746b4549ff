package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"github.com/fsnotify/fsnotify"

	"ownerguide/cmd/ownerguide/internal/guide"
	"ownerguide/cmd/ownerguide/internal/input"
	"ownerguide/cmd/ownerguide/internal/terminal"
	"ownerguide/spec/source"
)

// quiet is how long no file must have changed before guides are made: an editor writes a
// file in several steps, and a checkout writes many files one after another.
const quiet = 40 * time.Millisecond

// errStopped reports that the user ended watching, which is not an error.
var errStopped = errors.New("watching was stopped")

// watcher makes guides again whenever one of their inputs changes.
type watcher struct {
	*writeCommand
	cli   *commands
	t     *terminal.Terminal
	files *fsnotify.Watcher
	have  ingredients                // line and templates that have not changed since they were read
	maker *guide.Maker               // nil until line and templates have no errors
	known map[string][]byte          // sheets as last read
	clash map[string]source.Findings // findings about shared serial numbers then, by sheet
}

// watch makes the guides, and again on every change, until ctx is done.
func (c *writeCommand) watch(cli *commands, ctx context.Context, t *terminal.Terminal) error {
	if slices.Contains(c.Sheets, "-") {
		return terminal.Usagef("standard input cannot be watched; name the sheet's file")
	}
	files, err := fsnotify.NewWatcher()
	if err != nil {
		return fmt.Errorf("watching files: %w", err)
	}
	defer files.Close()
	w := &watcher{writeCommand: c, cli: cli, t: t, files: files, known: map[string][]byte{}}
	for {
		// Watch before reading, so that no change is missed.
		if err := w.look(); err != nil {
			return err
		}
		switch err := w.round(ctx); {
		case errors.As(err, new(terminal.UsageError)):
			return err
		case err != nil && ctx.Err() == nil && !errors.Is(err, terminal.ErrFound):
			t.Problem(err)
		}
		t.Finish()
		t.Note("watching; Ctrl-C ends it")
		if err := w.wait(ctx); err != nil {
			if errors.Is(err, errStopped) {
				t.Note("stopped; every guide on disk is whole")
			}
			return err
		}
	}
}

// look watches every folder with relevant files; watching one twice is harmless. It
// watches folders and not files, because many editors replace files.
func (w *watcher) look() error {
	var folders []string
	for _, arg := range w.Sheets {
		folder := arg
		if info, err := os.Stat(arg); err != nil || !info.IsDir() {
			folder = filepath.Dir(arg)
		}
		if strings.ContainsAny(folder, "*?[") {
			return terminal.Usagef("%s: the folder of a watched pattern must be a plain name", arg)
		}
		folders = append(folders, folder)
	}
	for _, root := range []string{w.cli.Line, w.cli.Templates} {
		if root == "" { // embedded files never change
			continue
		}
		err := filepath.WalkDir(root, func(path string, entry fs.DirEntry, err error) error {
			if err == nil && entry.IsDir() {
				folders = append(folders, path)
			}
			return err
		})
		if err != nil {
			return fmt.Errorf("watching %s: %w", root, terminal.PlainError(err))
		}
	}
	for _, folder := range folders {
		if err := w.files.Add(folder); err != nil {
			return fmt.Errorf("watching %s: %w", folder, terminal.PlainError(err))
		}
	}
	return nil
}

// round makes the guides of sheets that changed, or of all if line or templates changed.
func (w *watcher) round(ctx context.Context) error {
	if w.maker == nil {
		clear(w.known)
		m, err := w.cli.reload(w.t, &w.have)
		if err != nil {
			return err
		}
		w.maker = m
	}
	was := w.maker.Proof
	if err := w.cli.proveBefore(w.maker); err != nil {
		w.t.Note("drafts say on every page that they are not proved: %v", err)
	}
	if w.maker.Proof != was { // every draft has another mark
		clear(w.known)
	}
	all, unread := input.ReadSheets(w.Sheets, nil)
	var changed []input.SheetFile
	for _, f := range all {
		// Neither of two sheets that share a number is written, so a change of one may
		// affect the other.
		if before, known := w.known[f.Name]; !known || !bytes.Equal(before, f.Data) || len(w.clash[f.Name]) > 0 {
			changed = append(changed, f)
			w.known[f.Name] = f.Data
		}
	}
	w.clash = guide.Repeated(guide.Whose(all))
	w.rules = w.cli.outputs(w.Force, namesOf(all)...)
	if err := w.t.SideFindings(unread); err != nil {
		return err
	}
	if len(changed) == 0 {
		return nil
	}
	d, err := w.open(all)
	if err != nil {
		return err
	}
	defer d.Close()
	return w.batch(ctx, w.t, w.maker, d, changed)
}

// wait blocks until something has changed and then nothing for a while. It discards line
// or templates if they have changed.
func (w *watcher) wait(ctx context.Context) error {
	var settled <-chan time.Time
	for {
		select {
		case <-ctx.Done():
			return errStopped
		case <-settled:
			return nil
		case err, ok := <-w.files.Errors:
			if !ok {
				return errors.New("watching files ended")
			}
			// Events were lost: assume that anything may have changed.
			w.t.Problem(fmt.Errorf("watching files: %w", err))
			w.have, w.maker, settled = ingredients{}, nil, time.After(quiet)
		case e, ok := <-w.files.Events:
			if !ok {
				return errors.New("watching files ended")
			}
			if w.matters(e) {
				settled = time.After(quiet)
			}
		}
	}
}

// matters reports whether an event is about an input of guides, and discards line or
// templates if it is about them. Temporary files of editors are ignored.
func (w *watcher) matters(e fsnotify.Event) bool {
	name := filepath.Base(e.Name)
	if !e.Has(fsnotify.Write|fsnotify.Create|fsnotify.Rename|fsnotify.Remove) ||
		strings.HasPrefix(name, ".") || strings.HasPrefix(name, "#") || strings.HasSuffix(name, "~") {
		return false
	}
	ofLine, ofTemplates := holds(w.cli.Line, e.Name), holds(w.cli.Templates, e.Name)
	if ofLine {
		w.have.line, w.maker = nil, nil
	}
	if ofTemplates {
		w.have.templates, w.maker = nil, nil
	}
	ext := filepath.Ext(name)
	return ofLine || ofTemplates || ext == ".yaml" || ext == ".yml"
}

// holds reports whether a file is in a folder; folder may be empty.
func holds(folder, file string) bool {
	inside, err := filepath.Rel(folder, file)
	return folder != "" && err == nil && filepath.IsLocal(inside)
}
