package motion

import (
	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/diagnostics/motion/track"
)

// grips are the grips of two tracks of the study's parts, whose turns are known.
func (s *Study) grips(a, b *track.Track) []track.Grip {
	return track.Grips(a, b, func(first, last int) *track.Track { return s.seenAsItTurns(a, b, first, last) })
}

// seenAsItTurns is the path of a seen from b's part as it turns, over the frames first to
// last, in a's unit.
func (s *Study) seenAsItTurns(a, b *track.Track, first, last int) *track.Track {
	n := last - first + 1
	c := make([]float64, 3*n)
	rel := &track.Track{X: c[:n], Y: c[n : 2*n], Z: c[2*n:], Rate: a.Rate, Noise: a.Noise + b.Noise*b.Unit/a.Unit, GivenStep: 1}
	for i, m := range s.Worlds(b.Part, first, last+1) {
		scale := m.Scale() / a.Unit
		m = m.Inverse()
		rel.Put(i, r3.Scale(scale, m.Point(a.WorldPoint(first+i))))
	}
	return rel
}
