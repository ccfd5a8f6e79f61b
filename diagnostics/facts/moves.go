package facts

import (
	"slices"

	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/motion/body"
	"curvelint/diagnostics/motion/track"
	"curvelint/parse/scene"
)

// Move is one stroke of a track.
type Move struct {
	Track *track.Track
	// First and Last are the frame indices of its first and last position.
	First, Last int
	// Peak is the frame index before the largest spacing, and PeakSpeed that
	// spacing's speed in the track's unit a second.
	Peak      int
	PeakSpeed float64
	// Leave and Arrive are frames: from the start to 90 % of the peak speed, and from
	// there to the end.
	Leave, Arrive float64
	// ArcDepth is the largest distance from the chord as a share of the chord.
	ArcDepth float64
	// Length is that of the path, in the track's unit.
	Length float64
}

// Even reports whether the whole move has equal spacing, as a drum that is driven has:
// its spacings differ by less than a twentieth. Common practice, no source.
func (m *Move) Even() bool {
	v := m.Track.Spacing()
	return m.Last <= len(v) && track.Evenness(v[m.First:m.Last]) < 0.05
}

// newMove describes a stroke.
func newMove(t *track.Track, k track.Stroke) Move {
	m := Move{Track: t, First: k.First, Last: k.Last, Peak: k.Peak, PeakSpeed: k.PeakSpeed,
		ArcDepth: t.ArcDepth(k), Length: k.Length}
	m.Leave, m.Arrive = t.EaseFrames(k)
	return m
}

// UnitOf returns the unit of a track's lengths, by its name in note.Measure and in
// package words.
func UnitOf(t *track.Track) string {
	switch {
	case t.Space == track.Screen:
		return "pictures"
	case t.Quality == track.Rotation:
		return "degrees"
	case t.Quality == track.Value:
		return "range"
	}
	return "figure"
}

// Timeline is what a part does over the clip: its moves and its holds, each in
// order.
type Timeline struct {
	Moves []Move
	Holds []track.Rest
}

// TimelineOf returns the moves and holds of a part, seen from its parent, on
// the track that moves most; ok is false when the part does not move.
func TimelineOf(s *motion.Study, p scene.PartID) (tl Timeline, ok bool) {
	t := LeadingTrack(s, p)
	if t == nil {
		return Timeline{}, false
	}
	for _, k := range t.Strokes() {
		tl.Moves = append(tl.Moves, newMove(t, k))
	}
	tl.Holds = t.Holds()
	return tl, len(tl.Moves) > 0
}

// LeadingTrack returns the track of a part, seen from its parent, that an
// audience would say is its motion: the one with the longest path, lengths
// counted as checks weigh them (a figure size like 180 degrees like the whole
// range); nil when the part does not move.
func LeadingTrack(s *motion.Study, p scene.PartID) *track.Track {
	var best *track.Track
	longest := 0.0
	for _, t := range s.LocalTracks(p) {
		if n := t.PathLength(0, t.Len()-1) * weightOf(t.Quality); n > longest {
			best, longest = t, n
		}
	}
	return best
}

// weightOf makes lengths of different qualities comparable.
func weightOf(q track.Quality) float64 {
	if q == track.Rotation {
		return 1.0 / 180
	}
	return 1
}

// TrackOf returns the track that a channel's own op moves, seen from the
// part's parent: its rotation, its position or its value; nil when it does not
// move.
func TrackOf(s *motion.Study, id scene.ChannelID) *track.Track {
	c := &s.Scene.Channels[id]
	switch c.Quantity {
	case scene.Angle, scene.Quaternion:
		if c.Op != scene.NoOp {
			return s.RotationTrack(c.Part)
		}
	case scene.Length:
		if c.Op != scene.NoOp {
			return s.LocalTrack(c.Part)
		}
	case scene.Transform:
		return LeadingTrack(s, c.Part)
	}
	return s.ValueTrack(id)
}

// PointTrack returns the path in space of the tracked point that a part
// carries, relative to what carries its figure; nil when it carries none.
func PointTrack(s *motion.Study, p scene.PartID) *track.Track {
	fig := s.FigureOf(p)
	if fig == nil {
		return nil
	}
	i := slices.IndexFunc(fig.Points, func(q body.Point) bool { return q.Part == p })
	if i < 0 {
		return nil
	}
	return fig.CarriedTrack(i)
}

// Biggest returns the longest move of a part, on its tracked point where it
// carries one, else on its own motion.
func Biggest(s *motion.Study, p scene.PartID) (Move, bool) {
	t := PointTrack(s, p)
	if t == nil || len(t.Strokes()) == 0 {
		t = LeadingTrack(s, p)
	}
	if t == nil || len(t.Strokes()) == 0 {
		return Move{}, false
	}
	k := slices.MaxFunc(t.Strokes(), func(a, b track.Stroke) int {
		switch {
		case a.Length < b.Length:
			return -1
		case a.Length > b.Length:
			return 1
		}
		return b.First - a.First
	})
	return newMove(t, k), true
}
