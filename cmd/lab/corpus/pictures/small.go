package pictures

import (
	"context"
	"fmt"
	"slices"

	"curvelint/cmd/lab/corpus"
	"curvelint/diagnostics"
	"curvelint/diagnostics/config"
)

// small are scenes for the checks of keys, whose flaw the corpus does not plant:
// the gull's neck, keyed by hand, flawed and properly. Invented data.
var small = map[string][2]string{
	"spline-overshoot": {`double xformOp:rotateX.spline = {
            bezier,
            1: 0; post curve (3, 0),
            11: 32; pre (3, 3.5); post curve (4, 3.5),
            23: 30; pre (4, 0); post curve (3, 0),
            40: 0; pre (6, 0),
        }`, `double xformOp:rotateX.spline = {
            bezier,
            1: 0; post curve (3, 0),
            11: 32; pre (4, 0); post curve (4, 0),
            23: 30; pre (4, 0); post curve (3, 0),
            40: 0; pre (6, 0),
        }`},
	"sub-frame-key": {`double xformOp:rotateX.timeSamples = {1: 0, 8: 6, 13.4: 34, 19: 27, 28: 25, 40: 0}`, ""},
	"idle-key":      {`double xformOp:rotateX.timeSamples = {1: 0, 8: 4, 14: 22, 17: 28, 20: 34, 30: 31, 40: 0}`, ""},
}

// gullScene is a scene with one curve in it.
func gullScene(curve string) []byte {
	return fmt.Appendf(nil, `#usda 1.0
(
    startTimeCode = 1
    endTimeCode = 40
    timeCodesPerSecond = 24
)

def Xform "Gull"
{
    def Xform "neck"
    {
        double3 xformOp:translate = (0, 3, 16)
        %s
        uniform token[] xformOpOrder = ["xformOp:translate", "xformOp:rotateX"]

        def Xform "head"
        {
            double3 xformOp:translate = (0, 4, 7)
            uniform token[] xformOpOrder = ["xformOp:translate"]
        }
    }
}
`, curve)
}

// lookSmall finds the note in a small scene.
func lookSmall(ctx context.Context, check string) (*found, error) {
	run := func(curve string) *diagnostics.Result {
		cfg := &config.Config{}
		return diagnostics.Judge{Config: cfg}.Scene(ctx, diagnostics.Read("gull.usda", gullScene(curve), cfg, nil))
	}
	r := run(small[check][0])
	for i := range r.Notes {
		if n := r.Notes[i]; n.Check == check {
			f := &found{study: r.Study, note: n}
			if small[check][1] != "" {
				f.proper = run(small[check][1]).Study
			}
			return f, ctx.Err()
		}
	}
	return nil, fmt.Errorf("%s: %w", check, ErrUnseen)
}

// Checks are the checks that can be drawn: those that the corpus plants flaws of,
// and those of keys.
func Checks() []string {
	all := corpus.Checks()
	for check := range small {
		if !slices.Contains(all, check) {
			all = append(all, check)
		}
	}
	slices.Sort(all)
	return all
}
