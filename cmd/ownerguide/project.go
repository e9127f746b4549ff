package main

import (
	"cmp"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"strings"

	"ownerguide/cmd/ownerguide/internal/input"
	"ownerguide/cmd/ownerguide/internal/terminal"
	"ownerguide/spec/project"
	"ownerguide/spec/source"
)

// settle completes the command line from the project file, and finds the line in a folder
// written by unpack.
func (c *commands) settle(t *terminal.Terminal) error {
	for _, flag := range []struct{ name, dir string }{{"--line", c.Line}, {"--templates", c.Templates}} {
		if flag.dir != "" {
			c.typedFlags = append(c.typedFlags, flag.name, flag.dir)
		}
	}
	dir, err := projectFolder()
	if err != nil {
		return err
	}
	if dir != "" {
		found, err := c.fillIn(dir)
		if err := errors.Join(err, t.SideFindings(found)); err != nil {
			return err
		}
		if found.HasErrors() {
			return terminal.ErrFound
		}
	}
	for _, flag := range []struct{ name, dir string }{{"--line", c.Line}, {"--templates", c.Templates}} {
		if flag.dir != "" && !isFolder(flag.dir) {
			return terminal.WithHint(terminal.Usagef("%s %s: there is no such folder", flag.name, flag.dir), "ownerguide unpack %s writes a line and words to start from", flag.dir)
		}
	}
	if c.Line != "" && !holdsLine(c.Line) && holdsLine(path.Join(c.Line, "line")) {
		if words := path.Join(c.Line, "templates"); c.Templates == "" && isFolder(words) {
			c.Templates = words
		}
		c.Line = path.Join(c.Line, "line")
	}
	return nil
}

// projectFolder returns the folder of the project file relative to the working directory,
// which is that directory or its nearest ancestor with such a file. It is empty if there is none.
func projectFolder() (string, error) {
	here, err := os.Getwd()
	if err != nil {
		return "", fmt.Errorf("looking for %s: %w", project.File, terminal.PlainError(err))
	}
	seen := "."
	for {
		if info, err := os.Stat(filepath.Join(here, project.File)); err == nil && info.Mode().IsRegular() {
			return seen, nil
		}
		above := filepath.Dir(here)
		if above == here {
			return "", nil
		}
		here, seen = above, path.Join("..", seen)
	}
}

// fillIn reads the project file of a folder.
func (c *commands) fillIn(dir string) (source.Findings, error) {
	c.projectFile = path.Join(dir, project.File)
	data, err := input.ReadCapped(c.projectFile, nil)
	if err != nil {
		return nil, err
	}
	p, found := project.Read(c.projectFile, data)
	if p == nil {
		return found, nil
	}
	for _, from := range []struct {
		flag   *string
		folder source.Given[string]
	}{{&c.Line, p.Line}, {&c.Templates, p.Templates}} {
		if *from.flag != "" || !from.folder.Set {
			continue
		}
		if *from.flag = project.In(dir, from.folder); !isFolder(*from.flag) {
			found.Add(project.MissingFolder(from.folder))
		}
	}
	c.out, c.paper = project.In(dir, p.Out), p.Paper.Value
	return found, nil
}

func isFolder(name string) bool {
	info, err := os.Stat(name)
	return err == nil && info.IsDir()
}

func holdsLine(dir string) bool {
	_, err := os.Stat(filepath.Join(dir, "line.yaml"))
	return !errors.Is(err, fs.ErrNotExist)
}

// outFolder returns the default output folder.
func (c *commands) outFolder() string { return cmp.Or(c.out, "out") }

// sayWhose prints which line is in use, and which templates if words is set, unless both
// are the program's: a guide with the wrong texts looks right.
func (c *commands) sayWhose(t *terminal.Terminal, words bool) {
	if c.said || c.Line == "" && (c.Templates == "" || !words) {
		return
	}
	c.said = true
	say := "the line is " + cmp.Or(c.Line, "the program's")
	if words {
		say += ", the words are " + cmp.Or(c.Templates, "the program's")
	}
	if c.projectFile != "" {
		say += " (" + c.projectFile + ")"
	}
	if beside := path.Join(path.Dir(filepath.ToSlash(strings.TrimRight(c.Line, `/\`))), "templates"); words && c.Templates == "" && isFolder(beside) {
		say += "; --templates " + beside + " takes the words beside it"
	}
	t.Note("%s", say)
}
