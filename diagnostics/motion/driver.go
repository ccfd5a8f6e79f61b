package motion

import (
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/diagnostics/motion/solve"
	"curvelint/diagnostics/motion/track"
	"curvelint/diagnostics/motion/vec"
	"curvelint/parse/scene"
)

// Share is how much of a motion one channel causes: 1 is all of it, a negative
// share is a counter-move.
type Share struct {
	Channel scene.ChannelID
	Value   float64
}

// maxDriverSteps bounds how many steps of a long stroke are looked at; shares
// change slowly, so evenly chosen steps tell the same.
const maxDriverSteps = 64

// Drivers returns the channels that move a track from frame index a to b with
// their shares, largest first. The share of channel c in the motion of point p
// is
//
//	sum over steps of (displacement of p if only c changed in that step) .
//	(unit vector of p's actual step) / path length
//
// so that shares sum to about 1. Channels of the part and of everything above
// it count, up to the carrier for a carried track. A value track has its own
// channel alone; a track that does not move has no drivers.
func (s *Study) Drivers(t *track.Track, a, b int) []Share {
	if t.Quality == track.Value {
		return []Share{{t.Channel, 1}}
	}
	chain := []scene.PartID{t.Part}
	if t.Space != track.Local {
		for p := s.ParentInSpace(t.Part); p != scene.NoPart && p != t.Carrier; p = s.ParentInSpace(p) {
			chain = append(chain, p)
		}
	}
	d := driverSum{s: s, t: t, chain: chain, sum: map[scene.ChannelID]float64{}}
	steps := b - a
	stride := max(1, (steps+maxDriverSteps-1)/maxDriverSteps)
	for i := a; i < b; i += stride {
		d.step(i)
	}
	if d.length == 0 {
		return nil
	}
	var out []Share
	for id, v := range d.sum {
		out = append(out, Share{id, v / d.length})
	}
	slices.SortFunc(out, func(x, y Share) int {
		switch {
		case x.Value > y.Value:
			return -1
		case x.Value < y.Value:
			return 1
		}
		return int(x.Channel - y.Channel)
	})
	return out
}

// driverSum adds up the shares over the steps of a stroke.
type driverSum struct {
	s      *Study
	t      *track.Track
	chain  []scene.PartID // from the point's part up
	sum    map[scene.ChannelID]float64
	length float64
	locals []solve.Affine
}

// step adds the step from frame index i to i+1.
func (d *driverSum) step(i int) {
	s, t := d.s, d.t
	t0, t1 := s.Frame(i), s.Frame(i+1)
	d.locals = d.locals[:0]
	for _, p := range d.chain {
		d.locals = append(d.locals, s.LocalAt(p, t0))
	}
	if t.Quality == track.Rotation {
		d.rotation(i, t0, t1)
		return
	}
	ups := make([]solve.Affine, len(d.chain)+1) // ups[j]: the frame that chain[j-1] hangs in
	ups[len(d.chain)] = solve.Identity()
	for j := len(d.chain) - 1; j >= 0; j-- {
		ups[j] = ups[j+1].Mul(&d.locals[j])
	}
	dir, size := d.direction(i, ups[0])
	if size == 0 {
		return
	}
	d.length += size
	x := t.Offset
	for j, p := range d.chain {
		here := d.locals[j].Point(x)
		for _, in := range s.MovingChannels(p) {
			m := s.LocalWith(p, t0, in, t1)
			move := ups[j+1].Vector(r3.Sub(m.Point(x), here))
			d.sum[in] += r3.Dot(move, dir)
		}
		x = here
	}
}

// direction is the unit vector and length of the point's step from frame i in
// the space at the top of the chain.
func (d *driverSum) direction(i int, here solve.Affine) (r3.Vec, float64) {
	next := solve.Identity()
	for j := len(d.chain) - 1; j >= 0; j-- {
		l := d.s.LocalAt(d.chain[j], d.s.Frame(i+1))
		next = next.Mul(&l)
	}
	step := r3.Sub(next.Point(d.t.Offset), here.Point(d.t.Offset))
	n := vec.Length(step)
	if n == 0 || !vec.Finite(step) {
		return r3.Vec{}, 0
	}
	return r3.Scale(1/n, step), n
}

// rotation adds a step of a rotation track: only the part's own channels turn
// it against its parent.
func (d *driverSum) rotation(i int, t0, t1 float64) {
	step := d.t.Step(i)
	n := vec.Length(step)
	if n == 0 {
		return
	}
	d.length += n
	dir := r3.Scale(1/n, step)
	q := d.locals[0].Quaternion()
	for _, in := range d.s.MovingChannels(d.t.Part) {
		m := d.s.LocalWith(d.t.Part, t0, in, t1)
		d.sum[in] += r3.Dot(solve.RotationStep(q, m.Quaternion()), dir)
	}
}
