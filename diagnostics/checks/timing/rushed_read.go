package timing

import (
	_ "embed"
	"fmt"

	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/diagnostics/checks/kit"
	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/motion/body"
	"curvelint/diagnostics/motion/track"
	"curvelint/diagnostics/note"
	"curvelint/diagnostics/words"
)

//go:embed rushed_read.md
var rushedReadDoc string

// The settings of rushed-read.
var (
	rushedReadShortest = kit.Seconds{Name: "shortest", Default: 0.06, Min: 0, Max: 1, Doc: "a shorter rest is no pose"}
	rushedReadLongest  = kit.Seconds{Name: "longest", Default: 0.25, Min: 0, Max: 2, Doc: "a longer one can be read"}
	rushedReadShare    = kit.Number{Name: "share", Unit: "range", Default: 0.3, Min: 0.05, Max: 1, Doc: "least size of both strokes beside it, as a share of the clip's range"}
)

// The limits of rushed-read.
var (
	rushedReadTurnedBack = kit.Limit{Name: "turned_back", Value: 0.5, Unit: "ratio",
		Doc:    "a second stroke whose direction has a larger cosine against the first takes it back: a nod or a shake",
		Source: "common practice, no source"}
	rushedReadCarriedOn = kit.Limit{Name: "carried_on", Value: 0.25, Unit: "ratio",
		Doc:    "a head that the body turns by more than this share of the smaller move beside a pause is not held",
		Source: "common practice, no source"}
	rushedReadLongHold = kit.Limit{Name: "long_hold", Value: 1.5, Unit: "ratio",
		Doc:    "a rest around a pause that lasts so many times the longest pause is long enough to be read",
		Source: "common practice, no source"}
	rushedReadLeastPose = kit.Limit{Name: "least_pose", Value: 1, Unit: "ratio",
		Doc:    "in multiples of 3 degrees, a tenth of a weight: a smaller change of pose is not read",
		Source: "the floors of motion in the study"}
	rushedReadPauseShare = kit.Limit{Name: "pause_share", Value: 0.06, Unit: "ratio",
		Doc:    "in a pause the speed stays below this share of the slower peak beside it: a hold of a few frames drifts",
		Source: "common practice, no source"}
)

// RushedRead finds expressions and poses that are gone before they are read.
var RushedRead = &kit.Check{
	ID:                "rushed-read",
	Severity:          note.Information,
	Group:             kit.Timing,
	Title:             "an expression or pose too short to read",
	Doc:               rushedReadDoc,
	Settings:          []kit.Setting{&rushedReadShortest, &rushedReadLongest, &rushedReadShare},
	Limits:            []*kit.Limit{&rushedReadTurnedBack, &rushedReadCarriedOn, &rushedReadLongHold, &rushedReadLeastPose, &rushedReadPauseShare, &kit.StillGoing, &kit.DriverSpan},
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
			if b := g.Label.Body; b == body.Brows || b == body.Head {
				notes = append(notes, rushed(c, fig, g)...)
			}
		}
	}
	return notes
}

// rushed looks at the pauses between the strokes of the member that moves most.
func rushed(c *kit.Context, fig *motion.Figure, g *motion.Group) []note.Note {
	_, t := g.EventsIn(0, c.Study.N-1)
	if g.Label.Body == body.Head {
		t = headTurn(c.Study, g) // a jaw without a name is a part of the head, too
	}
	if t == nil {
		return nil
	}
	least := max(rushedReadShare.In(c)*trackRange(t), rushedReadLeastPose.Value*track.FloorSpeed(t.Quality))
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
			r3.Norm(in) < least || r3.Norm(out) < least || restTime(t, p) > rushedReadLongHold.Value*rushedReadLongest.In(c) || !c.Study.Judged(p.first, p.last) {
			continue
		}
		if g.Label.Body == body.Head && !headRests(c, fig, t, p, min(r3.Norm(in), r3.Norm(out))) {
			continue
		}
		// A nod or a shake turns round: the second stroke takes the first back.
		if g.Label.Body == body.Head && r3.Dot(in, out) < -rushedReadTurnedBack.Value*r3.Norm(in)*r3.Norm(out) {
			continue
		}
		n := c.Draft(t.Part, kit.Driver(c, t, p.first), p.first, p.last)
		n.Message = fmt.Sprintf("%s: the %s pose is held for %s only; hold it longer or leave it out",
			c.Span(p.first, p.last), g.Name, words.Count(p.last-p.first, "frame"))
		n.Weight = c.Weigh(fig, t.Part, kit.LikeFigures(t.Quality, min(r3.Norm(in), r3.Norm(out))))
		n.Measures = []note.Measure{{Name: "hold", Value: float64(p.last - p.first), Unit: "frames"}}
		n.Causes = append(n.Causes, t.Part)
		notes = append(notes, n)
	}
	return notes
}

// restTime is how long in seconds a track stays out of motion around a pause.
func restTime(t *track.Track, p pause) float64 {
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
// audience: the body does not turn it on by more than a share of the move beside the pause,
// nor carry it elsewhere, as in a jump.
func headRests(c *kit.Context, fig *motion.Figure, t *track.Track, p pause, move float64) bool {
	way, _ := kit.CarriedWay(c, fig, t.Part, p.first, p.last)
	return way*t.Rate <= kit.StillGoing.Value*float64(p.last-p.first) && kit.SeenTurn(c, fig, t.Part, p.first, p.last) <= rushedReadCarriedOn.Value*move
}

// pause is a stretch between two moves in which next to nothing moves, between
// the positions first and last.
type pause struct {
	first, last int
	seconds     float64
}

// pauses returns the stretches between two neighbouring peaks of speed in which
// the speed is next to nothing beside both.
func pauses(t *track.Track) []pause {
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
func pauseBetween(t *track.Track, v []float64, a, b int) (pause, bool) {
	level := rushedReadPauseShare.Value * min(v[a], v[b])
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
