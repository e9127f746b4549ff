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

// quiet is how long no file may change before guides are made: an editor writes
// a file in several steps, and a checkout many files one after the other.
const quiet = 40 * time.Millisecond

// errStopped says that the person ended the watching, as it is meant to end.
var errStopped = errors.New("watching was stopped")

// watcher makes guides again whenever what they are made from changes.
type watcher struct {
	*writeCommand
	cli   *commands
	t     *terminal.Terminal
	files *fsnotify.Watcher
	have  ingredients                // line and templates that have not changed since they were read
	maker *guide.Maker               // nil until line and templates are whole
	known map[string][]byte          // sheets as they were last read
	clash map[string]source.Findings // which of them shared a serial number then
}

// watch makes the guides, and again on every change, until ctx ends.
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
		// First look out, then read: no change in between is missed.
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

// look adds every folder whose files matter; those watched already are no
// trouble. Folders and not files, since many editors put a new file in the place
// of the old one.
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
		if root == "" { // that inside the program never changes
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

// round makes the guides of sheets that changed, or of all when line or templates did.
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
		// Of two sheets that share a number neither is written, so that a change
		// of one is news for the other.
		if before, known := w.known[f.Name]; !known || !bytes.Equal(before, f.Data) || len(w.clash[f.Name]) > 0 {
			changed = append(changed, f)
			w.known[f.Name] = f.Data
		}
	}
	w.clash = guide.Repeated(all)
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

// wait blocks until something changed and then nothing did for a while. It forgets
// line or templates when they are among it.
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
			// Changes were lost: take it that anything may have changed.
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

// matters reports whether an event is about a file that guides are made from, and
// forgets the line or the templates when it is one of theirs. Editors keep copies
// of their own beside a file.
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

// holds reports whether a file lies in a folder, where there is one.
func holds(folder, file string) bool {
	inside, err := filepath.Rel(folder, file)
	return folder != "" && err == nil && filepath.IsLocal(inside)
}
