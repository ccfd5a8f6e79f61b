package motion

import (
	"math"

	"curvelint/diagnostics/motion/body"
	"curvelint/diagnostics/motion/solve"
	"curvelint/diagnostics/motion/track"
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
func (fig *Figure) PointTrack(i int) *track.Track {
	s := fig.study
	s.worldOnce.Do(s.solvePoints)
	return s.world[trackKey{scene.PartID(fig.Index), scene.ChannelID(i), pointWorld}]
}

// CarriedTrack returns the path of the figure's i-th point relative to what
// carries the figure, or PointTrack(i) when nothing does.
func (fig *Figure) CarriedTrack(i int) *track.Track {
	s := fig.study
	s.worldOnce.Do(s.solvePoints)
	if t := s.world[trackKey{scene.PartID(fig.Index), scene.ChannelID(i), pointCarried}]; t != nil {
		return t
	}
	return fig.PointTrack(i)
}

// pointShell makes an empty track for a point.
func (s *Study) pointShell(fig *Figure, pt body.Point, space track.Space) *track.Track {
	t := s.newTrack(pt.Name, pt.Part, scene.NoChannel, track.Position, space)
	t.Unit, t.Offset = fig.Size, pt.Offset
	t.Noise = s.PositionNoise(pt.Part, pt.Offset) / fig.Size
	return t
}

// rotationShell makes an empty track for the turns of a part, and what records them
// into it.
func (s *Study) rotationShell(p scene.PartID) (*track.Track, *solve.TurnRecorder) {
	t := s.newTrack(s.Scene.Parts[p].Name, p, scene.NoChannel, track.Rotation, track.Local)
	t.Noise = s.RotationNoise(p)
	return t, &solve.TurnRecorder{X: t.X, Y: t.Y, Z: t.Z}
}

func (s *Study) newTrack(name string, p scene.PartID, c scene.ChannelID, q track.Quality, space track.Space) *track.Track {
	back := make([]float64, 3*s.N)
	return &track.Track{
		Name: name, Part: p, Channel: c, Quality: q, Space: space, Rate: s.Rate, Unit: 1, Carrier: scene.NoPart, GivenStep: s.Options.Step,
		X: back[:s.N:s.N], Y: back[s.N : 2*s.N : 2*s.N], Z: back[2*s.N:],
	}
}

// RotationTrack returns the rotation of a part relative to its parent, in
// degrees, or nil when no channel turns it.
func (s *Study) RotationTrack(p scene.PartID) *track.Track {
	if !s.Turns(p) {
		return nil
	}
	key := trackKey{p, scene.NoChannel, localRotation}
	return s.tracks.get(key, func() *track.Track {
		if t := s.recall(key); t != nil {
			return t
		}
		t, turns := s.rotationShell(p)
		s.RecordTurns(p, turns)
		return t
	})
}

// LocalTrack returns the position of a part relative to its parent in figure
// sizes, or nil when no channel shifts it.
func (s *Study) LocalTrack(p scene.PartID) *track.Track {
	if !s.Shifts(p) {
		return nil
	}
	key := trackKey{p, scene.NoChannel, localPosition}
	return s.tracks.get(key, func() *track.Track {
		unit, noise := 1.0, 0.0
		if fig := s.FigureOf(p); fig != nil {
			unit = fig.Size
		}
		if up := s.ParentInSpace(p); up != scene.NoPart {
			m := s.WorldAt(up, s.First)
			if k := m.Scale(); k > 0 {
				unit /= k
			}
		}
		if t := s.recall(key); t != nil && t.Unit == unit {
			return t
		}
		t := s.newTrack(s.Scene.Parts[p].Name, p, scene.NoChannel, track.Position, track.Local)
		for _, id := range s.Channels(p) {
			if s.Scene.Channels[id].Quantity == scene.Length || s.Scene.Channels[id].Quantity == scene.Transform {
				noise += s.ChannelNoise(id)
			}
		}
		s.EachLocal(p, func(i int, m *solve.Affine) { t.Put(i, m.Origin()) })
		t.Unit = unit
		t.Noise = noise / unit
		t.Settle()
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
func (s *Study) ValueTrack(id scene.ChannelID) *track.Track {
	c := &s.Scene.Channels[id]
	if c.Op != scene.NoOp || c.Curve.Stride != 1 || solve.Constant(&c.Curve) || c.Curve.Len() == 0 || s.N == 0 {
		return nil
	}
	key := trackKey{c.Part, id, valueTrack}
	return s.tracks.get(key, func() *track.Track {
		if t := s.recall(key); t != nil {
			return t
		}
		t := s.newTrack(s.Scene.Parts[c.Part].Name, c.Part, id, track.Value, track.Local)
		solve.SampleCurve(&c.Curve, s.First, s.N, []float64{c.Curve.Value(0)}, t.X)
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
		t.Settle()
		return t
	})
}

// LocalTracks returns all tracks of a part seen from its parent: its rotation,
// its position, and the values of its own channels. A weight's parent is what
// it shapes.
func (s *Study) LocalTracks(p scene.PartID) []*track.Track {
	var out []*track.Track
	if t := s.RotationTrack(p); t != nil {
		out = append(out, t)
	}
	if t := s.LocalTrack(p); t != nil {
		out = append(out, t)
	}
	for _, id := range s.Channels(p) {
		if t := s.ValueTrack(id); t != nil {
			out = append(out, t)
		}
	}
	return out
}

// LocalTracks returns the tracks of all members of the group.
func (g *Group) LocalTracks() []*track.Track {
	var out []*track.Track
	for _, p := range g.Parts {
		out = append(out, g.Figure.study.LocalTracks(p)...)
	}
	return out
}

// RootTrack returns the carried path of the figure's root, or nil for a lone
// transform without one.
func (fig *Figure) RootTrack() *track.Track {
	for i, p := range fig.Points {
		if p.Role == body.RootPoint {
			return fig.CarriedTrack(i)
		}
	}
	return nil
}
