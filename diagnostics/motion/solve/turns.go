package solve

import (
	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/diagnostics/motion/vec"
	"curvelint/parse/scene"
)

// TurnRecorder records how a part turns against its parent, block by block in the
// order of the frames: into X, Y and Z, which have one element a frame, goes the
// running sum of the rotation vectors, in degrees, from frame to frame.
type TurnRecorder struct {
	X, Y, Z []float64

	before [4]float64 // the orientation in the frame before
	at     r3.Vec
}

// RecordTurns goes through all frames of a part.
func (h *Hierarchy) RecordTurns(p scene.PartID, r *TurnRecorder) {
	plan := &h.plans[p]
	if plan.rigid == nil {
		var buf columns
		block := make([]Affine, min(BlockFrames, h.N))
		for a := 0; a < h.N; a += BlockFrames {
			b := block[:min(BlockFrames, h.N-a)]
			plan.locals(h.Frame(a), b, &buf)
			r.takeMatrices(a, b)
		}
		return
	}
	var b rigidBlock
	for a := 0; a < h.N; a += BlockFrames {
		b.locals(plan.rigid, a, h.Frame(a), min(BlockFrames, h.N-a))
		r.takeRigid(a, &b)
	}
}

// takeRigid records a block of a rigid part from frame index start. Small turns are
// written out, as in RotationStep: nearly all are.
func (r *TurnRecorder) takeRigid(start int, b *rigidBlock) {
	n := b.n
	w, p, q, s := b.w[:n], b.x[:n], b.y[:n], b.z[:n]
	x, y, z := r.X[start:start+n], r.Y[start:start+n], r.Z[start:start+n]
	if start == 0 && n > 0 {
		r.before = b.at(0) // the first frame has no step
	}
	w0, p0, q0, s0 := r.before[0], r.before[1], r.before[2], r.before[3]
	at := r.at
	for f := range w {
		w1, p1, q1, s1 := w[f], p[f], q[f], s[f]
		dx := p1*w0 - w1*p0 - q1*s0 + s1*q0
		dy := q1*w0 - w1*q0 + p1*s0 - s1*p0
		dz := s1*w0 - w1*s0 - p1*q0 + q1*p0
		if s2 := dx*dx + dy*dy + dz*dz; s2 < fairTurn {
			k := 0.0
			if s2 < smallTurn {
				k = turnSeries(s2)
			} else {
				k = longTurnSeries(s2)
			}
			if w1*w0+p1*p0+q1*q0+s1*s0 < 0 {
				k = -k
			}
			at.X, at.Y, at.Z = at.X+k*dx, at.Y+k*dy, at.Z+k*dz
		} else if d := RotationStep([4]float64{w0, p0, q0, s0}, [4]float64{w1, p1, q1, s1}); vec.Finite(d) {
			at = r3.Add(at, d)
		}
		x[f], y[f], z[f] = at.X, at.Y, at.Z
		w0, p0, q0, s0 = w1, p1, q1, s1
	}
	r.before, r.at = [4]float64{w0, p0, q0, s0}, at
}

// takeMatrices records a block of local transforms from frame index start.
func (r *TurnRecorder) takeMatrices(start int, locals []Affine) {
	for f := range locals {
		q := locals[f].Quaternion()
		if start+f > 0 {
			if d := RotationStep(r.before, q); vec.Finite(d) {
				r.at = r3.Add(r.at, d)
			}
		}
		r.before = q
		r.X[start+f], r.Y[start+f], r.Z[start+f] = r.at.X, r.at.Y, r.at.Z
	}
}
