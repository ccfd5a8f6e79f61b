package checks

import (
	_ "embed"
	"fmt"

	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/note"
	"curvelint/parse/scene"
)

//go:embed kinked_arc.md
var kinkedArcDoc string

//go:embed pivot_arc.md
var pivotArcDoc string

// KinkedArc finds corners in paths.
var KinkedArc = &Check{
	ID:       "kinked-arc",
	Severity: note.Warning,
	Group:    Paths,
	Title:    "a corner in a path",
	Doc:      kinkedArcDoc,
	Settings: []Setting{
		{Name: "turn", Unit: "degrees", Default: 40, Min: 5, Max: 180, Doc: "least turn between two chords of 1/24 s"},
		{Name: "sharper", Unit: "ratio", Default: 3, Min: 1, Max: 100, Doc: "how many times sharper than the turns beside it"},
		{Name: "min_speed", Unit: "figure/s", Default: 0.36, Min: 0, Max: 100, Doc: "slowest speed of both chords"},
		{Name: "speed_kept", Unit: "ratio", Default: 0.75, Min: 0, Max: 1, Doc: "least share of the speed 2/24 s away that both chords keep"},
	},
	SilentWhenBlocked: true,
	YieldsTo:          []string{"pop"},
	Run:               runKinkedArc,
}

// PivotArc finds whole chains swung by one joint.
var PivotArc = &Check{
	ID:       "pivot-arc",
	Severity: note.Information,
	Group:    Paths,
	Title:    "one joint swings a whole chain",
	Doc:      pivotArcDoc,
	Settings: []Setting{
		{Name: "fit", Unit: "ratio", Default: 0.01, Min: 0, Max: 1, Doc: "how far the path leaves a circle, as a share of its radius"},
		{Name: "centre", Unit: "ratio", Default: 0.02, Min: 0, Max: 1, Doc: "how far the circle's centre is from the pivot, as a share of its radius"},
		{Name: "min_radius", Unit: "figure", Default: 0.15, Min: 0, Max: 100, Doc: "smallest circle"},
		{Name: "min_sweep", Unit: "degrees", Default: 45, Min: 5, Max: 360, Doc: "least angle swept"},
		{Name: "min_time", Unit: "s", Default: 0.3, Min: 0, Max: 10, Doc: "shortest stroke"},
		{Name: "inner_turn", Unit: "degrees", Default: 3, Min: 0, Max: 90, Doc: "an inner joint that turns more than this bends the chain"},
	},
	SilentWhenBlocked: true,
	Run:               runPivotArc,
}

type kinkFinding struct {
	finding
	turn float64
}

func runKinkedArc(c *Context) []note.Note {
	var notes []note.Note
	for _, fig := range c.living() {
		var all []kinkFinding
		for i, p := range fig.Points {
			if c.Ctx.Err() != nil {
				return nil
			}
			if p.Role == motion.HeelPoint || p.Role == motion.ToePoint {
				continue
			}
			all = append(all, c.kinks(fig, fig.CarriedTrack(i))...)
		}
		for _, f := range oneCause(fig, all, func(f *kinkFinding) *finding { return &f.finding }) {
			ch := f.driver()
			p := c.Study.Scene.Channels[ch].Part
			n := c.draft(p, ch, f.first, f.last)
			n.Message = fmt.Sprintf("%s: the path of %s turns a corner of %.0f degrees at full speed; round it off or slow down into it",
				c.span(f.first, f.last), f.track.Name, f.turn)
			n.Weight = c.weigh(fig, f.track.Part, 0.1+f.size)
			n.Measures = []note.Measure{{Name: "turn", Value: f.turn, Unit: "degrees"}}
			n.Causes = append(n.Causes, p, f.track.Part)
			notes = append(notes, n)
		}
	}
	return notes
}

// kinks finds the frames of a track at which the chords of 1/24 s before and
// after turn sharply though speed is kept.
func (c *Context) kinks(fig *motion.Figure, t *motion.Track) []kinkFinding {
	s := c.Study
	w := s.Window(1.0 / 24)
	seconds := float64(w) / s.Rate
	var out []kinkFinding
	for i := 3 * w; i+3*w < s.N; i++ {
		turn := turnAt(t, i, w)
		// A reversal is a change of mind, not a corner.
		if turn < c.Setting("turn") || turn > 150 || !s.Judged(i-w, i+w) {
			continue
		}
		before, after := chord(t, i-w, w), chord(t, i, w)
		slow := max(chord(t, i-3*w, w), chord(t, i+2*w, w)) * c.Setting("speed_kept")
		if min(before, after) < c.Setting("min_speed")*seconds || before < slow || after < slow ||
			turn < c.Setting("sharper")*max(turnAt(t, i-2*w, w), turnAt(t, i+2*w, w)) {
			continue
		}
		if w > 1 && (turnAt(t, i-1, w) > turn || turnAt(t, i+1, w) >= turn) {
			continue // at high rates the corner is at its sharpest frame
		}
		if c.nearContact(fig, i) {
			continue
		}
		f := kinkFinding{finding{track: t, first: i, last: i, size: before + after}, turn}
		f.drivers = s.Drivers(t, i-w, i+w)
		out = append(out, f)
	}
	return out
}

// turnAt is the angle in degrees between the chords over w frames before and
// after frame index i.
func turnAt(t *motion.Track, i, w int) float64 {
	a, b := r3.Sub(t.At(i), t.At(i-w)), r3.Sub(t.At(i+w), t.At(i))
	if r3.Norm2(a) == 0 || r3.Norm2(b) == 0 {
		return 0
	}
	return motion.Angle(a, b)
}

// chord is the distance over w frames from frame index i.
func chord(t *motion.Track, i, w int) float64 { return r3.Norm(r3.Sub(t.At(i+w), t.At(i))) }

type pivotFinding struct {
	finding
	circle motion.Circle
	pivot  scene.PartID
}

func runPivotArc(c *Context) []note.Note {
	var notes []note.Note
	for _, fig := range c.living() {
		var all []pivotFinding
		for _, chain := range fig.Chains() {
			tip := fig.TipOf(chain)
			if tip < 0 || len(chain.Parts) < 3 {
				continue
			}
			t := fig.CarriedTrack(tip)
			for _, k := range t.Strokes() {
				if c.Ctx.Err() != nil {
					return nil
				}
				if f, ok := c.pivots(fig, chain, t, k); ok {
					all = append(all, f)
				}
			}
		}
		for _, f := range oneCause(fig, all, func(f *pivotFinding) *finding { return &f.finding }) {
			notes = append(notes, c.pivotNote(fig, f))
		}
	}
	return notes
}

// pivots reports whether a stroke of the chain's tip is a circle about one of
// the chain's joints while none of the others bends.
func (c *Context) pivots(fig *motion.Figure, chain motion.Chain, t *motion.Track, k motion.Stroke) (pivotFinding, bool) {
	s := c.Study
	if float64(k.Last-k.First)/s.Rate < c.Setting("min_time") || !s.Judged(k.First, k.Last) {
		return pivotFinding{}, false
	}
	circle, ok := t.Circle(k.First, k.Last)
	if !ok || circle.Radius < c.Setting("min_radius") || circle.Sweep < c.Setting("min_sweep") || circle.Worst > c.Setting("fit")*circle.Radius {
		return pivotFinding{}, false
	}
	pivot := chain.Parts[0]
	at := c.carriedPosition(fig, t, pivot, (k.First+k.Last)/2)
	if r3.Norm(r3.Sub(at, circle.Centre)) > c.Setting("centre")*circle.Radius {
		return pivotFinding{}, false
	}
	for _, p := range chain.Parts[1:] {
		if r := s.RotationTrack(p); r != nil && r.PathLength(k.First, k.Last) >= c.Setting("inner_turn") {
			return pivotFinding{}, false
		}
	}
	f := pivotFinding{finding{track: t, first: k.First, last: k.Last, size: k.Length}, circle, pivot}
	f.drivers = s.Drivers(t, k.First, k.Last)
	return f, true
}

// carriedPosition is where a part is at a frame, in the unit and space of a
// carried track.
func (c *Context) carriedPosition(fig *motion.Figure, t *motion.Track, p scene.PartID, i int) r3.Vec {
	s := c.Study
	at := s.WorldPosition(p, s.Frame(i))
	if t.Carrier != scene.NoPart {
		m := s.WorldAt(t.Carrier, s.Frame(i))
		m = m.Inverse()
		at = m.Point(at)
	}
	return r3.Scale(1/t.Unit, r3.Sub(at, r3.Vec{X: t.Origin[0], Y: t.Origin[1], Z: t.Origin[2]}))
}

func (c *Context) pivotNote(fig *motion.Figure, f pivotFinding) note.Note {
	ch := f.driver()
	p := c.Study.Scene.Channels[ch].Part
	n := c.draft(p, ch, f.first, f.last)
	n.Message = fmt.Sprintf("%s: %s swings on %s alone, a perfect circle of %.0f degrees; bend the joints along the way",
		c.span(f.first, f.last), f.track.Name, c.name(f.pivot), f.circle.Sweep)
	n.Weight = c.weigh(fig, f.track.Part, f.size)
	n.Measures = []note.Measure{
		{Name: "radius", Value: f.circle.Radius, Unit: "figure"},
		{Name: "sweep", Value: f.circle.Sweep, Unit: "degrees"},
		{Name: "off-circle", Value: f.circle.Worst / f.circle.Radius, Unit: "ratio"},
	}
	n.Causes = append(n.Causes, p, f.track.Part)
	return n
}
