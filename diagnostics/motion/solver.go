package motion

import (
	"sync"

	"curvelint/parse/scene"
)

// blockFrames is how many frames are solved at once: many enough for the columns
// of keys to be read in long stretches, few enough for the matrices of a chain to
// stay in the processor's cache.
const blockFrames = 256

// solver walks the hierarchy block by block.
type solver struct {
	s      *Study
	need   []bool // parts to be solved, ancestors included
	worlds [][]Affine
	most   int // frames of a block
	buf    columns
	rigid  *rigidBlock     // borrowed for each block
	turns  []*turnRecorder // by part: rotation tracks made on the way, or nil

	// Of walk: by part the parts whose transforms nobody needs any more when it
	// is solved, and what was used for such.
	over [][]scene.PartID
	free [][]Affine
}

// rigidBlocks lends out memory, of which a block for a few frames needs as much
// as one for many.
var rigidBlocks = sync.Pool{New: func() any { return new(rigidBlock) }}

// newSolver prepares to solve the given parts and their ancestors at the given
// number of frames.
func (s *Study) newSolver(parts []scene.PartID, frames int) *solver {
	v := &solver{s: s, need: make([]bool, len(s.Scene.Parts)), worlds: make([][]Affine, len(s.Scene.Parts)), most: min(blockFrames, frames)}
	for _, p := range parts {
		for ; p != scene.NoPart && !v.need[p]; p = s.parentInSpace(p) {
			v.need[p] = true
		}
	}
	return v
}

// parentInSpace is the part whose world transform carries p: its parent, or
// none when p resets the stack.
func (s *Study) parentInSpace(p scene.PartID) scene.PartID {
	if s.Scene.Parts[p].ResetStack {
		return scene.NoPart
	}
	return s.Scene.Parts[p].Parent
}

// block solves n frames from index start; afterwards worlds[p][f] is the world
// transform of each needed part.
func (v *solver) block(start, n int) {
	v.rigid = rigidBlocks.Get().(*rigidBlock)
	for p, need := range v.need {
		if need {
			if cap(v.worlds[p]) < n {
				v.worlds[p] = make([]Affine, n, max(n, v.most))
			}
			v.worlds[p] = v.worlds[p][:n]
			v.part(scene.PartID(p), start)
		}
	}
	rigidBlocks.Put(v.rigid)
}

// keepOnly tells walk of which parts the transforms must last for the whole block;
// those of the others last until the last of their needed children is solved.
func (v *solver) keepOnly(pinned []bool) {
	last := make([]scene.PartID, len(v.need))
	for p, need := range v.need {
		last[p] = scene.PartID(p)
		if up := v.s.parentInSpace(scene.PartID(p)); need && up != scene.NoPart {
			last[up] = scene.PartID(p) // parents stand before their children
		}
	}
	v.over = make([][]scene.PartID, len(v.need))
	for p, need := range v.need {
		if id := scene.PartID(p); need && !pinned[id] {
			v.over[last[p]] = append(v.over[last[p]], id)
		}
	}
}

// walk is block for a solver that was told what to keep: visit is called when a
// part is solved, and must not keep its transforms. All work on few matrices,
// which so stay in the cache.
func (v *solver) walk(start, n int, visit func(scene.PartID)) {
	v.rigid = rigidBlocks.Get().(*rigidBlock)
	for p, need := range v.need {
		if !need {
			continue
		}
		if v.worlds[p] == nil {
			v.worlds[p] = v.take()
		}
		v.worlds[p] = v.worlds[p][:n]
		v.part(scene.PartID(p), start)
		visit(scene.PartID(p))
		for _, q := range v.over[p] {
			v.free, v.worlds[q] = append(v.free, v.worlds[q]), nil
		}
	}
	rigidBlocks.Put(v.rigid)
}

// take returns memory for the transforms of a block.
func (v *solver) take() []Affine {
	n := len(v.free)
	if n == 0 {
		return make([]Affine, v.most)
	}
	last := v.free[n-1]
	v.free = v.free[:n-1]
	return last
}

// part solves one part, whose ancestors are solved, from frame index start.
func (v *solver) part(p scene.PartID, start int) {
	plan, w := &v.s.plans[p], v.worlds[p]
	first := v.s.Frame(start)
	var up []Affine
	if parent := v.s.parentInSpace(p); parent != scene.NoPart {
		up = v.worlds[parent]
	}
	var turns *turnRecorder
	if v.turns != nil {
		turns = v.turns[p]
	}
	if plan.rigid != nil {
		v.rigid.locals(plan.rigid, start, first, len(w))
		if turns != nil {
			turns.rigid(start, v.rigid)
		}
		if up != nil {
			v.rigid.below(up, w)
		} else {
			v.rigid.affines(w)
		}
		return
	}
	plan.locals(first, w, &v.buf)
	if turns != nil {
		turns.matrices(start, w)
	}
	for f := range up {
		w[f] = up[f].Mul(&w[f])
	}
}

// Worlds evaluates the world transforms of a part at the frame indices a to
// b-1 into a new slice.
func (s *Study) Worlds(p scene.PartID, a, b int) []Affine {
	v := s.newSolver([]scene.PartID{p}, b-a)
	out := make([]Affine, 0, max(b-a, 0))
	for ; a < b; a += blockFrames {
		v.block(a, min(blockFrames, b-a))
		out = append(out, v.worlds[p]...)
	}
	return out
}

// EachWorld evaluates the world transforms of parts at the frame indices a to
// b-1, some frames at a time: visit is given the index of the first of them and
// the transforms of each part, which it must not keep. What parts have in
// common is solved once.
func (s *Study) EachWorld(parts []scene.PartID, a, b int, visit func(first int, worlds [][]Affine)) {
	v := s.newSolver(parts, b-a)
	worlds := make([][]Affine, len(parts))
	for ; a < b; a += blockFrames {
		v.block(a, min(blockFrames, b-a))
		for i, p := range parts {
			worlds[i] = v.worlds[p]
		}
		visit(a, worlds)
	}
}
