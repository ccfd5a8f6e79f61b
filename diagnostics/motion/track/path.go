package track

import (
	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/diagnostics/motion/vec"
)

// Len returns the number of frames.
func (t *Track) Len() int { return len(t.X) }

// At returns the path at frame index i, in the track's unit.
func (t *Track) At(i int) r3.Vec { return r3.Vec{X: t.X[i], Y: t.Y[i], Z: t.Z[i]} }

// Step returns the vector from frame index i to i+1, in the track's unit.
func (t *Track) Step(i int) r3.Vec { return r3.Sub(t.At(i+1), t.At(i)) }

// WorldPoint returns where the track's point is at frame index i, in scene
// units (relative to the carrier for a carried track).
func (t *Track) WorldPoint(i int) r3.Vec {
	return r3.Add(vec.Of(t.Origin), r3.Scale(t.Unit, t.At(i)))
}

// Put sets the path at frame index i. Only who makes the track may call it.
func (t *Track) Put(i int, p r3.Vec) { t.X[i], t.Y[i], t.Z[i] = p.X, p.Y, p.Z }

// Settle turns the raw positions of a track that is being made into units from the
// first frame. A frame that is not finite (a singular transform) keeps the position
// before it.
func (t *Track) Settle() {
	if len(t.X) == 0 {
		return
	}
	for i := range t.X {
		if p := t.At(i); vec.Finite(p) {
			t.Origin = [3]float64{p.X, p.Y, p.Z}
			break
		}
	}
	t.SettleRange(0, len(t.X)-1)
}

// SettleRange is Settle for the frames a to b, with the origin as it is.
func (t *Track) SettleRange(a, b int) {
	o, k := vec.Of(t.Origin), 1/t.Unit
	last := o
	if a > 0 {
		last = r3.Add(o, r3.Scale(t.Unit, t.At(a-1)))
	}
	for i := a; i <= b; i++ {
		if p := t.At(i); vec.Finite(p) {
			last = p
		}
		t.Put(i, r3.Scale(k, r3.Sub(last, o)))
	}
}
