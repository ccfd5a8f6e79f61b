package main

import (
	"context"
	"errors"
	"fmt"
	"slices"

	"github.com/spf13/cobra"

	"curvelint/diagnostics"
	"curvelint/diagnostics/config"
	"curvelint/diagnostics/note"
	"curvelint/diagnostics/passes"
	"curvelint/diagnostics/passes/write"
	"curvelint/diagnostics/report"
	"curvelint/diagnostics/words"
	"curvelint/parse/scene"
)

// compareOptions are the flags of compare.
type compareOptions struct {
	format, output string
	frames, part   string
	fps            float64
	config, failOn string
	reference      bool

	bar    note.Severity // failOn, read; note.Off for never
	limits passes.Options
}

const compareLong = `Compare holds two passes of one shot against each other and says what changed, what
the audience sees most first: whether everything or a beat arrives sooner or later;
notes that are fixed, remaining and new; who leads; holds; and for each stroke its
timing, over how many frames it leaves and arrives, peak speed, arc depth, travel,
spacing contrast, reversals, lag and breakdown, what they were and what they
became. What is the same within noise is not spoken of.

Parts are matched by path, else by name and place, also between formats; strokes
by their motion, so that one that comes two frames sooner is the same stroke.

Captured motion, or a table of points tracked in the picture (u v), can stand for
either pass as a reference: then the timing of the beats is compared and nothing
else. Files that do not belong together, by the poses or the beats, are not
compared.

The exit status is 0 when no new note reaches the bar of --fail-on, 1 when one
does, and 2 when something could not be read or the call is wrong.`

const compareExample = `  curvelint compare shot_spline.usda shot_polish.usda
  curvelint compare --part '*head*' --frames 1030-1050 shot_v3.usda shot_v4.usda
  curvelint compare --format html --output changes.html shot_v3.usda shot_v4.bvh
  curvelint compare --reference take7.bvh shot.usda`

func newCompare(std streams) *cobra.Command {
	var o compareOptions
	c := &cobra.Command{
		Use:     "compare [flags] BEFORE AFTER",
		Short:   "Say what changed from one pass to the next",
		Long:    compareLong,
		Example: compareExample,
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) != 2 {
				return errors.New("compare needs two files, the earlier pass and the later one; see curvelint compare --help")
			}
			return nil
		},
		RunE: func(c *cobra.Command, args []string) error {
			if err := zeroGiven(c, "fps"); err != nil {
				return err
			}
			if err := o.validate(); err != nil {
				return err
			}
			return runCompare(c.Context(), std, &o, args[0], args[1])
		},
	}
	f := c.Flags()
	f.SortFlags = false
	f.StringVar(&o.format, "format", "text", "how the comparison is written: text, json or html")
	f.StringVarP(&o.output, "output", "o", "", "write it to `FILE`, at once when all is there")
	f.StringVar(&o.part, "part", "", "compare the parts that match `PATTERN` only, such as '*brow*'")
	f.StringVar(&o.frames, "frames", "", "compare the frames `A-B` of the later pass only")
	f.Float64Var(&o.fps, "fps", 0, "frames per second, instead of what the files say (`N`)")
	f.StringVar(&o.config, "config", "", "use this `FILE` instead of looking for curvelint.toml")
	f.StringVar(&o.failOn, "fail-on", "warning", "exit with status 1 at new notes of this severity or above:\nwarning, information or never")
	f.BoolVar(&o.reference, "reference", false, "one of the two is captured motion: compare the timing of beats only")
	return c
}

// validate reads the flags that are words and finds wrong calls before any work
// is done.
func (o *compareOptions) validate() error {
	if !slices.Contains(write.Formats, o.format) {
		return fmt.Errorf("unknown --format %q; expected text, json or html", o.format)
	}
	o.limits.Reference = o.reference
	if o.frames != "" {
		f, err := config.ParseFrames(o.frames)
		if err != nil {
			return fmt.Errorf("--frames: %w", err)
		}
		o.limits.First, o.limits.Last, o.limits.HasRange = f.First, f.Last, true
	}
	if o.part != "" {
		g, err := config.NewGlob(o.part)
		if err != nil {
			return fmt.Errorf("--part: %w", err)
		}
		o.limits.Match = g.Match
	}
	if o.fps < 0 || o.fps > 1000 || o.fps != o.fps {
		return fmt.Errorf("--fps: expected a number from 1 to 1000, found %s", words.Number(o.fps))
	}
	var err error
	o.bar, err = parseBar(o.failOn)
	return err
}

// runCompare reads both passes, compares them and writes what changed.
func runCompare(ctx context.Context, std streams, o *compareOptions, before, after string) error {
	k := newChecker(std, &checkOptions{format: o.format, output: o.output, fps: o.fps, config: o.config})
	found, err := k.finder.For(after)
	if err != nil {
		return err
	}
	if found.Path == "" {
		// Both passes are judged alike, wherever they lie.
		if found, err = k.finder.For(before); err != nil {
			return err
		}
	}
	later, err := k.judgeEarlier(ctx, after, found)
	if err != nil {
		return err
	}
	earlier, err := k.judgeEarlier(ctx, before, found)
	if err != nil {
		return err
	}
	if ctx.Err() != nil {
		return errors.New("interrupted")
	}
	if err := o.concern(earlier.Study.Scene, later.Study.Scene); err != nil {
		return err
	}
	c, err := passes.Compare(ctx, earlier.Study, later.Study, earlier.Notes, later.Notes, o.limits)
	if err != nil {
		return errors.New("interrupted")
	}
	if c.Unrelated != "" {
		return fmt.Errorf("%s and %s do not belong together: %s", report.Visible(before), report.Visible(after), c.Unrelated)
	}
	out, err := k.openOutput()
	if err != nil {
		return err
	}
	if err := out.finish(write.Comparison(o.format, out, c)); err != nil {
		return fmt.Errorf("the comparison could not be written: %w", err)
	}
	return compareStatus(std, o, earlier, later, c)
}

// concern returns an error when the limits leave nothing of the passes to compare.
func (o *compareOptions) concern(earlier, later *scene.Scene) error {
	l := &o.limits
	judged := config.Frames{First: l.First, Last: l.Last}
	if l.HasRange && later.First <= later.Last && !meet(judged, later.First, later.Last) {
		return errors.New("--frames: " + noneOf(judged, later.Files[0].Path, later.First, later.Last))
	}
	if l.Match == nil {
		return nil
	}
	for _, sc := range []*scene.Scene{earlier, later} {
		for i := range sc.Parts {
			if l.Match(sc.Parts[i].Path) {
				return nil
			}
		}
	}
	return fmt.Errorf("--part: no part of either pass matches %q", o.part)
}

// compareStatus says on standard error what makes the comparison doubtful and
// returns the exit status.
func compareStatus(std streams, o *compareOptions, earlier, later *diagnostics.Result, c *passes.Comparison) error {
	for _, r := range []*diagnostics.Result{earlier, later} {
		for i := range r.Notes {
			if n := &r.Notes[i]; n.Severity == note.Error {
				fmt.Fprintf(std.err, "curvelint: %s: %s [%s]\n", report.Visible(r.Study.Scene.Files[0].Path), report.Visible(n.Message), n.Check)
			}
		}
	}
	var s report.Summary
	s.Add(&report.File{Notes: report.Placed(c.After.Scene, c.Notes.New)}, "")
	if s.Reaches(o.bar) {
		return status(statusNotes)
	}
	return nil
}
