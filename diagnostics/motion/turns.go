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

// rigid records a block of a rigid part from frame index start.
func (r *turnRecorder) rigid(start int, b *rigidBlock) {
	for f := range b.n {
		r.next(start+f, b.at(f))
	}
}

// matrices records a block of local transforms from frame index start.
func (r *turnRecorder) matrices(start int, locals []Affine) {
	for f := range locals {
		r.next(start+f, locals[f].quaternion())
	}
}

// next records the orientation at frame index i.
func (r *turnRecorder) next(i int, q [4]float64) {
	if i > 0 {
		if d := rotationStep(r.before, q); finite(d) {
			r.at = r3.Add(r.at, d)
		}
	}
	r.before = q
	r.t.put(i, r.at)
}
