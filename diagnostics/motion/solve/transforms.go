package solve

import (
	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/parse/scene"
)

// WorldAt returns the world transform of a part at display frame t, which may
// be fractional and outside the clip.
func (h *Hierarchy) WorldAt(p scene.PartID, t float64) Affine {
	m := h.LocalAt(p, t)
	for q := h.ParentInSpace(p); q != scene.NoPart; q = h.ParentInSpace(q) {
		l := h.LocalAt(q, t)
		m = l.Mul(&m)
	}
	return m
}

// WorldPosition returns where the origin of a part is at display frame t, in
// scene units.
func (h *Hierarchy) WorldPosition(p scene.PartID, t float64) r3.Vec {
	m := h.WorldAt(p, t)
	return m.Origin()
}

// LocalAt returns the local transform of a part at display frame t.
func (h *Hierarchy) LocalAt(p scene.PartID, t float64) Affine {
	return h.plans[p].localAt(t, scene.NoChannel, 0)
}

// LocalWith is LocalAt with the value of one channel taken from display frame u.
func (h *Hierarchy) LocalWith(p scene.PartID, t float64, id scene.ChannelID, u float64) Affine {
	return h.plans[p].localAt(t, id, u)
}

// Locals evaluates the local transforms of a part at the frame indices a to
// b-1 into a new slice.
func (h *Hierarchy) Locals(p scene.PartID, a, b int) []Affine {
	out := make([]Affine, b-a)
	var buf columns
	h.plans[p].locals(h.Frame(a), out, &buf)
	return out
}

// EachLocal calls do with the local transform of a part at every frame index, which
// it must not keep.
func (h *Hierarchy) EachLocal(p scene.PartID, do func(i int, m *Affine)) {
	var buf columns
	block := make([]Affine, min(BlockFrames, h.N))
	for a := 0; a < h.N; a += BlockFrames {
		b := block[:min(BlockFrames, h.N-a)]
		h.plans[p].locals(h.Frame(a), b, &buf)
		for f := range b {
			do(a+f, &b[f])
		}
	}
}

// SeenFrom evaluates the transforms from a part's own frame up to that of an
// ancestor, at the frame indices a to b-1.
func (h *Hierarchy) SeenFrom(ancestor, p scene.PartID, a, b int) []Affine {
	out := h.Locals(p, a, b)
	for q := h.Scene.Parts[p].Parent; q != ancestor && q != scene.NoPart; q = h.Scene.Parts[q].Parent {
		up := h.Locals(q, a, b)
		for i := range out {
			out[i] = up[i].Mul(&out[i])
		}
	}
	return out
}
