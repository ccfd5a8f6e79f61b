package motion

import (
	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/diagnostics/motion/body"
	"curvelint/diagnostics/motion/vec"
)

// Flexion is how a two-bone limb bends over the frames of the study.
type Flexion struct {
	// Angle is the angle in degrees between the bones: 0 for a straight limb.
	Angle []float64
	// Extension is the straight distance from the limb's root to its end over
	// the length of both bones: 1 for a straight limb.
	Extension []float64
	// Side is the cosine between the axis of the bend and the limb's usual one:
	// near 1 as a rule, near -1 when it bends backward; 0 when it is straight.
	Side []float64
}

// Flex measures the bend of a limb at every frame, seen from its upper bone.
func (s *Study) Flex(l body.TwoBone) Flexion {
	f := Flexion{make([]float64, s.N), make([]float64, s.N), make([]float64, s.N)}
	axes := make([]r3.Vec, s.N)
	usual := r3.Vec{}
	lower, end := s.SeenFrom(l.Upper, l.Lower, 0, s.N), s.SeenFrom(l.Lower, l.End, 0, s.N)
	for i := range f.Angle {
		a := lower[i].Origin()
		b := lower[i].Vector(end[i].Origin())
		na, nb := vec.Length(a), vec.Length(b)
		f.Angle[i] = vec.Angle(a, b)
		if na+nb > 0 {
			f.Extension[i] = vec.Length(r3.Add(a, b)) / (na + nb)
		}
		axes[i] = r3.Cross(a, b)
		if na*nb > 0 {
			axes[i] = r3.Scale(1/(na*nb), axes[i])
		}
		usual = r3.Add(usual, axes[i])
	}
	for i, x := range axes {
		if n := vec.Length(x) * vec.Length(usual); n > 0 {
			f.Side[i] = r3.Dot(x, usual) / n
		}
	}
	return f
}
