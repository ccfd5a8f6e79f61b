package track

import (
	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/diagnostics/motion/vec"
)

// PathLength returns the length of the path from frame index first to last,
// the sum of its spacings, in the track's unit. The range is cut to the clip.
func (t *Track) PathLength(first, last int) float64 {
	sum := 0.0
	for i := max(first, 0); i < min(last, t.Len()-1); i++ {
		sum += vec.Distance(t.At(i), t.At(i+1))
	}
	return sum
}

// Travel returns how much longer a stroke's path is than the straight way,
//
//	travel = Length / Chord
//
// 1 for a straight path. It is 0 for a stroke that ends where it began: its
// chord is no motion (StillLimit) and travel is not defined.
func (t *Track) Travel(s Stroke) float64 {
	if !(s.Chord > t.StillLimit()) {
		return 0
	}
	return s.Length / s.Chord
}

// ArcDepth returns how deep the stroke's path curves,
//
//	depth = max |(p[i] - a) x (b - a)| / |b - a|^2
//
// the largest distance of its positions from the line through its first and
// last position a and b, as a share of the chord. A circular arc of angle w has
// depth tan(w/4)/2. It is 0 for a straight path and for one that ends where it
// began. Rotations and values have a path in their own space.
func (t *Track) ArcDepth(s Stroke) float64 {
	if !(s.Chord > t.StillLimit()) || s.First < 0 || s.Last >= t.Len() {
		return 0
	}
	depth := 0.0
	a := t.At(s.First)
	u := r3.Scale(1/s.Chord, r3.Sub(t.At(s.Last), a))
	for i := s.First + 1; i < s.Last; i++ {
		if d := vec.Length(r3.Cross(r3.Sub(t.At(i), a), u)); d > depth {
			depth = d
		}
	}
	return depth / s.Chord
}

// Turning says how a stroke's path turns.
type Turning struct {
	// Degrees is the sum of the turns of the path.
	Degrees float64
	// Early and Late are the shares, 0 to 1, of the turning that lie in the
	// first and the last quarter of the path's length, each turn weighted with
	// the spacing around it. Both are 0 for a path that does not turn.
	Early, Late float64
}

// Turning returns how the stroke's path turns at its inner frames.
//
//	weight of frame i = turn[i] (s[i-1] + s[i]) / 2
//
// where turn[i] is the angle between chords of 1/24 s cut to the stroke.
func (t *Track) Turning(s Stroke) Turning {
	var out Turning
	if s.First < 0 || s.Last >= t.Len() || s.Length <= 0 {
		return out
	}
	w, spacing := t.turnFrames(), t.Spacing()
	sum, walked := 0.0, 0.0
	for i := s.First + 1; i < s.Last; i++ {
		walked += spacing[i-1]
		h := min(w, i-s.First, s.Last-i)
		p := t.At(i)
		a := vec.Angle(r3.Sub(p, t.At(i-h)), r3.Sub(t.At(i+h), p)) / float64(h)
		weight := a * (spacing[i-1] + spacing[i]) / 2
		out.Degrees += a
		sum += weight
		switch at := walked / s.Length; {
		case at <= 0.25:
			out.Early += weight
		case at >= 0.75:
			out.Late += weight
		}
	}
	if sum <= 0 {
		return Turning{Degrees: out.Degrees}
	}
	out.Early /= sum
	out.Late /= sum
	return out
}

// Breakdown returns where frame index f stands between the extremes at frame
// indices a and b, as a share of the way along the chord between them:
//
//	(p[f] - p[a]) . (p[b] - p[a]) / |p[b] - p[a]|^2
//
// 0 at a, 1 at b, under 0.5 when it favours a; below 0 it backs up, above 1 it
// overshoots. ok is false when the extremes are the same place or a frame is
// outside the clip.
func (t *Track) Breakdown(a, f, b int) (share float64, ok bool) {
	n := t.Len()
	if min(a, f, b) < 0 || max(a, f, b) >= n {
		return 0, false
	}
	from := t.At(a)
	chord := r3.Sub(t.At(b), from)
	if !(vec.Length(chord) > t.StillLimit()) {
		return 0, false
	}
	return r3.Dot(r3.Sub(t.At(f), from), chord) / r3.Dot(chord, chord), true
}
