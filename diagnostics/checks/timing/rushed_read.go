package timing

import (
	_ "embed"
	"fmt"

	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/diagnostics/checks/kit"
	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/note"
)

//go:embed rushed_read.md
var rushedReadDoc string

// The settings of rushed-read.
var (
	rushedReadShortest = kit.Seconds{Name: "shortest", Default: 0.06, Min: 0, Max: 1, Doc: "a shorter rest is no pose"}
	rushedReadLongest  = kit.Seconds{Name: "longest", Default: 0.25, Min: 0, Max: 2, Doc: "a longer one can be read"}
	rushedReadShare    = kit.Number{Name: "share", Unit: "range", Default: 0.3, Min: 0.05, Max: 1, Doc: "least size of both strokes beside it, as a share of the clip's range"}
)

// RushedRead finds expressions and poses that are gone before they are read.
var RushedRead = &kit.Check{
	ID:                "rushed-read",
	Severity:          note.Information,
	Group:             kit.Timing,
	Title:             "an expression or pose too short to read",
	Doc:               rushedReadDoc,
	Settings:          []kit.Setting{&rushedReadShortest, &rushedReadLongest, &rushedReadShare},
	SilentWhenBlocked: true,
	Run:               runRushedRead,
}

func runRushedRead(c *kit.Context) []note.Note {
	var notes []note.Note
	for _, fig := range c.Living() {
		for _, g := range fig.Groups {
			if c.Ctx.Err() != nil {
				return nil
			}
			if b := g.Label.Body; b == motion.Brows || b == motion.Head {
				notes = append(notes, rushed(c, fig, g)...)
			}
		}
	}
	return notes
}

// rushed looks at the pauses between the strokes of the member that moves most.
func rushed(c *kit.Context, fig *motion.Figure, g *motion.Group) []note.Note {
	_, t := g.EventsIn(0, c.Study.N-1)
	if g.Label.Body == motion.Head {
		t = headTurn(c, g) // a jaw without a name is a part of the head, too
	}
	if t == nil {
		return nil
	}
	least := max(rushedReadShare.In(c)*trackRange(t), leastPose*motion.FloorSpeed(t.Quality))
	all := pauses(t)
	var notes []note.Note
	for i, p := range all {
		from, to := 0, t.Len()-1
		if i > 0 {
			from = all[i-1].last
		}
		if i+1 < len(all) {
			to = all[i+1].first
		}
		in, out := r3.Sub(t.At(p.first), t.At(from)), r3.Sub(t.At(to), t.At(p.last))
		if p.seconds < rushedReadShortest.In(c) || p.seconds > rushedReadLongest.In(c) ||
			r3.Norm(in) < least || r3.Norm(out) < least || restTime(t, p) > longHold*rushedReadLongest.In(c) || !c.Study.Judged(p.first, p.last) {
			continue
		}
		if g.Label.Body == motion.Head && !headRests(c, fig, t, p, min(r3.Norm(in), r3.Norm(out))) {
			continue
		}
		// A nod or a shake turns round: the second stroke takes the first back.
		if g.Label.Body == motion.Head && r3.Dot(in, out) < -0.5*r3.Norm(in)*r3.Norm(out) {
			continue
		}
		n := c.Draft(t.Part, kit.Driver(c, t, p.first), p.first, p.last)
		n.Message = fmt.Sprintf("%s: the %s pose is held for %s only; hold it longer or leave it out",
			c.Span(p.first, p.last), g.Name, kit.Frames(p.last-p.first))
		n.Weight = c.Weigh(fig, t.Part, kit.LikeFigures(t.Quality, min(r3.Norm(in), r3.Norm(out))))
		n.Measures = []note.Measure{{Name: "hold", Value: float64(p.last - p.first), Unit: "frames"}}
		n.Causes = append(n.Causes, t.Part)
		notes = append(notes, n)
	}
	return notes
}

// carriedOn is how far the body may turn a head in a pause, as a share of the
// smaller move beside it, and the head still be held: the follow-through of a
// chest, not a turn that never stops.
const carriedOn = 0.25

// longHold is how many times as long as the longest pause the whole rest around it
// may be: a hold that drifts is next to still for a moment only, but long enough to
// be read.
const longHold = 1.5

// restTime is how long in seconds a track stays out of motion around a pause.
func restTime(t *motion.Track, p pause) float64 {
	v, limit := t.Speed(), t.MotionLimits().Enter
	i, j := p.first, p.last
	for i > 0 && v[i-1] < limit {
		i--
	}
	for j < len(v) && v[j] < limit {
		j++
	}
	return float64(j-i) / t.Rate
}

// headRests reports whether a head that pauses on its neck is at rest to an
// audience: the body does not turn it on by carriedOn of the move beside the pause,
// nor carry it elsewhere, as in a jump.
func headRests(c *kit.Context, fig *motion.Figure, t *motion.Track, p pause, move float64) bool {
	way, _ := kit.CarriedWay(c, fig, t.Part, p.first, p.last)
	return way*t.Rate <= kit.StillGoing.Value*float64(p.last-p.first) && kit.SeenTurn(c, fig, t.Part, p.first, p.last) <= carriedOn*move
}

// leastPose is the smallest change of pose that an audience reads, in the
// measure of Prominence: 3 degrees, a tenth of a weight.
const leastPose = 1

// pause is a stretch between two moves in which next to nothing moves, between
// the positions first and last.
type pause struct {
	first, last int
	seconds     float64
}

// pauseShare is the share of the slower peak beside a pause that its speed stays
// below. A hold of a few frames drifts, and rests are cut at speeds of their own.
const pauseShare = 0.06

// pauses returns the stretches between two neighbouring peaks of speed in which
// the speed is next to nothing beside both.
func pauses(t *motion.Track) []pause {
	v := t.Speed()
	least := t.MotionLimits().Enter
	var out []pause
	last := -1 // the peak before
	for i := range v {
		if v[i] < least || (i > 0 && v[i-1] > v[i]) || (i+1 < len(v) && v[i+1] >= v[i]) {
			continue
		}
		if last >= 0 {
			if p, ok := pauseBetween(t, v, last, i); ok {
				out = append(out, p)
			} else if v[last] > v[i] {
				continue // a ripple on the way down
			}
		}
		last = i
	}
	return out
}

// pauseBetween finds the pause between two peaks, its ends by straight lines
// between the speeds.
func pauseBetween(t *motion.Track, v []float64, a, b int) (pause, bool) {
	level := pauseShare * min(v[a], v[b])
	i, j := a, b
	for i < b && v[i] >= level {
		i++
	}
	for j > a && v[j] >= level {
		j--
	}
	if i > j {
		return pause{}, false
	}
	from := float64(i) - (level-v[i])/(v[i-1]-v[i])
	to := float64(j) + (level-v[j])/(v[j+1]-v[j])
	return pause{i, j + 1, (to - from) / t.Rate}, true
}
