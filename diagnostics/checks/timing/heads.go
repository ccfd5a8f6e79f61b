package timing

import (
	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/motion/track"
)

// headTurn is the turning of the highest part of the head that turns, or nil.
func headTurn(s *motion.Study, g *motion.Group) *track.Track {
	for _, p := range g.Parts {
		if t := s.RotationTrack(p); t != nil {
			return t
		}
	}
	return nil
}

// trackRange is the diagonal of the box around a track's path.
func trackRange(t *track.Track) float64 {
	if t.Len() == 0 {
		return 0
	}
	lo, hi := t.At(0), t.At(0)
	for i := range t.Len() {
		p := t.At(i)
		lo = r3.Vec{X: min(lo.X, p.X), Y: min(lo.Y, p.Y), Z: min(lo.Z, p.Z)}
		hi = r3.Vec{X: max(hi.X, p.X), Y: max(hi.Y, p.Y), Z: max(hi.Z, p.Z)}
	}
	return r3.Norm(r3.Sub(hi, lo))
}
