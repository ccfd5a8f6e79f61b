package contact

import (
	_ "embed"
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/diagnostics/checks/kit"
	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/motion/track"
	"curvelint/diagnostics/note"
	"curvelint/diagnostics/words"
)

//go:embed loop_seam.md
var loopSeamDoc string

// The settings of loop-seam.
var (
	loopSeamJump  = kit.Number{Name: "jump", Unit: "ratio", Default: 1.5, Min: 1, Max: 100, Doc: "step from last to first frame, as a multiple of the larger step at the two ends"}
	loopSeamSpeed = kit.Number{Name: "speed", Unit: "ratio", Default: 0.2, Min: 0, Max: 1, Doc: "difference of the speeds at the two ends, as a share of the peak"}
	loopSeamLeast = kit.Number{Name: "least", Unit: "figure", Default: 0.002, Min: 0, Max: 1, Doc: "a smaller jump is not seen"}
)

// The limits of loop-seam.
var (
	loopSeamUnusual = kit.Limit{Name: "unusual", Value: 1.3, Unit: "ratio",
		Doc:    "the speed must change so many times more than it usually does from frame to frame",
		Source: "common practice, no source"}
	loopSeamUsual = kit.Limit{Name: "usual", Value: 0.95, Unit: "ratio",
		Doc:    "what it usually does is this share of its changes",
		Source: "robust largest value; common practice, no source"}
	loopSeamRepeats = kit.Limit{Name: "repeats", Value: 1e-6, Unit: "figure",
		Doc:    "a last frame that is nearer to the first repeats it",
		Source: "rounding of a float32 file"}
	loopSeamNoisy = kit.Limit{Name: "noisy", Value: 2, Unit: "ratio",
		Doc:    "so is one that is nearer than so many times the noise",
		Source: "ground rule of the tool: change below twice the noise is no motion"}
)

// LoopSeam finds cycles that jump where they begin again.
var LoopSeam = &kit.Check{
	ID:       "loop-seam",
	Severity: note.Warning,
	Group:    kit.Contact,
	Title:    "a cycle that jumps",
	Doc:      loopSeamDoc,
	Settings: []kit.Setting{&loopSeamJump, &loopSeamSpeed, &loopSeamLeast},
	Limits:   []*kit.Limit{&loopSeamUnusual, &loopSeamUsual, &loopSeamRepeats, &loopSeamNoisy},
	Run:      runLoopSeam,
}

// seam is what a point does where a cycle begins again.
type seam struct {
	kit.Candidate
	jump, ends float64
	speeds     float64 // difference over the peak
}

func runLoopSeam(c *kit.Context) []note.Note {
	s := c.Study
	if !s.Options.Loop || s.N < 4 {
		return nil
	}
	var notes []note.Note
	for _, fig := range c.Living() {
		var all []seam
		for i := range fig.Points {
			if c.Ctx.Err() != nil {
				return nil
			}
			if f, ok := seamOf(c, fig, i); ok {
				all = append(all, f)
			}
		}
		kept := kit.OneCause(fig, all, func(f *seam) *kit.Candidate { return &f.Candidate })
		if len(kept) > 0 {
			notes = append(notes, seamNote(c, fig, kept))
		}
	}
	return notes
}

// seamOf compares the step from the last to the first frame with those at both
// ends. A last frame that repeats the first is the same moment: then the steps
// beside it are compared. What travels along (a walk that gets on) is judged
// without its travel.
func seamOf(c *kit.Context, fig *motion.Figure, i int) (seam, bool) {
	t := fig.CarriedTrack(i)
	n := t.Len()
	shift := travel(c, fig)
	first, last := t.At(0), r3.Sub(t.At(n-1), shift)
	before, after := r3.Norm(t.Step(n-2)), r3.Norm(t.Step(0))
	jump := r3.Norm(r3.Sub(first, last))
	peak, change := 0.0, make([]float64, 0, n)
	for i, v := range t.Spacing() {
		peak = max(peak, v)
		if i > 0 {
			change = append(change, math.Abs(v-t.Spacing()[i-1]))
		}
	}
	f := seam{Candidate: kit.Candidate{Track: t, First: n - 1, Last: n - 1, Size: jump}, jump: jump, ends: max(before, after)}
	repeats := jump <= max(loopSeamRepeats.Value, loopSeamNoisy.Value*t.Noise)
	if peak > 0 {
		f.speeds = math.Abs(before-after) / peak
	}
	// A quick cycle changes its speed much from frame to frame anywhere. From the
	// step before the seam to the one after it are two frames, or one where the
	// last frame repeats the first.
	usual := 2 * track.Percentile(change, loopSeamUsual.Value)
	if repeats {
		usual /= 2
	}
	tooFar := !repeats && jump > loopSeamJump.In(c)*f.ends && jump > loopSeamLeast.In(c)
	uneven := f.speeds > loopSeamSpeed.In(c) && peak > loopSeamLeast.In(c) && math.Abs(before-after) > loopSeamUnusual.Value*usual
	if !tooFar && !uneven {
		return seam{}, false
	}
	if uneven && !tooFar {
		f.Size = f.speeds * peak
	}
	f.Drivers = c.Study.Drivers(t, max(0, n-3), n-1)
	if len(f.Drivers) == 0 {
		f.Drivers = c.Study.Drivers(t, 0, min(3, n-1))
	}
	return f, true
}

// travel is how far the figure gets on in one cycle: the root's way across the
// ground when it walks, in figure sizes, one frame's worth added so that the
// cycle closes on the frame after its last.
func travel(c *kit.Context, fig *motion.Figure) r3.Vec {
	root := fig.RootTrack()
	if root == nil || !fig.Locomotion() {
		return r3.Vec{}
	}
	d := r3.Sub(root.At(root.Len()-1), root.At(0))
	up := fig.Up()
	return r3.Sub(d, r3.Scale(r3.Dot(d, up), up))
}

func seamNote(c *kit.Context, fig *motion.Figure, kept []seam) note.Note {
	f := kept[0]
	ch := f.Driver()
	p := c.Study.Scene.Channels[ch].Part
	n := c.Draft(p, ch, f.First, f.Last)
	more := ""
	if len(kept) > 1 {
		more = fmt.Sprintf(" and %d more", len(kept)-1)
	}
	if f.jump > loopSeamJump.In(c)*f.ends {
		n.Message = fmt.Sprintf("%s: the cycle jumps at its seam, %s%s by %s; bring the last pose to the first", c.Span(f.First, f.Last), f.Track.Name, more, kit.Amount(track.Position, f.jump))
	} else {
		n.Message = fmt.Sprintf("%s: the cycle changes speed at its seam, %s%s by %s of the peak; match the tangents of both ends", c.Span(f.First, f.Last), f.Track.Name, more, words.Percent(f.speeds))
	}
	for _, o := range kept[1:] {
		c.RelatePart(&n, o.Track.Part, o.First, "%s as well", o.Track.Name)
		n.Causes = append(n.Causes, o.Track.Part)
	}
	n.Weight = c.Weigh(fig, p, 0.2+f.Size)
	n.Measures = []note.Measure{
		{Name: "jump", Value: f.jump, Unit: "figure"},
		{Name: "speed-difference", Value: f.speeds, Unit: "ratio"},
	}
	n.Causes = append(n.Causes, p)
	return n
}
