// Command heatwright computes what will become of a piece of steel on its way
// through the fire, and prints the sheet that a smith works from.
package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"strings"
	"syscall"

	"github.com/alecthomas/kong"
	"github.com/heatwright/heatwright/internal/words"
	"github.com/heatwright/heatwright/unit"
	"golang.org/x/term"
)

// What the program returns to the shell.
const (
	exitDone      = 0
	exitFault     = 1 // a fault of the program itself
	exitInput     = 2 // what was given has to be put right
	exitOutside   = 3 // a disk, a file or another program failed
	exitCancelled = 130
)

// cli is the whole command line: one field a command, one file a command.
type cli struct {
	Serve       serveCmd       `cmd:"" help:"Open the bench in the browser; so does heatwright alone."`
	Run         runCmd         `cmd:"" help:"Work a job through and print its sheet."`
	Card        cardCmd        `cmd:"" help:"Print the pocket card of a job, with boxes to tick and room for what was seen."`
	Wall        wallCmd        `cmd:"" help:"Print the wall chart of a job's shop: dials, baths, thickest sections, temper colors."`
	Check       checkCmd       `cmd:"" help:"Read a job and say what has to be put right, without working it."`
	Shop        shopCmd        `cmd:"" help:"Tell what the fires, ovens and baths of a shop do in an evening: time, gas, carbon monoxide, pieces."`
	Steel       steelCmd       `cmd:"" help:"List the steels, or show one of them."`
	Equilibrium EquilibriumCmd `cmd:"" help:"Show the phases of a steel at a temperature, or draw its phase diagram."`
	Colors      ColorsCmd      `cmd:"" help:"Print your own chart of heats and temper colors for your light, steel and time."`
	Seen        SeenCmd        `cmd:"" help:"Say what was seen of a piece, by eye, magnet, file or thermometer, and get a band of temperature, hardness or soft skin."`
	Verify      verifyCmd      `cmd:"" help:"Hold the heat solver against exact solutions and print the table."`
	Evidence    evidenceCmd    `cmd:"" help:"Hold the models against measurements and print how far off they are."`
	Schema      schemaCmd      `cmd:"" help:"Print the JSON Schema of the job file or of the results, for editors and programs."`
	Version     versionCmd     `cmd:"" help:"Say which Heatwright this is."`
	Words       wordsCmd       `cmd:"" help:"Print the words of the trade and what they mean."`
	Licenses    licensesCmd    `cmd:"" help:"Print the licenses of Heatwright and of all that is built into it."`

	Units   string `help:"Which unit is said first: metric, imperial, or as the job says (job)." enum:"metric,imperial,job" default:"job" env:"HEATWRIGHT_UNITS"`
	English string `help:"American (US) or British (GB) words." enum:"US,GB" default:"US" env:"HEATWRIGHT_ENGLISH"`
}

const about = `Heatwright works a piece of steel through its steps, from the fire to the last
temper, and prints the sheet to work from. Start with an example:

  heatwright run examples/knife.toml

It is a clock and a model, not a sensor: it sees neither your fire nor your steel.

The command returns 0 when it is done, 1 for a fault of its own, 2 when what it
was given has to be put right, 3 when a file or a disk failed, 130 when stopped.`

// desk is what a command works with: where it writes, how it speaks.
type desk struct {
	ctx      context.Context
	in       io.Reader
	out, err io.Writer
	cli      *cli
}

// style returns how to speak to this reader; jobUnits is what the job asks for.
func (d *desk) style(jobUnits string) words.Style {
	s := words.Style{Language: words.American}
	if d.cli.English == "GB" {
		s.Language = words.British
	}
	units := d.cli.Units
	if units == "job" {
		units = jobUnits
	}
	if units == "imperial" {
		s.Units = unit.Imperial
	}
	return s
}

// terminal reports whether a person looks at what is written to w.
func terminal(w io.Writer) bool {
	f, ok := w.(*os.File)
	return ok && term.IsTerminal(int(f.Fd()))
}

// failure is an error with what the program returns for it.
type failure struct {
	exit int
	err  error
}

func (f *failure) Error() string { return f.err.Error() }
func (f *failure) Unwrap() error { return f.err }

// inputError says that what was given has to be put right.
func inputError(format string, args ...any) error {
	return &failure{exitInput, fmt.Errorf(format, args...)}
}

// outsideError says that a file or a disk failed.
func outsideError(format string, args ...any) error {
	return &failure{exitOutside, fmt.Errorf(format, args...)}
}

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	code := heatwright(ctx, os.Args[1:], os.Stdin, os.Stdout, os.Stderr)
	stop()
	os.Exit(code)
}

// stopped is what kong's wish to leave is turned into.
type stopped struct{ code int }

// heatwright runs one command and returns what to give to the shell. A fault of
// the program is told in one sentence; HEATWRIGHT_TRACE=1 lets it show where.
func heatwright(ctx context.Context, args []string, in io.Reader, out, errs io.Writer) (code int) {
	if os.Getenv("HEATWRIGHT_TRACE") == "" {
		defer func() {
			switch r := recover().(type) {
			case nil:
			case stopped:
				code = r.code
			default:
				fmt.Fprintf(errs, "heatwright: a fault of the program itself: %v\nPlease report it, with the job file.\n", r)
				code = exitFault
			}
		}()
	}
	var c cli
	d := &desk{ctx: ctx, in: in, out: out, err: errs, cli: &c}
	parser, err := kong.New(&c,
		kong.Name("heatwright"), kong.Description(about), kong.Writers(out, errs),
		kong.Exit(func(code int) { panic(stopped{code}) }),
		kong.ConfigureHelp(kong.HelpOptions{Compact: true, NoExpandSubcommands: true, WrapUpperBound: 88}),
		kong.UsageOnError(), kong.Bind(d))
	if err != nil {
		panic(err)
	}
	if len(args) == 0 {
		args = []string{"serve"}
	}
	k, err := parser.Parse(args)
	if err != nil {
		fmt.Fprintf(errs, "heatwright: %v\nheatwright --help shows the commands.\n", err)
		return exitInput
	}
	return finish(k.Run(d), errs)
}

func finish(err error, errs io.Writer) int {
	var f *failure
	switch {
	case err == nil:
		return exitDone
	case errors.Is(err, context.Canceled):
		fmt.Fprintln(errs, "heatwright: stopped; nothing was written")
		return exitCancelled
	case errors.As(err, &f):
		if text := strings.TrimSpace(words.Plain(f)); text != "" {
			fmt.Fprintf(errs, "heatwright: %s\n", text)
		}
		return f.exit
	}
	fmt.Fprintf(errs, "heatwright: a fault of the program itself: %v\nPlease report it, with the job file.\n", err)
	return exitFault
}
