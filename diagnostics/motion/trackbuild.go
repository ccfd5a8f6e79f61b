package motion

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/parse/scene"
)

type trackKind uint8

const (
	pointWorld trackKind = iota // channel holds the index of the figure's point
	pointCarried
	localRotation
	localPosition
	valueTrack
	screenPoint
)

// PointTrack returns the path of the figure's i-th point in world space, in
// figure sizes. All points of all figures are solved in one pass on first use.
func (fig *Figure) PointTrack(i int) *Track {
	s := fig.study
	s.worldOnce.Do(s.solvePoints)
	return s.world[trackKey{scene.PartID(fig.Index), scene.ChannelID(i), pointWorld}]
}

// CarriedTrack returns the path of the figure's i-th point relative to what
// carries the figure, or PointTrack(i) when nothing does.
func (fig *Figure) CarriedTrack(i int) *Track {
	s := fig.study
	s.worldOnce.Do(s.solvePoints)
	if t := s.world[trackKey{scene.PartID(fig.Index), scene.ChannelID(i), pointCarried}]; t != nil {
		return t
	}
	return fig.PointTrack(i)
}

// pointShell makes an empty track for a point.
func (s *Study) pointShell(fig *Figure, pt Point, space Space) *Track {
	t := s.newTrack(pt.Name, pt.Part, scene.NoChannel, Position, space)
	t.Unit, t.Offset = fig.Size, pt.Offset
	t.Noise = s.positionNoise(pt.Part, [3]float64{pt.Offset.X, pt.Offset.Y, pt.Offset.Z}) / fig.Size
	return t
}

func (s *Study) newTrack(name string, p scene.PartID, c scene.ChannelID, q Quality, space Space) *Track {
	back := make([]float64, 3*s.N)
	return &Track{
		Name: name, Part: p, Channel: c, Quality: q, Space: space, Rate: s.Rate, Unit: 1, Carrier: scene.NoPart, GivenStep: s.Options.Step,
		X: back[:s.N:s.N], Y: back[s.N : 2*s.N : 2*s.N], Z: back[2*s.N:],
	}
}

func (t *Track) put(i int, p r3.Vec) { t.X[i], t.Y[i], t.Z[i] = p.X, p.Y, p.Z }

// settle turns raw positions into units from the first frame. A frame that is
// not finite (a singular transform) keeps the position before it.
func (t *Track) settle() {
	if len(t.X) == 0 {
		return
	}
	for i := range t.X {
		if p := t.at(i); finite(p) {
			t.Origin = [3]float64{p.X, p.Y, p.Z}
			break
		}
	}
	t.settleRange(0, len(t.X)-1)
}

// settleRange is settle for the frames a to b, with the origin as it is.
func (t *Track) settleRange(a, b int) {
	o, k := vec(t.Origin), 1/t.Unit
	last := o
	if a > 0 {
		last = r3.Add(o, r3.Scale(t.Unit, t.at(a-1)))
	}
	for i := a; i <= b; i++ {
		if p := t.at(i); finite(p) {
			last = p
		}
		t.put(i, r3.Scale(k, r3.Sub(last, o)))
	}
}

func (t *Track) at(i int) r3.Vec { return r3.Vec{X: t.X[i], Y: t.Y[i], Z: t.Z[i]} }

// At returns the path at frame index i, in the track's unit.
func (t *Track) At(i int) r3.Vec { return t.at(i) }

// Step returns the vector from frame index i to i+1, in the track's unit.
func (t *Track) Step(i int) r3.Vec { return r3.Sub(t.at(i+1), t.at(i)) }

func finite(v r3.Vec) bool {
	s := v.X + v.Y + v.Z
	return !math.IsNaN(s) && !math.IsInf(s, 0)
}

// RotationTrack returns the rotation of a part relative to its parent, in
// degrees, or nil when no channel turns it.
func (s *Study) RotationTrack(p scene.PartID) *Track {
	if !s.turns(p) {
		return nil
	}
	key := trackKey{p, scene.NoChannel, localRotation}
	return s.tracks.get(key, func() *Track {
		if t := s.recall(key); t != nil {
			return t
		}
		turns := s.recorder(p)
		turns.record(s, p)
		return turns.t
	})
}

// LocalTrack returns the position of a part relative to its parent in figure
// sizes, or nil when no channel shifts it.
func (s *Study) LocalTrack(p scene.PartID) *Track {
	if !s.shifts(p) {
		return nil
	}
	key := trackKey{p, scene.NoChannel, localPosition}
	return s.tracks.get(key, func() *Track {
		unit, noise := 1.0, 0.0
		if fig := s.FigureOf(p); fig != nil {
			unit = fig.Size
		}
		if up := s.parentInSpace(p); up != scene.NoPart {
			m := s.WorldAt(up, s.First)
			if k := m.Scale(); k > 0 {
				unit /= k
			}
		}
		if t := s.recall(key); t != nil && t.Unit == unit {
			return t
		}
		t := s.newTrack(s.Scene.Parts[p].Name, p, scene.NoChannel, Position, Local)
		for _, id := range s.channels[p] {
			if s.Scene.Channels[id].Quantity == scene.Length || s.Scene.Channels[id].Quantity == scene.Transform {
				noise += s.ChannelNoise(id)
			}
		}
		s.eachLocal(p, func(i int, m *Affine) { t.put(i, m.Origin()) })
		t.Unit = unit
		t.Noise = noise / unit
		t.settle()
		return t
	})
}

// A value that stays within -1.5 and 1.5 is taken for a shape weight, which is 1
// where the whole shape shows; one that changes by less than a quarter in the
// whole clip is measured by that, or its drift would count as large motion.
const (
	wholeWeight = 1.5
	leastWeight = 0.25
)

// ValueTrack returns a shape weight or free number in shares of its range over
// the clip, or nil when it does not change. Origin[0] is its value at the first
// frame and Unit its range, at least a quarter for a shape weight.
func (s *Study) ValueTrack(id scene.ChannelID) *Track {
	c := &s.Scene.Channels[id]
	if c.Op != scene.NoOp || c.Curve.Stride != 1 || constant(&c.Curve) || c.Curve.Len() == 0 || s.N == 0 {
		return nil
	}
	key := trackKey{c.Part, id, valueTrack}
	return s.tracks.get(key, func() *Track {
		if t := s.recall(key); t != nil {
			return t
		}
		t := s.newTrack(s.Scene.Parts[c.Part].Name, c.Part, id, Value, Local)
		sampleCurve(&c.Curve, s.First, s.N, []float64{c.Curve.Value(0)}, t.X)
		lo, hi := math.Inf(1), math.Inf(-1)
		for _, v := range t.X {
			lo, hi = min(lo, v), max(hi, v)
		}
		if t.Unit = hi - lo; t.Unit <= 0 || math.IsInf(t.Unit, 0) {
			t.Unit = 1
		}
		if max(-lo, hi) <= wholeWeight {
			t.Unit = max(t.Unit, leastWeight)
		}
		t.Noise = s.ChannelNoise(id) / t.Unit
		t.settle()
		return t
	})
}

// eachLocal calls do with the local transform of p at every frame.
func (s *Study) eachLocal(p scene.PartID, do func(i int, m *Affine)) {
	var buf columns
	block := make([]Affine, min(blockFrames, s.N))
	for a := 0; a < s.N; a += blockFrames {
		b := block[:min(blockFrames, s.N-a)]
		s.plans[p].locals(s.Frame(a), b, &buf)
		for f := range b {
			do(a+f, &b[f])
		}
	}
}

// turns reports whether a channel turns the part.
func (s *Study) turns(p scene.PartID) bool {
	return s.drivenBy(p, scene.Angle, scene.Quaternion, scene.Transform)
}

// shifts reports whether a channel shifts the part.
func (s *Study) shifts(p scene.PartID) bool {
	return s.drivenBy(p, scene.Length, scene.Transform, scene.Length)
}

func (s *Study) drivenBy(p scene.PartID, a, b, c scene.Quantity) bool {
	for _, o := range s.plans[p].ops {
		for _, in := range o.inputs {
			if q := s.Scene.Channels[in.channel].Quantity; q == a || q == b || q == c {
				return true
			}
		}
	}
	return false
}

// LocalTracks returns all tracks of a part seen from its parent: its rotation,
// its position, and the values of its own channels. A weight's parent is what
// it shapes.
func (s *Study) LocalTracks(p scene.PartID) []*Track {
	var out []*Track
	if t := s.RotationTrack(p); t != nil {
		out = append(out, t)
	}
	if t := s.LocalTrack(p); t != nil {
		out = append(out, t)
	}
	for _, id := range s.channels[p] {
		if t := s.ValueTrack(id); t != nil {
			out = append(out, t)
		}
	}
	return out
}

// LocalTracks returns the tracks of all members of the group.
func (g *Group) LocalTracks() []*Track {
	var out []*Track
	for _, p := range g.Parts {
		out = append(out, g.Figure.study.LocalTracks(p)...)
	}
	return out
}

// RootTrack returns the carried path of the figure's root, or nil for a lone
// transform without one.
func (fig *Figure) RootTrack() *Track {
	for i, p := range fig.Points {
		if p.Role == RootPoint {
			return fig.CarriedTrack(i)
		}
	}
	return nil
}
