package checks

import (
	_ "embed"
	"fmt"
	"math"

	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/note"
	"curvelint/parse/scene"
)

//go:embed idle_key.md
var idleKeyDoc string

// IdleKey finds keys without which the curve would be the same.
var IdleKey = &Check{
	ID:       "idle-key",
	Severity: note.Hint,
	Group:    Noise,
	Title:    "a key that does nothing",
	Doc:      idleKeyDoc,
	Settings: []Setting{
		{Name: "tolerance", Unit: "ratio", Default: 0, Min: 0, Max: 0.1, Doc: "how much the curve may change without the keys, as a share of its range, beside the noise of its digits"},
	},
	Run: runIdleKey,
}

func runIdleKey(c *Context) []note.Note {
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
		notes = append(notes, c.idleRuns(scene.ChannelID(i))...)
	}
	return notes
}

// sampled reports whether the keys come from an exporter rather than from a
// hand: a baked stretch, or most keys on neighbouring frames (exporters drop
// samples that repeat, which leaves pieces of a bake).
func sampled(k *scene.Curve) bool {
	if motion.HasBake(k) {
		return true
	}
	close := 0
	for i := 1; i < k.Len(); i++ {
		if k.Times[i]-k.Times[i-1] <= 1+1e-6 {
			close++
		}
	}
	return 2*close > k.Len()-1
}

// idleRuns makes one note of each run of keys that could go together. The
// components of a vector share their keys: one can go when it is idle in all.
func (c *Context) idleRuns(id scene.ChannelID) []note.Note {
	x := &c.Study.Scene.Channels[id]
	idle := idleKeys(&x.Curve, c.idleLimit(&x.Curve))
	for next := id + 1; int(next) < len(c.Study.Scene.Channels) && sharesTimes(c.Study, next); next++ {
		k := &c.Study.Scene.Channels[next].Curve
		for i, free := range idleKeys(k, c.idleLimit(k)) {
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
		notes = append(notes, c.idleNote(id, a, i))
	}
	return notes
}

// idleLimit is the change below which nothing was changed: half a unit of the
// last printed decimal but no more than a thousandth of the curve's range, since
// whole degrees set by hand are no noise; and what the setting allows. It is 0 for
// a curve that never changes: its keys were set with the poses of other channels.
func (c *Context) idleLimit(k *scene.Curve) float64 {
	lo, hi := math.Inf(1), math.Inf(-1)
	for i := range k.Numbers() {
		v := k.Value(i)
		lo, hi = min(lo, v), max(hi, v)
	}
	noise := 1e-9 * max(math.Abs(lo), math.Abs(hi))
	if hi-lo <= noise {
		return 0
	}
	return max(min(k.Step/2, (hi-lo)/1000), noise, c.Setting("tolerance")*(hi-lo))
}

// idleKeys marks keys whose removal changes the curve by no more than limit,
// taking them out one after the other: each is judged with those already marked
// gone. A segment counts from key to key, by held or straight lines or with the
// handles that the keys beside it have.
func idleKeys(k *scene.Curve, limit float64) []bool {
	n := k.Len()
	idle := make([]bool, n)
	last := 0 // the last key kept
	for i := 1; i+1 < n; i++ {
		if removable(k, last, i, limit) {
			idle[i] = true
			continue
		}
		last = i
	}
	return idle
}

// removable reports whether all keys after key a up to key i could go, given
// that key i+1 stays.
func removable(k *scene.Curve, a, i int, limit float64) bool {
	b := i + 1
	if k.PreValues != nil || limit == 0 {
		return false
	}
	how := k.SegmentInterp(a)
	for j := a; j < b; j++ {
		if k.SegmentInterp(j) != how {
			return false
		}
	}
	switch how {
	case scene.Blank:
		return false
	case scene.Bezier:
		return k.Handles != nil && sameSpline(k, a, b, limit)
	}
	for j := a + 1; j < b; j++ {
		want := k.Value(a)
		if how == scene.Linear {
			want += (k.Value(b) - k.Value(a)) * (k.Times[j] - k.Times[a]) / (k.Times[b] - k.Times[a])
		}
		if math.Abs(k.Value(j)-want) > limit {
			return false
		}
	}
	return true
}

// slopeError is how far half a unit in the slope at one end of a cubic, in value per
// frame, moves it at most, for each frame of its length: the largest value of
// s(1-s)^2.
const slopeError = 4.0 / 27

// splineLooks is in how many places a segment is compared: two cubics that agree
// in four are the same.
const splineLooks = 4

// splineSegments is in how many segments of a long run, spread evenly: that one
// cubic leaves another shows everywhere.
const splineSegments = 16

// sameSpline reports whether one segment from key a to key b, with the handles
// they have towards each other, goes where those between them go. Slopes have
// digits of their own, which tell the more the longer the segment is.
func sameSpline(k *scene.Curve, a, b int, limit float64) bool {
	one := joined(k, a, b)
	slack := limit + min(k.Step/2*slopeError*(k.Times[b]-k.Times[a]), 2*limit)
	var got, want [1]float64
	stride := 1 + (b-a)/splineSegments
	for j := b - 1; j >= a; j -= stride { // the newest first
		d := k.Times[j+1] - k.Times[j]
		for n := range splineLooks {
			t := k.Times[j] + d*float64(n+1)/splineLooks
			if !motion.EvalCurve(k, t, want[:]) || !motion.EvalCurve(one, t, got[:]) || math.Abs(got[0]-want[0]) > slack {
				return false
			}
		}
	}
	return true
}

// joined is the curve of the keys a and b alone. Handles without a time are a third
// of their segment, so that they grow with it and keep their slope.
func joined(k *scene.Curve, a, b int) *scene.Curve {
	h := k.Handles
	out, in := h.OutV[a], h.InV[b]
	one := &scene.Curve{
		Times: []float64{k.Times[a], k.Times[b]}, Values: []float64{k.Value(a), k.Value(b)},
		Stride: 1, Default: scene.Bezier, Handles: &scene.Handles{},
	}
	if h.OutT == nil {
		d := k.Times[b] - k.Times[a]
		out *= d / (k.Times[a+1] - k.Times[a])
		in *= d / (k.Times[b] - k.Times[b-1])
	} else {
		one.Handles.OutT, one.Handles.InT = []float64{h.OutT[a], 0}, []float64{0, h.InT[b]}
	}
	one.Handles.OutV, one.Handles.InV = []float64{out, 0}, []float64{0, in}
	return one
}

func (c *Context) idleNote(id scene.ChannelID, a, b int) note.Note {
	s := c.Study
	x := &s.Scene.Channels[id]
	n := c.draft(x.Part, id, s.Index(x.Curve.Times[a]), s.Index(x.Curve.Times[b]))
	n.Span, n.First, n.Last = s.Scene.KeySpan(id, a, 0), x.Curve.Times[a], x.Curve.Times[b]
	n.Tags = []note.Tag{note.Unnecessary}
	what := "the key does nothing; it can go"
	if b > a {
		what = fmt.Sprintf("%d keys do nothing; they can go", b-a+1)
	}
	where := "frame " + frameNumber(n.First)
	if b > a {
		where = "frames " + frameNumber(n.First) + "-" + frameNumber(n.Last)
	}
	n.Message = fmt.Sprintf("%s: %s %s: %s", where, c.name(x.Part), x.Name, what)
	n.Measures = []note.Measure{{Name: "keys", Value: float64(b - a + 1), Unit: "count"}}
	return n
}
