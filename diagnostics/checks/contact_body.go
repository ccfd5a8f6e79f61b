package checks

import (
	_ "embed"
	"fmt"
	"math"

	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/note"
	"curvelint/parse/scene"
)

//go:embed knee_pop.md
var kneePopDoc string

//go:embed backward_bend.md
var backwardBendDoc string

// KneePop finds limbs that snap straight.
var KneePop = &Check{
	ID:       "knee-pop",
	Severity: note.Warning,
	Group:    Contact,
	Title:    "a limb snapping straight",
	Doc:      kneePopDoc,
	Settings: []Setting{
		{Name: "extension", Unit: "ratio", Default: 0.998, Min: 0.9, Max: 1, Doc: "a limb at this share of its full length is straight"},
		{Name: "min_speed", Unit: "degrees/s", Default: 144, Min: 0, Max: 10000, Doc: "least speed at which it straightens"},
		{Name: "faster", Unit: "ratio", Default: 1.5, Min: 1, Max: 100, Doc: "how many times faster than 1/24 s before"},
		{Name: "stops", Unit: "ratio", Default: 0.25, Min: 0, Max: 1, Doc: "share of the speed that is left 1/24 s later"},
	},
	SilentWhenBlocked: true,
	Run:               runKneePop,
}

// BackwardBend finds hinges that bend past straight.
var BackwardBend = &Check{
	ID:       "backward-bend",
	Severity: note.Information,
	Group:    Contact,
	Title:    "a hinge bent past straight",
	Doc:      backwardBendDoc,
	Settings: []Setting{
		{Name: "bend", Unit: "degrees", Default: 5, Min: 0, Max: 180, Doc: "how far a knee or elbow bends to the other side"},
		{Name: "min_time", Unit: "s", Default: 2.0 / 24, Min: 0, Max: 10, Doc: "shortest time"},
	},
	Run: runBackwardBend,
}

// eachLimb calls do with every two-bone limb that moves.
func (c *Context) eachLimb(do func(fig *motion.Figure, l motion.TwoBone, f motion.Flexion)) {
	for _, fig := range c.living() {
		for _, l := range fig.Limbs() {
			if c.Ctx.Err() != nil {
				return
			}
			if c.Study.RotationTrack(l.Lower) != nil || c.Study.RotationTrack(l.Upper) != nil {
				do(fig, l, c.Study.Flex(l))
			}
		}
	}
}

func runKneePop(c *Context) []note.Note {
	s := c.Study
	w := s.Window(1.0 / 24)
	step := float64(w) / s.Rate
	var notes []note.Note
	c.eachLimb(func(fig *motion.Figure, l motion.TwoBone, f motion.Flexion) {
		if noHinge(&f, bentEnough) {
			return
		}
		for i, side := range f.Side {
			if side < -0.5 {
				f.Angle[i] = -f.Angle[i] // past straight it is no snap into it
			}
		}
		for i := 2 * w; i+w < s.N; i++ {
			if f.Extension[i] < c.Setting("extension") || !s.Judged(i-w, i+w) {
				continue
			}
			from, speed := c.snap(&f, i, w, step)
			if from < 0 {
				continue
			}
			n := c.draft(l.Lower, c.hingeChannel(l, from, i), from, i)
			n.Message = fmt.Sprintf("%s: %s snaps straight, %.0f degrees at once; ease into the full reach or keep it slightly bent", c.span(from, i), l.Name, f.Angle[from]-f.Angle[i])
			n.Weight = c.weigh(fig, l.Lower, 0.1+speed/1000)
			n.Measures = []note.Measure{{Name: "speed", Value: speed, Unit: "degrees/s"}, {Name: "extension", Value: f.Extension[i], Unit: "ratio"}}
			n.Causes = append(n.Causes, l.Lower, l.Upper, l.End)
			notes = append(notes, n)
			i += w // one snap, one note
		}
	})
	return notes
}

// bentEnough is from how many degrees on a limb tells about which axis it bends.
const bentEnough = 5

// sameAxis is the cosine between two axes of a bend under which they are not one: 45
// degrees.
const sameAxis = 0.7

// noHinge reports whether a limb has no usual side (a ball joint used both ways) or no
// one axis (a wing that folds and flaps): for a quarter of the time it is bent by
// more than the degrees to another side than usual.
func noHinge(f *motion.Flexion, degrees float64) bool {
	wrong := 0
	for i, side := range f.Side {
		if side < sameAxis && f.Angle[i] > degrees {
			wrong++
		}
	}
	return 4*wrong > len(f.Side)
}

// lastDegrees is the extension beyond which a hinge runs through the last degrees of
// its reach: these need hardly any way.
const lastDegrees = 0.93

// snap returns where a snap begins that ends straight at frame index i, or -1, and
// its speed in degrees a second: one step of 1/24 s far faster than the one before
// it, then nothing. The end of the reach seldom falls on a frame; a snap through
// the last degrees may therefore take two steps, the second one cut short. So may
// one that runs faster and faster into the end and locks there.
func (c *Context) snap(f *motion.Flexion, i, w int, step float64) (from int, speed float64) {
	speed = (f.Angle[i-w] - f.Angle[i]) / step
	before := (f.Angle[i-2*w] - f.Angle[i-w]) / step
	after := math.Abs(f.Angle[i]-f.Angle[i+w]) / step
	faster, stops := c.Setting("faster"), c.Setting("stops")
	if speed >= c.Setting("min_speed") && speed >= faster*math.Max(before, 0) && after <= stops*speed {
		return i - w, speed
	}
	if i < 4*w || speed < c.Setting("stops")*before {
		return -1, 0
	}
	both, earlier := (speed+before)/2, (f.Angle[i-4*w]-f.Angle[i-2*w])/(2*step)
	if both < c.Setting("min_speed") || after > stops*both {
		return -1, 0
	}
	if f.Extension[i-2*w] >= lastDegrees && both >= faster*math.Max(earlier, 0) || both > earlier && locks(f, i, w) {
		return i - 2*w, both
	}
	return -1, 0
}

// locks reports whether a limb that is straight at frame index i stays as it is for
// 3/24 s. People's joints give a little when they are thrown to full stretch.
func locks(f *motion.Flexion, i, w int) bool {
	if i+3*w >= len(f.Angle) {
		return false
	}
	for k := i; k <= i+3*w; k++ {
		if math.Abs(f.Angle[k]-f.Angle[i]) > 0.5 {
			return false
		}
	}
	return true
}

// hingeChannel is the channel that turns the limb's hinge most between two
// frames, or the upper bone's where the hinge has none.
func (c *Context) hingeChannel(l motion.TwoBone, a, b int) scene.ChannelID {
	for _, p := range []scene.PartID{l.Lower, l.Upper} {
		if t := c.Study.RotationTrack(p); t != nil {
			if d := c.Study.Drivers(t, a, b); len(d) > 0 {
				return d[0].Channel
			}
		}
	}
	return c.anyChannel(l.Lower)
}

func runBackwardBend(c *Context) []note.Note {
	s := c.Study
	least := s.Window(c.Setting("min_time"))
	var notes []note.Note
	c.eachLimb(func(fig *motion.Figure, l motion.TwoBone, f motion.Flexion) {
		back := func(i int) bool { return f.Side[i] < -0.5 && f.Angle[i] > c.Setting("bend") }
		if noHinge(&f, c.Setting("bend")) {
			return
		}
		for i := 0; i < s.N; i++ {
			if !back(i) {
				continue
			}
			a, worst := i, 0.0
			for i < s.N && back(i) {
				worst = max(worst, f.Angle[i])
				i++
			}
			if i-a < least || !s.Judged(a, i-1) {
				continue
			}
			n := c.draft(l.Lower, c.hingeChannel(l, max(a-1, 0), i-1), a, i-1)
			n.Message = fmt.Sprintf("%s: %s bends %.0f degrees to the wrong side; turn the hinge back past straight", c.span(a, i-1), l.Name, worst)
			n.Weight = c.weigh(fig, l.Lower, worst/180)
			n.Measures = []note.Measure{{Name: "bend", Value: worst, Unit: "degrees"}}
			n.Causes = append(n.Causes, l.Lower)
			notes = append(notes, n)
		}
	})
	return notes
}
