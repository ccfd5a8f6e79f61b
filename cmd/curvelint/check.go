package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"runtime"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"curvelint/diagnostics"
	"curvelint/diagnostics/config"
	"curvelint/diagnostics/note"
	"curvelint/diagnostics/report"
	"curvelint/diagnostics/words"
)

// checkOptions are the flags of check.
type checkOptions struct {
	format, output string
	only, skip     []string
	frames         string
	fps            float64
	config         string
	failOn         string
	watch          bool
	jobs, worst    int
	name           string
	before         string

	judged *config.Frames // frames, read
	bar    note.Severity  // failOn, read; note.Off for never
}

const checkLong = `Check reads scene files, studies their motion and prints a note for each flaw, at
the line that causes it. PATH is a file or a folder; of a folder, every file with
the extension of a known format is read, hidden folders aside. - is standard
input.

Notes go to standard output, a summary to standard error. The exit status is 0
when no note reaches the bar of --fail-on, 1 when one does, and 2 when something
could not be read or the call is wrong.

Each file is judged by the nearest curvelint.toml in its folder or above.`

const checkExample = `  curvelint check shot.usda
  curvelint check --worst 5 shots/
  curvelint check --format json --output notes.json shots/
  curvelint check --format html --output notes.html shots/
  curvelint check --checks even-spacing,hitch --frames 1001-1048 shot.bvh
  curvelint check --before shot_v3.usda shot_v4.usda
  curvelint check --name shot.usda - < shot.usda`

func newCheck(std streams) *cobra.Command {
	var o checkOptions
	c := &cobra.Command{
		Use:     "check [flags] PATH...",
		Short:   "Give notes on the motion in files and folders",
		Long:    checkLong,
		Example: checkExample,
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) == 0 {
				return errors.New("check needs the path of a file or folder, or - for standard input; see curvelint check --help")
			}
			return nil
		},
		RunE: func(c *cobra.Command, args []string) error {
			if err := zeroGiven(c, "fps", "worst", "jobs"); err != nil {
				return err
			}
			if err := o.validate(args); err != nil {
				return err
			}
			return runCheck(c.Context(), std, &o, args)
		},
	}
	f := c.Flags()
	f.SortFlags = false
	f.StringVar(&o.format, "format", "text", "how notes are written: text, json, sarif or html")
	f.StringVarP(&o.output, "output", "o", "", "write the notes to `FILE`, at once when all are there")
	f.StringSliceVar(&o.only, "checks", nil, "give the notes of these checks only (`ID,ID`)")
	f.StringSliceVar(&o.skip, "skip", nil, "give no notes of these checks (`ID,ID`)")
	f.StringVar(&o.frames, "frames", "", "judge the frames `A-B` only; the whole clip is studied")
	f.Float64Var(&o.fps, "fps", 0, "frames per second, instead of what the file says (`N`)")
	f.StringVar(&o.config, "config", "", "use this `FILE` instead of looking for curvelint.toml")
	f.StringVar(&o.failOn, "fail-on", "warning", "exit with status 1 at notes of this severity or above:\nwarning, information or never")
	f.IntVar(&o.worst, "worst", 0, "give only the `N` heaviest notes of each file")
	f.StringVar(&o.before, "before", "", "give only the notes that are new since the earlier pass in `FILE`")
	f.StringVar(&o.name, "name", "", "the `PATH` that standard input is taken to have")
	f.IntVarP(&o.jobs, "jobs", "j", 0, "read `N` files at a time (default: one per processor)")
	f.BoolVar(&o.watch, "watch", false, "stay, and check files again when they change")
	return c
}

// validate reads the flags that are words and finds wrong calls before any work
// is done.
func (o *checkOptions) validate(args []string) error {
	if o.format != htmlFormat && !slices.Contains(report.Formats, o.format) {
		return fmt.Errorf("unknown --format %q; expected text, json, sarif or html", o.format)
	}
	if err := o.selection().Validate(); err != nil {
		return err
	}
	if o.frames != "" {
		f, err := config.ParseFrames(o.frames)
		if err != nil {
			return fmt.Errorf("--frames: %w", err)
		}
		o.judged = &f
	}
	var err error
	if o.bar, err = parseBar(o.failOn); err != nil {
		return err
	}
	switch {
	case o.fps < 0 || o.fps > 1000 || o.fps != o.fps:
		return fmt.Errorf("--fps: expected a number from 1 to 1000, found %s", words.Number(o.fps))
	case o.jobs < 0:
		return fmt.Errorf("--jobs: expected at least 1, found %d", o.jobs)
	case o.worst < 0:
		return fmt.Errorf("--worst: expected at least 1, found %d", o.worst)
	case o.watch && slices.Contains(args, "-"):
		return errors.New("--watch needs files; standard input cannot be read again")
	case o.watch && o.format != "text" && o.output == "":
		return fmt.Errorf("--watch with --format %s needs --output, which is written anew after each change", o.format)
	case o.before != "" && (len(args) != 1 || isFolder(args[0])):
		return errors.New("--before is the earlier pass of one file; give that file alone")
	case o.name != "" && !slices.Contains(args, "-"):
		return errors.New("--name is for standard input; give - as the path")
	}
	if o.jobs == 0 {
		o.jobs = runtime.GOMAXPROCS(0)
	}
	return nil
}

// zeroGiven returns an error for the first of the flags that is given as 0, which
// stands for a flag that is not given.
func zeroGiven(c *cobra.Command, flags ...string) error {
	for _, name := range flags {
		if f := c.Flags().Lookup(name); f.Changed && f.Value.String() == "0" {
			return fmt.Errorf("--%s: expected at least 1, found 0", name)
		}
	}
	return nil
}

// parseBar reads the value of --fail-on; note.Off stands for never.
func parseBar(failOn string) (note.Severity, error) {
	switch failOn {
	case "never":
		return note.Off, nil
	case "warning", "information", "hint", "error":
		bar, _ := note.ParseSeverity(failOn)
		return bar, nil
	}
	return note.Off, fmt.Errorf("unknown --fail-on %q; expected warning, information or never", failOn)
}

func isFolder(path string) bool {
	info, err := os.Stat(path)
	return err == nil && info.IsDir()
}

func (o *checkOptions) selection() diagnostics.Selection {
	return diagnostics.Selection{Only: o.only, Skip: o.skip}
}

// apply returns the configuration with what the flags say over it.
func (o *checkOptions) apply(c *config.Config) *config.Config {
	k := *c
	if o.fps > 0 {
		k.FPS = o.fps
	}
	if o.judged != nil {
		k.Frames, k.HasFrames = *o.judged, true
	}
	return &k
}

// runCheck checks the paths once, or again and again.
func runCheck(ctx context.Context, std streams, o *checkOptions, args []string) error {
	k := newChecker(std, o)
	inputs := k.expand(args)
	if len(inputs) == 0 && !k.failed {
		k.complain("no scene files in %s; known extensions are %s", strings.Join(args, ", "), extensionList())
	}
	defer lean(inputs)()
	outcomes, err := k.once(ctx, inputs)
	if err != nil {
		return err
	}
	if o.watch && ctx.Err() == nil {
		return k.watch(ctx, args, outcomes)
	}
	if s := k.exitStatus(outcomes); s != statusClean {
		return status(s)
	}
	return nil
}
