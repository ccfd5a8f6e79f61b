package paths

import (
	_ "embed"
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/diagnostics/checks/kit"
	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/motion/body"
	"curvelint/diagnostics/motion/track"
	"curvelint/diagnostics/motion/vec"
	"curvelint/diagnostics/note"
)

//go:embed kinked_arc.md
var kinkedArcDoc string

// The settings of kinked-arc.
var (
	kinkedArcTurn      = kit.Number{Name: "turn", Unit: "degrees", Default: 40, Min: 5, Max: 180, Doc: "least turn between two chords of 1/24 s"}
	kinkedArcSharper   = kit.Number{Name: "sharper", Unit: "ratio", Default: 3, Min: 1, Max: 100, Doc: "how many times sharper than the turns beside it"}
	kinkedArcMinSpeed  = kit.Number{Name: "min_speed", Unit: "figure/s", Default: 0.36, Min: 0, Max: 100, Doc: "slowest speed of both chords"}
	kinkedArcSpeedKept = kit.Number{Name: "speed_kept", Unit: "ratio", Default: 0.75, Min: 0, Max: 1, Doc: "least share of the speed 2/24 s away that both chords keep"}
)

// The limits of kinked-arc.
var (
	kinkedArcJolt = kit.Limit{Name: "jolt", Value: 3, Unit: "count",
		Doc:    "for so many film frames before it leaves the ground and after it lands a jumping body shakes its arms",
		Source: "common practice, no source"}
	kinkedArcStraightBeside = kit.Limit{Name: "straight_beside", Value: 0.2, Unit: "ratio",
		Doc:    "beside a corner that a chord cuts the path turns by at most this share of it: a quick hand draws tight bends",
		Source: "common practice, no source"}
	kinkedArcCutCorner = kit.Limit{Name: "cut_corner", Value: 1.5, Unit: "ratio",
		Doc:    "a corner that a chord cuts is so many times larger than one on a whole frame",
		Source: "common practice, no source"}
	kinkedArcCutShare = kit.Limit{Name: "cut_share", Value: 0.3333333333333333, Unit: "ratio",
		Doc:    "each of the two turns of a corner that is cut has this share of it",
		Source: "common practice, no source"}
	kinkedArcCutSharper = kit.Limit{Name: "cut_sharper", Value: 2, Unit: "ratio",
		Doc:    "a corner that a chord cuts is so many times sharper still than the turns before and after it: rounding it off is what a curve does",
		Source: "common practice, no source"}
	kinkedArcBesideSharper = kit.Limit{Name: "beside_sharper", Value: 2, Unit: "ratio",
		Doc:    "a corner is so many times sharper than the turns one chord away: a wide bow turns nearly as much there",
		Source: "common practice, no source"}
	kinkedArcReversal = kit.Limit{Name: "reversal", Value: 150, Unit: "degrees",
		Doc:    "a larger turn is a change of mind, not a corner",
		Source: "common practice, no source"}
)

// KinkedArc finds corners in paths.
var KinkedArc = &kit.Check{
	ID:                "kinked-arc",
	Severity:          note.Warning,
	Group:             kit.Paths,
	Title:             "a corner in a path",
	Doc:               kinkedArcDoc,
	Settings:          []kit.Setting{&kinkedArcTurn, &kinkedArcSharper, &kinkedArcMinSpeed, &kinkedArcSpeedKept},
	Limits:            []*kit.Limit{&kinkedArcJolt, &kinkedArcStraightBeside, &kinkedArcCutCorner, &kinkedArcCutShare, &kinkedArcCutSharper, &kinkedArcBesideSharper, &kinkedArcReversal, &airborne, &kit.FilmFrame, &kit.Interruption, &kit.Rounding},
	SilentWhenBlocked: true,
	YieldsTo:          []string{"pop"},
	Run:               runKinkedArc,
}

// kink is a corner of a path at full speed.
type kink struct {
	kit.Candidate
	turn float64
}

func runKinkedArc(c *kit.Context) []note.Note {
	var notes []note.Note
	for _, fig := range c.Living() {
		var all []kink
		for i, p := range fig.Points {
			if c.Ctx.Err() != nil {
				return nil
			}
			if p.Role == body.HeelPoint || p.Role == body.ToePoint {
				continue
			}
			all = append(all, kinks(c, fig, fig.CarriedTrack(i))...)
		}
		for _, f := range kit.OneCause(fig, all, func(f *kink) *kit.Candidate { return &f.Candidate }) {
			ch := f.Driver()
			p := c.Study.Scene.Channels[ch].Part
			n := c.Draft(p, ch, f.First, f.Last)
			n.Message = fmt.Sprintf("%s: the path of %s turns a corner of %.0f degrees at full speed; round it off or slow down into it",
				c.Span(f.First, f.Last), f.Track.Name, f.turn)
			n.Weight = c.Weigh(fig, f.Track.Part, 0.1+f.Size)
			n.Measures = []note.Measure{{Name: "turn", Value: f.turn, Unit: "degrees"}}
			n.Causes = append(n.Causes, p, f.Track.Part)
			notes = append(notes, n)
		}
	}
	return notes
}

// kinks finds the frames of a track at which the chords of a film frame before and
// after turn sharply though speed is kept.
func kinks(c *kit.Context, fig *motion.Figure, t *track.Track) []kink {
	s := c.Study
	w := kit.FilmFrame.Frames(s.Rate)
	jolt := int(kinkedArcJolt.Value)
	var out []kink
	corner, half := cosine(kinkedArcTurn.In(c)), cosine(kinkedArcCutCorner.Value*kinkedArcTurn.In(c))
	for i := 3 * w; i+4*w < s.N; i++ {
		if straighter(t, i, i, w, corner) && (w > 1 || straighter(t, i, i+w, w, half)) {
			continue // as nearly every frame is
		}
		turn, cut := turnAt(t, i, w), 0
		if !sharp(c, t, i, i, w, turn, 1) {
			// A corner that falls between two frames of film shows as two turns,
			// and the chord between them cuts it. A quick hand draws tight bends
			// like that: a corner has straight lines on both sides.
			turn, cut = turnOver(t, i, i+w, w), w
			if w > 1 || turn < kinkedArcCutCorner.Value*kinkedArcTurn.In(c) || min(turnAt(t, i, w), turnAt(t, i+w, w)) < kinkedArcCutShare.Value*turn || turnAt(t, i-w, w)+turnAt(t, i+2*w, w) > kinkedArcStraightBeside.Value*turn || !sharp(c, t, i, i+w, w, turn, kinkedArcCutSharper.Value) {
				continue
			}
		}
		if w > 1 && cut == 0 && (turnAt(t, i-1, w) > turn || turnAt(t, i+1, w) >= turn) {
			continue // at high rates the corner is at its sharpest frame
		}
		if !s.Judged(i-w, i+cut+w) || kit.NearContact(c, fig, i) || jumps(c, fig, i-jolt*w, i+cut+(jolt+2)*w) {
			continue
		}
		f := kink{kit.Candidate{Track: t, First: i, Last: i + cut, Size: kit.Chord(t, i-w, w) + kit.Chord(t, i+cut, w)}, turn}
		f.Drivers = s.Drivers(t, i-w, i+cut+w)
		out = append(out, f)
		i += cut + w - 1
	}
	return out
}

// sharp reports whether the path turns a corner between frame indices a and b
// (the same, or w apart) at full speed; clear multiplies how much sharper it must
// be than the turns beside it.
func sharp(c *kit.Context, t *track.Track, a, b, w int, turn, clear float64) bool {
	// A reversal is a change of mind, not a corner.
	if turn < kinkedArcTurn.In(c) || turn > kinkedArcReversal.Value {
		return false
	}
	// A wide bow turns nearly as much a whole chord away.
	if a == b && turn < kinkedArcBesideSharper.Value*max(turnAt(t, a-w, w), turnAt(t, a+w, w)) {
		return false
	}
	before, after := kit.Chord(t, a-w, w), kit.Chord(t, b, w)
	slow := max(kit.Chord(t, a-3*w, w), kit.Chord(t, b+2*w, w)) * kinkedArcSpeedKept.In(c)
	return min(before, after) >= kinkedArcMinSpeed.In(c)*float64(w)/c.Study.Rate && before >= slow && after >= slow &&
		turn >= clear*kinkedArcSharper.In(c)*max(turnAt(t, a-2*w, w), turnAt(t, b+2*w, w))
}

// cosine is that of an angle in degrees, a little more than it, so that rounding
// decides nothing.
func cosine(angle float64) float64 {
	return math.Cos(min(angle, 180)/kit.DegreesPerRadian) + kit.Rounding.Value
}

// straighter reports whether the angle of turnOver is surely less than that of
// the cosine, without the angle itself.
func straighter(t *track.Track, a, b, w int, cos float64) bool {
	d, e := r3.Sub(t.At(a), t.At(a-w)), r3.Sub(t.At(b+w), t.At(b))
	n := r3.Norm2(d) * r3.Norm2(e)
	return n > 0 && r3.Dot(d, e) > cos*math.Sqrt(n)
}

// turnAt is the angle in degrees between the chords over w frames before and
// after frame index i.
func turnAt(t *track.Track, i, w int) float64 { return turnOver(t, i, i, w) }

// turnOver is the angle in degrees between the chord over w frames that ends at
// frame index a and the one that begins at b.
func turnOver(t *track.Track, a, b, w int) float64 {
	d, e := r3.Sub(t.At(a), t.At(a-w)), r3.Sub(t.At(b+w), t.At(b))
	if r3.Norm2(d) == 0 || r3.Norm2(e) == 0 {
		return 0
	}
	return vec.Angle(d, e)
}
