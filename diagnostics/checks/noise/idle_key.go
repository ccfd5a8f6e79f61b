package noise

import (
	_ "embed"
	"fmt"
	"math"

	"curvelint/diagnostics/checks/kit"
	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/motion/solve"
	"curvelint/diagnostics/note"
	"curvelint/diagnostics/words"
	"curvelint/parse/scene"
)

//go:embed idle_key.md
var idleKeyDoc string

// The settings of idle-key.
var (
	idleKeyTolerance = kit.Number{Name: "tolerance", Unit: "ratio", Default: 0, Min: 0, Max: 0.1, Doc: "how much the curve may change without the keys, as a share of its range, beside the noise of its digits"}
)

// The limits of idle-key.
var (
	idleKeyNeighbours = kit.Limit{Name: "neighbours", Value: 1 + 1e-6, Unit: "frames",
		Doc:    "keys no further apart are on neighbouring frames",
		Source: "rounding of times in seconds"}
	idleKeyThousandth = kit.Limit{Name: "thousandth", Value: 0.001, Unit: "range",
		Doc:    "half a unit of the last decimal counts as no change up to this share of the range: whole degrees set by hand are no noise",
		Source: "ground rule of the tool: at most 0.1 % of the range"}
	idleKeyTie = kit.Limit{Name: "tie", Value: 1 + 1e-6, Unit: "ratio",
		Doc:    "a key off by just half a unit of its last decimal, as every second one of a slow line is, must not hang on rounding",
		Source: "rounding of float64"}
	idleKeySlopeError = kit.Limit{Name: "slope_error", Value: 4.0 / 27, Unit: "ratio",
		Doc:    "half a unit in the slope at one end of a cubic moves it by at most this for each frame of its length",
		Source: "the largest value of s(1-s)^2"}
	idleKeyLooks = kit.Limit{Name: "looks", Value: 4, Unit: "count",
		Doc:    "in so many places of a segment two cubics are compared",
		Source: "two cubics that agree in four places are the same"}
	idleKeySegments = kit.Limit{Name: "segments", Value: 16, Unit: "count",
		Doc:    "in so many segments of a long run, spread evenly",
		Source: "common practice, no source"}
)

// IdleKey finds keys without which the curve would be the same.
var IdleKey = &kit.Check{
	ID:       "idle-key",
	Severity: note.Hint,
	Group:    kit.Noise,
	Title:    "a key that does nothing",
	Doc:      idleKeyDoc,
	Settings: []kit.Setting{&idleKeyTolerance},
	Limits:   []*kit.Limit{&idleKeyNeighbours, &idleKeyThousandth, &idleKeyTie, &idleKeySlopeError, &idleKeyLooks, &idleKeySegments, &kit.Rounding},
	Run:      runIdleKey,
}

func runIdleKey(c *kit.Context) []note.Note {
	s := c.Study
	var notes []note.Note
	for i := range s.Scene.Channels {
		if c.Ctx.Err() != nil {
			return nil
		}
		x := &s.Scene.Channels[i]
		if x.Curve.Stride != 1 || x.Curve.Len() < 3 || s.NatureOf(x.Part) != motion.Living || sampled(&x.Curve) || sharesTimes(s, scene.ChannelID(i)) {
			continue
		}
		notes = append(notes, idleRuns(c, scene.ChannelID(i))...)
	}
	return notes
}

// sampled reports whether the keys come from an exporter rather than from a
// hand: a baked stretch, or most keys on neighbouring frames (exporters drop
// samples that repeat, which leaves pieces of a bake).
func sampled(k *scene.Curve) bool {
	if solve.HasBake(k) {
		return true
	}
	close := 0
	for i := 1; i < k.Len(); i++ {
		if k.Times[i]-k.Times[i-1] <= idleKeyNeighbours.Value {
			close++
		}
	}
	return 2*close > k.Len()-1
}

// idleRuns makes one note of each run of keys that could go together. The
// components of a vector share their keys: one can go when it is idle in all.
func idleRuns(c *kit.Context, id scene.ChannelID) []note.Note {
	x := &c.Study.Scene.Channels[id]
	idle := idleKeys(&x.Curve, idleLimit(c, &x.Curve))
	for next := id + 1; int(next) < len(c.Study.Scene.Channels) && sharesTimes(c.Study, next); next++ {
		k := &c.Study.Scene.Channels[next].Curve
		for i, free := range idleKeys(k, idleLimit(c, k)) {
			idle[i] = idle[i] && free
		}
	}
	var notes []note.Note
	for i := 1; i < len(idle); i++ {
		if !idle[i] {
			continue
		}
		a := i
		for i+1 < len(idle) && idle[i+1] {
			i++
		}
		notes = append(notes, idleNote(c, id, a, i))
	}
	return notes
}

// idleLimit is the change below which nothing was changed: half a unit of the
// last printed decimal but no more than a thousandth of the curve's range, since
// whole degrees set by hand are no noise; and what the setting allows. It is 0 for
// a curve that never changes: its keys were set with the poses of other channels.
func idleLimit(c *kit.Context, k *scene.Curve) float64 {
	lo, hi := math.Inf(1), math.Inf(-1)
	for i := range k.Numbers() {
		v := k.Value(i)
		lo, hi = min(lo, v), max(hi, v)
	}
	noise := kit.Rounding.Value * max(math.Abs(lo), math.Abs(hi))
	if hi-lo <= noise {
		return 0
	}
	return max(min(k.Step/2, (hi-lo)*idleKeyThousandth.Value), noise, idleKeyTolerance.In(c)*(hi-lo))
}

func idleNote(c *kit.Context, id scene.ChannelID, a, b int) note.Note {
	s := c.Study
	x := &s.Scene.Channels[id]
	n := c.Draft(x.Part, id, s.Index(x.Curve.Times[a]), s.Index(x.Curve.Times[b]))
	n.Span, n.First, n.Last = s.Scene.KeySpan(id, a, 0), x.Curve.Times[a], x.Curve.Times[b]
	n.Tags = []note.Tag{note.Unnecessary}
	what := "the key does nothing; it can go"
	if b > a {
		what = fmt.Sprintf("%d keys do nothing; they can go", b-a+1)
	}
	where := "frame " + words.Frame(n.First)
	if b > a {
		where = "frames " + words.Frame(n.First) + "-" + words.Frame(n.Last)
	}
	n.Message = fmt.Sprintf("%s: %s %s: %s", where, c.Name(x.Part), x.Name, what)
	n.Measures = []note.Measure{{Name: "keys", Value: float64(b - a + 1), Unit: "count"}}
	return n
}

// sharesTimes reports whether the channel before belongs to the same op and has
// the same keys.
func sharesTimes(s *motion.Study, id scene.ChannelID) bool {
	if id == 0 {
		return false
	}
	a, b := &s.Scene.Channels[id-1], &s.Scene.Channels[id]
	return a.Part == b.Part && a.Op == b.Op && a.Op != scene.NoOp && a.Curve.Len() == b.Curve.Len() && &a.Curve.Times[0] == &b.Curve.Times[0]
}
