package checks

import (
	_ "embed"
	"fmt"

	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/note"
)

//go:embed loop_seam.md
var loopSeamDoc string

// LoopSeam finds cycles that jump where they begin again.
var LoopSeam = &Check{
	ID:       "loop-seam",
	Severity: note.Warning,
	Group:    Contact,
	Title:    "a cycle that jumps",
	Doc:      loopSeamDoc,
	Settings: []Setting{
		{Name: "jump", Unit: "ratio", Default: 1.5, Min: 1, Max: 100, Doc: "step from last to first frame, as a multiple of the larger step at the two ends"},
		{Name: "speed", Unit: "ratio", Default: 0.2, Min: 0, Max: 1, Doc: "difference of the speeds at the two ends, as a share of the peak"},
		{Name: "least", Unit: "figure", Default: 0.002, Min: 0, Max: 1, Doc: "a smaller jump is not seen"},
	},
	Run: runLoopSeam,
}

type seam struct {
	finding
	jump, ends float64
	speeds     float64 // difference over the peak
}

func runLoopSeam(c *Context) []note.Note {
	s := c.Study
	if !s.Options.Loop || s.N < 4 {
		return nil
	}
	var notes []note.Note
	for _, fig := range c.living() {
		var all []seam
		for i := range fig.Points {
			if c.Ctx.Err() != nil {
				return nil
			}
			if f, ok := c.seam(fig, i); ok {
				all = append(all, f)
			}
		}
		kept := oneCause(fig, all, func(f *seam) *finding { return &f.finding })
		if len(kept) > 0 {
			notes = append(notes, c.seamNote(fig, kept))
		}
	}
	return notes
}

// seam compares the step from the last to the first frame with those at both
// ends. A last frame that repeats the first is the same moment: then the steps
// beside it are compared. What travels along (a walk that gets on) is judged
// without its travel.
func (c *Context) seam(fig *motion.Figure, i int) (seam, bool) {
	t := fig.CarriedTrack(i)
	n := t.Len()
	shift := c.travel(fig)
	first, last := t.At(0), r3.Sub(t.At(n-1), shift)
	before, after := r3.Norm(t.Step(n-2)), r3.Norm(t.Step(0))
	jump := r3.Norm(r3.Sub(first, last))
	peak, change := 0.0, make([]float64, 0, n)
	for i, v := range t.Spacing() {
		peak = max(peak, v)
		if i > 0 {
			change = append(change, abs64(v-t.Spacing()[i-1]))
		}
	}
	f := seam{finding: finding{track: t, first: n - 1, last: n - 1, size: jump}, jump: jump, ends: max(before, after)}
	repeats := jump <= max(1e-6, 2*t.Noise)
	if peak > 0 {
		f.speeds = abs64(before-after) / peak
	}
	// A quick cycle changes its speed much from frame to frame anywhere. From the
	// step before the seam to the one after it are two frames, or one where the
	// last frame repeats the first.
	usual := 2 * motion.Percentile(change, 0.95)
	if repeats {
		usual /= 2
	}
	tooFar := !repeats && jump > c.Setting("jump")*f.ends && jump > c.Setting("least")
	uneven := f.speeds > c.Setting("speed") && peak > c.Setting("least") && abs64(before-after) > seamUnusual*usual
	if !tooFar && !uneven {
		return seam{}, false
	}
	if uneven && !tooFar {
		f.size = f.speeds * peak
	}
	f.drivers = c.Study.Drivers(t, max(0, n-3), n-1)
	if len(f.drivers) == 0 {
		f.drivers = c.Study.Drivers(t, 0, min(3, n-1))
	}
	return f, true
}

// seamUnusual is how many times more than usual the speed must change at a seam.
const seamUnusual = 1.3

// travel is how far the figure gets on in one cycle: the root's way across the
// ground when it walks, in figure sizes, one frame's worth added so that the
// cycle closes on the frame after its last.
func (c *Context) travel(fig *motion.Figure) r3.Vec {
	root := fig.RootTrack()
	if root == nil || !fig.Locomotion() {
		return r3.Vec{}
	}
	d := r3.Sub(root.At(root.Len()-1), root.At(0))
	up := fig.Up()
	return r3.Sub(d, r3.Scale(r3.Dot(d, up), up))
}

func abs64(v float64) float64 { return max(v, -v) }

func (c *Context) seamNote(fig *motion.Figure, kept []seam) note.Note {
	f := kept[0]
	ch := f.driver()
	p := c.Study.Scene.Channels[ch].Part
	n := c.draft(p, ch, f.first, f.last)
	more := ""
	if len(kept) > 1 {
		more = fmt.Sprintf(" and %d more", len(kept)-1)
	}
	if f.jump > c.Setting("jump")*f.ends {
		n.Message = fmt.Sprintf("%s: the cycle jumps at its seam, %s%s by %s; bring the last pose to the first", c.span(f.first, f.last), f.track.Name, more, amount(motion.Position, f.jump))
	} else {
		n.Message = fmt.Sprintf("%s: the cycle changes speed at its seam, %s%s by %s of the peak; match the tangents of both ends", c.span(f.first, f.last), f.track.Name, more, percent(f.speeds))
	}
	for _, o := range kept[1:] {
		c.relatePart(&n, o.track.Part, o.first, "%s as well", o.track.Name)
		n.Causes = append(n.Causes, o.track.Part)
	}
	n.Weight = c.weigh(fig, p, 0.2+f.size)
	n.Measures = []note.Measure{
		{Name: "jump", Value: f.jump, Unit: "figure"},
		{Name: "speed-difference", Value: f.speeds, Unit: "ratio"},
	}
	n.Causes = append(n.Causes, p)
	return n
}
