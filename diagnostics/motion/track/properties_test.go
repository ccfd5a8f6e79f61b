package track

import (
	"encoding/binary"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/diagnostics/motion/fit"
	"curvelint/diagnostics/motion/vec"
)

// FuzzTrack studies tracks of any shape: nothing panics, nothing is NaN for
// positions that are numbers, and rests and strokes tile the clip.
func FuzzTrack(f *testing.F) {
	f.Add([]byte{}, 24.0, 0.0, byte(0))
	f.Add([]byte{1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12}, 24.0, 0.001, byte(1))
	f.Add(slices.Repeat([]byte{0, 0, 40, 40}, 30), 60.0, 0.0, byte(2))
	f.Add(slices.Repeat([]byte{10, 200}, 60), 25.0, 0.0, byte(5))
	f.Add(slices.Repeat([]byte{255, 0, 128, 9, 77}, 40), 1e9, 1.0, byte(64))
	f.Add(slices.Repeat([]byte{1, 1, 1, 90, 1, 1, 1, 1, 1}, 9), 1e-9, 0.0, byte(128))
	f.Fuzz(func(t *testing.T, raw []byte, rate, noise float64, kind byte) {
		if len(raw) > 1<<12 {
			return
		}
		checkTrack(t, fuzzed(raw, rate, noise, kind))
	})
}

// fuzzed makes a track of the bytes: steps of one byte a frame, or eight bytes a
// coordinate for wild numbers.
func fuzzed(raw []byte, rate, noise float64, kind byte) *Track {
	k := &Track{Rate: rate, Noise: math.Abs(noise), Quality: Quality(kind % 3), GivenStep: int(kind / 3 % 3), Unit: 1}
	if math.IsNaN(noise) || math.IsInf(noise, 0) {
		k.Noise = 0
	}
	var at r3.Vec
	for len(raw) > 0 {
		switch {
		case kind&64 != 0 && len(raw) >= 8:
			at.X = math.Float64frombits(binary.LittleEndian.Uint64(raw))
			at.Y, at.Z = -at.X, float64(raw[0])
			raw = raw[8:]
		case kind&128 != 0:
			at = r3.Vec{X: math.Sin(float64(raw[0])), Y: float64(raw[0] & 3)}
			raw = raw[1:]
		default:
			at.X += float64(int8(raw[0])) / 500
			at.Y += float64(int8(raw[0]<<4)) / 900
			raw = raw[1:]
		}
		if !(vec.Length(at) < 1e150) { // the track's own columns are finite, see Settle
			at = r3.Vec{}
		}
		k.X, k.Y, k.Z = append(k.X, at.X), append(k.Y, at.Y), append(k.Z, at.Z)
	}
	return k
}

func checkTrack(t *testing.T, k *Track) {
	t.Helper()
	checkTiling(t, k)
	for _, e := range k.Events() {
		if e.Frame < 0 || e.Frame >= k.Len() {
			t.Fatalf("event %v outside the clip", e)
		}
		if r, in := k.RestAt(e.Frame); in && e.Kind == Turn && e.Frame > r.First && e.Frame < r.Last {
			t.Fatalf("turn at %d within the rest %v", e.Frame, r)
		}
	}
	if !slices.IsSortedFunc(k.Events(), func(a, b Event) int { return a.Frame - b.Frame }) {
		t.Fatalf("events out of order: %v", k.Events())
	}
	for _, h := range k.Hitches() {
		if h.Before >= h.First || h.Last > h.After || h.Depth < 0 || h.Depth > 0.6 {
			t.Fatalf("hitch %+v", h)
		}
	}
	for _, s := range k.Strokes() {
		checkStroke(t, k, s)
	}
	for _, c := range k.FootContacts(upY) {
		number(t, "slip", k.Slip(c, upY).Net)
	}
	for _, s := range k.Spikes(0) {
		number(t, "spike", s.Size)
	}
	for _, r := range evenRuns(nil, k.Spacing(), 0.1, 20*k.Noise, 4) {
		number(t, "evenness", r.Evenness)
		if r.Count < 4 || r.First+r.Count >= k.Len() || r.Evenness > 0.1 {
			t.Fatalf("run %+v", r)
		}
	}
	if l, ok := BestLag(k.Speed(), k.Speed(), k.Rate); ok && l.Frames != 0 {
		t.Fatalf("a track lags behind itself: %+v", l)
	}
	Grips(k, k, nil)
	SteppedStretches(make([]bool, k.Len()), k.Rate)
}

// checkTiling: every spacing belongs to one rest or stroke, and neighbours share
// a frame.
func checkTiling(t *testing.T, k *Track) {
	t.Helper()
	owner := make([]int, max(k.Len()-1, 0))
	last := -1
	for _, r := range k.Rests() {
		if r.First < last || r.Last < r.First || r.Last >= k.Len() {
			t.Fatalf("rests %v of %d frames", k.Rests(), k.Len())
		}
		last = r.Last
		for i := r.First; i < r.Last; i++ {
			owner[i]++
		}
	}
	last = 0
	for _, s := range k.Strokes() {
		if s.First < last || s.Last <= s.First || s.Last >= k.Len() {
			t.Fatalf("strokes %+v of %d frames", k.Strokes(), k.Len())
		}
		last = s.Last
		for i := s.First; i < s.Last; i++ {
			owner[i]++
		}
	}
	for i, n := range owner {
		if n != 1 {
			t.Fatalf("spacing %d belongs to %d of rests %v and strokes %+v", i, n, k.Rests(), k.Strokes())
		}
	}
	if k.Len() == 1 && len(k.Rests()) != 1 {
		t.Fatal("one frame is no rest")
	}
}

func checkStroke(t *testing.T, k *Track, s Stroke) {
	t.Helper()
	if s.Peak < s.First || s.Peak >= s.Last {
		t.Fatalf("peak outside: %+v", s)
	}
	seconds := float64(s.Last-s.First) / k.Rate
	if s.EaseIn < 0 || s.EaseOut < 0 || s.EaseIn+s.EaseOut > seconds*(1+1e-9) {
		t.Fatalf("eases outside: %+v", s)
	}
	if s.Chord > s.Length*(1+1e-9)+1e-300 {
		t.Fatalf("chord longer than the path: %+v", s)
	}
	turning := k.Turning(s)
	for name, v := range map[string]float64{
		"peak": s.PeakSpeed, "mean": s.MeanSpeed, "length": s.Length, "chord": s.Chord, "ease-in": s.EaseIn, "ease-out": s.EaseOut,
		"travel": k.Travel(s), "depth": k.ArcDepth(s), "degrees": turning.Degrees, "early": turning.Early, "late": turning.Late,
		"evenness": Evenness(k.Spacing()[s.First:s.Last]),
	} {
		number(t, name, v)
	}
	var p []r3.Vec
	for i := s.First; i <= s.Last; i++ {
		p = append(p, k.At(i))
	}
	if c, ok := fit.CircleOf(p); ok {
		number(t, "circle", c.Radius+c.Worst+c.RMS+c.Sweep+c.Centre.X+c.Normal.X)
	}
	if share, ok := k.Breakdown(s.First, s.Peak, s.Last); ok {
		number(t, "breakdown", share)
	}
	if l, ok := k.LagBehind(s, k); ok {
		number(t, "lag", l.Seconds+l.Correlation)
	}
	if got, ok := k.StrokeAt(s.First); !ok || got.First != s.First {
		t.Fatalf("StrokeAt(%d) = %+v, %v", s.First, got, ok)
	}
}

func number(t *testing.T, name string, v float64) {
	t.Helper()
	if math.IsNaN(v) || math.IsInf(v, 0) {
		t.Fatalf("%s is %g", name, v)
	}
}

// invented builds a path of a few minimum-jerk moves in random directions with
// pauses and overlaps between them, over seconds.
func invented(r *rand.Rand, seconds float64) func(s float64) r3.Vec {
	type move struct {
		start, length float64
		by            r3.Vec
	}
	var moves []move
	for at := 0.2; at < seconds; {
		m := move{at, 0.3 + r.Float64(), r3.Vec{X: r.NormFloat64() / 3, Y: r.NormFloat64() / 3, Z: r.NormFloat64() / 3}}
		moves = append(moves, m)
		at += m.length + 0.8*r.Float64() - 0.3
	}
	return func(s float64) r3.Vec {
		var p r3.Vec
		for _, m := range moves {
			p = r3.Add(p, r3.Scale(minimumJerk((s-m.start)/m.length), m.by))
		}
		return p
	}
}

func TestInventedMotion(t *testing.T) {
	for seed := range uint64(60) {
		path := invented(rand.New(rand.NewPCG(seed, 7)), 5)
		for _, rate := range rates {
			k := sampled(rate, 5, path)
			checkTrack(t, k)
			if len(k.Spikes(0.005)) != 0 {
				t.Errorf("seed %d, rate %g: spikes %+v in smooth motion", seed, rate, k.Spikes(0.005))
			}
		}
	}
}

// Scaled back, moved far away, turned, or played backwards, a track is cut at
// the same frames.
func TestCutsDoNotDependOnPlace(t *testing.T) {
	turn := r3.NewRotation(1.1, r3.Vec{X: 1, Y: 2, Z: -1})
	for seed := range uint64(60) {
		path := invented(rand.New(rand.NewPCG(seed, 8)), 5)
		k := sampled(24, 5, path)
		turned := sampled(24, 5, func(s float64) r3.Vec { return turn.Rotate(path(s)) })
		far := r3.Vec{X: 1e6, Y: -3e6, Z: 2e6}
		moved := sampled(24, 5, func(s float64) r3.Vec { return r3.Sub(r3.Add(path(s), far), far) })
		for name, o := range map[string]*Track{"turned": turned, "moved": moved} {
			if !slices.Equal(o.Rests(), k.Rests()) || !slices.Equal(o.Events(), k.Events()) {
				t.Errorf("seed %d: %s: rests %v and %v", seed, name, o.Rests(), k.Rests())
			}
		}
		n := k.Len() - 1
		back := sampled(24, 5, func(s float64) r3.Vec { return path(5 - s) })
		mirrored := make([]Rest, 0, len(k.Rests()))
		for _, r := range back.Rests() {
			mirrored = append(mirrored, Rest{n - r.Last, n - r.First, r.Hold})
		}
		slices.Reverse(mirrored)
		if !slices.Equal(mirrored, k.Rests()) {
			t.Errorf("seed %d: backwards: rests %v, forwards %v", seed, mirrored, k.Rests())
		}
	}
}

// Holds and strokes of the same motion at other rates begin and end within a
// frame of each other.
func TestCutsDoNotDependOnRate(t *testing.T) {
	missed, all := 0, 0
	for seed := range uint64(100) {
		path := invented(rand.New(rand.NewPCG(seed, 9)), 5)
		k := sampled(24, 5, path)
		for _, rate := range rates[1:] {
			o := sampled(rate, 5, path)
			for _, s := range k.Strokes() {
				all++
				near := func(x Stroke) bool {
					return about(float64(x.First)/rate, float64(s.First)/24, 1.01/24) && about(float64(x.Last)/rate, float64(s.Last)/24, 1.01/24)
				}
				if !slices.ContainsFunc(o.Strokes(), near) {
					missed++
				}
			}
		}
	}
	// A minimum close to half of a peak, or a rest close to 1/24 s, may fall on
	// either side.
	if missed*50 > all {
		t.Errorf("%d of %d strokes have no match at another rate", missed, all)
	}
}
