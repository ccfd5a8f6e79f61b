package motion

import (
	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/parse/scene"
)

// turnRecorder makes the rotation track of a part, block by block in the order
// of the frames: the running sum of the rotation vectors from frame to frame.
type turnRecorder struct {
	t      *Track
	before [4]float64 // the orientation in the frame before
	at     r3.Vec
}

// recorder returns the recorder of an empty rotation track.
func (s *Study) recorder(p scene.PartID) *turnRecorder {
	t := s.newTrack(s.Scene.Parts[p].Name, p, scene.NoChannel, Rotation, Local)
	t.Noise = s.rotationNoise(p)
	return &turnRecorder{t: t}
}

// record goes through all frames of a part.
func (r *turnRecorder) record(s *Study, p scene.PartID) {
	plan := &s.plans[p]
	if plan.rigid == nil {
		var buf columns
		block := make([]Affine, min(blockFrames, s.N))
		for a := 0; a < s.N; a += blockFrames {
			b := block[:min(blockFrames, s.N-a)]
			plan.locals(s.Frame(a), b, &buf)
			r.matrices(a, b)
		}
		return
	}
	var b rigidBlock
	for a := 0; a < s.N; a += blockFrames {
		b.locals(plan.rigid, a, s.Frame(a), min(blockFrames, s.N-a))
		r.rigid(a, &b)
	}
}

// rigid records a block of a rigid part from frame index start. Small turns are
// written out, as in rotationStep: nearly all are.
func (r *turnRecorder) rigid(start int, b *rigidBlock) {
	n := b.n
	w, p, q, s := b.w[:n], b.x[:n], b.y[:n], b.z[:n]
	x, y, z := r.t.X[start:start+n], r.t.Y[start:start+n], r.t.Z[start:start+n]
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
		} else if d := rotationStep([4]float64{w0, p0, q0, s0}, [4]float64{w1, p1, q1, s1}); finite(d) {
			at = r3.Add(at, d)
		}
		x[f], y[f], z[f] = at.X, at.Y, at.Z
		w0, p0, q0, s0 = w1, p1, q1, s1
	}
	r.before, r.at = [4]float64{w0, p0, q0, s0}, at
}

// matrices records a block of local transforms from frame index start.
func (r *turnRecorder) matrices(start int, locals []Affine) {
	for f := range locals {
		q := locals[f].quaternion()
		if start+f > 0 {
			if d := rotationStep(r.before, q); finite(d) {
				r.at = r3.Add(r.at, d)
			}
		}
		r.before = q
		r.t.put(start+f, r.at)
	}
}
