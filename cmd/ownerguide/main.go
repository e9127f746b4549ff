package main

import (
	"context"
	"embed"
	"errors"
	"io"
	"os"
	"os/signal"
	"strings"
	"syscall"
	"time"

	"github.com/alecthomas/kong"

	"ownerguide/cmd/ownerguide/internal/guide"
	"ownerguide/cmd/ownerguide/internal/terminal"
	"ownerguide/cmd/ownerguide/internal/usage"
	"ownerguide/spec/parallel"
)

// Exit codes of the program.
const (
	exitClean       = 0   // done; warnings are allowed
	exitErrors      = 1   // errors in sheets, line or templates, or a file that could not be written
	exitUsage       = 2   // the command line was wrong
	exitInterrupted = 130 // interrupted by the user
)

// commands is the command line.
type commands struct {
	Line      string           `placeholder:"DIR" complete:"folder" help:"Product line to use instead of the embedded one, or a folder that unpack wrote."`
	Templates string           `placeholder:"DIR" complete:"folder" help:"Templates that go before the embedded ones: a text you do not give is the program's."`
	Quiet     bool             `short:"q" help:"Say nothing in passing: only results, findings and errors."`
	Version   kong.VersionFlag `short:"V" help:"Print the version and stop."`

	Check   checkCommand   `cmd:"" help:"Check build sheets and print the findings."`
	Write   writeCommand   `cmd:"" help:"Write the guides of build sheets."`
	Mail    mailCommand    `cmd:"" help:"Draft the mail that brings a guide to its buyer."`
	Explain explainCommand `cmd:"" help:"Show where a unit's figures come from."`
	Prove   proveCommand   `cmd:"" help:"Prove line and templates for every build that can be ordered."`
	Codes   codesCommand   `cmd:"" project:"none" help:"List the findings that checks can report, or explain one."`
	Options optionsCommand `cmd:"" help:"Show the models, or what can be ordered on one."`
	Unpack  unpackCommand  `cmd:"" project:"none" help:"Write the embedded line and templates as a start for your own."`
	Begin   beginCommand   `cmd:"" help:"Write build sheets to fill in, for a model or from an order export."`
	Schema  schemaCommand  `cmd:"" project:"none" help:"Print a JSON Schema for an editor."`
	Compare compareCommand `cmd:"" help:"Tell what differs between two guides."`
	Verify  verifyCommand  `cmd:"" help:"Hold guides that were written against their records."`
	Find    findCommand    `cmd:"" help:"Find the units that carry a part, for a recall."`
	Index   indexCommand   `cmd:"" help:"List the units of an output folder in its index.html."`

	Licences licencesCommand `cmd:"" project:"none" help:"List the licence of this program, and of whose work is in it."`

	HelpOf    helpCommand    `cmd:"" project:"none" name:"help" help:"Show what the commands do, or one of them."`
	VersionOf versionCommand `cmd:"" project:"none" name:"version" help:"Print the version."`

	Completion completionCommand `cmd:"" project:"none" help:"Print a script that lets the Tab key complete."`
	Complete   completeCommand   `cmd:"" project:"none" hidden:""`

	projectFile string   // the project file that was read; empty if there is none
	out, paper  string   // from the project file
	typedFlags  []string // the flags that name line and templates, as typed
	said        bool     // which line is in use has been printed
}

// help has a file for each command: what it does, and an example.
//
//go:embed help
var help embed.FS

func main() {
	collectLate()
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	t := terminal.New(os.Stdout, os.Stderr)
	context.AfterFunc(ctx, func() { giveUp(t, stop) })
	code := run(ctx, os.Args[1:], os.Stdin, t)
	stop()
	os.Exit(code)
}

// patience is how long an interrupted run may take to stop.
const patience = 3 * time.Second

// giveUp ends the process if an interrupted run does not stop by itself, for example
// because it waits for a pipe that nobody writes to. A second signal ends it at once.
// Nothing is lost, because files are written atomically.
func giveUp(t *terminal.Terminal, restore func()) {
	restore()
	time.Sleep(patience)
	t.Interrupted()
	os.Exit(exitInterrupted)
}

// run is the program without its process, so that tests can call it.
func run(ctx context.Context, args []string, in io.Reader, t *terminal.Terminal) (code int) {
	err := parallel.Guard(func() error {
		code = command(ctx, args, in, t)
		return nil
	})
	if err != nil { // it panicked
		t.Problem(err)
		return exitErrors
	}
	return code
}

// command executes a command line.
func command(ctx context.Context, args []string, in io.Reader, t *terminal.Terminal) int {
	exited := -1
	var cli commands
	parser, err := kong.New(&cli,
		kong.Name("ownerguide"),
		kong.Description("Writes the owner guide of one trailer from its build sheet.\n\nExit codes: 0 done (warnings allowed), 1 errors found or a file could not be written, 2 wrong usage, 130 interrupted."),
		kong.Vars{"version": guide.Version()},
		kong.Writers(t, t.Beside()),
		kong.Exit(func(c int) { exited = c }),
		kong.ConfigureHelp(kong.HelpOptions{Compact: true}),
		kong.Bind(t),
		kong.BindTo(ctx, (*context.Context)(nil)),
		kong.BindTo(in, (*io.Reader)(nil)),
	)
	if err != nil {
		panic(err) // an error in the declarations of the command line
	}
	for _, c := range parser.Model.Children {
		text, _ := help.ReadFile("help/" + c.Name + ".txt") // complete is not for people and has none
		c.Detail = strings.TrimSpace(string(text))
	}
	if len(args) == 0 { // as with a mistake, nothing was done
		parser.Stdout = t.Beside()
		_, _ = parser.Parse([]string{"--help"})
		return exitUsage
	}
	parsed, err := parser.Parse(args)
	switch {
	case t.Failed != nil: // of --help or --version
		t.Problem(t.Failed)
		return exitErrors
	case exited >= 0:
		return exited
	case err != nil:
		t.Usage(usage.Diagnose(parser.Model.Node, args, err), selected(err))
		return exitUsage
	}
	t.Quiet = cli.Quiet
	if parsed.Selected().Tag.Get("project") != "none" {
		err = cli.settle(t)
	}
	if err == nil {
		err = parsed.Run(&cli)
	}
	t.Finish()
	if joined, ok := err.(interface{ Unwrap() []error }); ok && len(joined.Unwrap()) == 1 {
		err = joined.Unwrap()[0] // kong returns every error wrapped
	}
	switch {
	case errors.Is(err, errStopped):
		return exitClean
	case ctx.Err() != nil:
		t.Interrupted()
		return exitInterrupted
	case errors.Is(err, terminal.ErrFound):
		return exitErrors
	case errors.As(err, new(terminal.UsageError)):
		t.Usage(err, parsed.Selected().Name)
		return exitUsage
	case err == nil:
		err = t.Failed
	}
	if err != nil {
		t.Problem(err)
		return exitErrors
	}
	return exitClean
}

// selected returns the command in a refused command line, as far as it was
// recognized.
func selected(err error) string {
	var refused *kong.ParseError
	if errors.As(err, &refused) && refused.Context != nil && refused.Context.Selected() != nil {
		return refused.Context.Selected().Name
	}
	return ""
}

// helpCommand is --help as a command.
type helpCommand struct {
	Command string `arg:"" optional:"" complete:"command" help:"Command to show; all are listed when left out."`
}

// Run prints the help of the program or of a command.
func (c *helpCommand) Run(k *kong.Context) error {
	words := []string{}
	if c.Command != "" {
		words = append(words, c.Command)
	}
	of, err := kong.Trace(k.Kong, words)
	if err == nil {
		err = of.Error
	}
	if err != nil {
		return usage.Diagnose(k.Model.Node, words, err, "help")
	}
	return of.PrintUsage(false)
}

type versionCommand struct{}

// Run prints the version.
func (versionCommand) Run(t *terminal.Terminal) error {
	return t.Line("%s", guide.Version())
}
