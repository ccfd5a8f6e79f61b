package solve

import (
	"sync"

	"curvelint/parse/scene"
)

// BlockFrames is how many frames are solved at once: many enough for the columns
// of keys to be read in long stretches, few enough for the matrices of a chain to
// stay in the processor's cache.
const BlockFrames = 256

// Solver goes through the hierarchy block by block, in any order of blocks:
//
//	v := h.NewSolver(parts, h.N)
//	v.KeepOnly(kept)
//	for a := 0; a < h.N; a += BlockFrames {
//		v.Walk(a, min(BlockFrames, h.N-a), visit)
//	}
type Solver struct {
	h      *Hierarchy
	need   []bool // parts to be solved, ancestors included
	worlds [][]Affine
	most   int // frames of a block
	buf    columns
	rigid  *rigidBlock     // borrowed for each block
	turns  []*TurnRecorder // by part: turns recorded on the way, or nil

	// Of Walk: by part the parts whose transforms nobody needs any more when it
	// is solved, and what was used for such.
	over [][]scene.PartID
	free [][]Affine
}

// rigidBlocks lends out memory, of which a block for a few frames needs as much
// as one for many.
var rigidBlocks = sync.Pool{New: func() any { return new(rigidBlock) }}

// NewSolver prepares to solve the given parts and their ancestors at the given
// number of frames.
func (h *Hierarchy) NewSolver(parts []scene.PartID, frames int) *Solver {
	v := &Solver{h: h, need: make([]bool, len(h.Scene.Parts)), worlds: make([][]Affine, len(h.Scene.Parts)), most: min(BlockFrames, frames)}
	for _, p := range parts {
		for ; p != scene.NoPart && !v.need[p]; p = h.ParentInSpace(p) {
			v.need[p] = true
		}
	}
	return v
}

// block solves n frames from index start; afterwards worlds[p][f] is the world
// transform of each needed part.
func (v *Solver) block(start, n int) {
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

// Needs reports whether the solver solves a part: one of those asked for, or one
// above it.
func (v *Solver) Needs(p scene.PartID) bool { return v.need[p] }

// World returns the world transforms of a part in the block solved last, one a
// frame, as far as they are kept. Callers must not keep them.
func (v *Solver) World(p scene.PartID) []Affine { return v.worlds[p] }

// Record has the solver record the turns of parts, by part, on the way; nil for
// those whose turns are not wanted.
func (v *Solver) Record(turns []*TurnRecorder) { v.turns = turns }

// KeepOnly tells Walk of which parts, by part, the transforms must last for the
// whole block; those of the others last until the last of their needed children is
// solved.
func (v *Solver) KeepOnly(pinned []bool) {
	last := make([]scene.PartID, len(v.need))
	for p, need := range v.need {
		last[p] = scene.PartID(p)
		if up := v.h.ParentInSpace(scene.PartID(p)); need && up != scene.NoPart {
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

// Walk solves n frames, at most BlockFrames, from frame index start. The solver must
// have been told what to keep. Visit is called when a part is solved, and must not
// keep its transforms. All work on few matrices, which so stay in the cache.
func (v *Solver) Walk(start, n int, visit func(scene.PartID)) {
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
func (v *Solver) take() []Affine {
	n := len(v.free)
	if n == 0 {
		return make([]Affine, v.most)
	}
	last := v.free[n-1]
	v.free = v.free[:n-1]
	return last
}

// part solves one part, whose ancestors are solved, from frame index start.
func (v *Solver) part(p scene.PartID, start int) {
	plan, w := &v.h.plans[p], v.worlds[p]
	first := v.h.Frame(start)
	var up []Affine
	if parent := v.h.ParentInSpace(p); parent != scene.NoPart {
		up = v.worlds[parent]
	}
	var turns *TurnRecorder
	if v.turns != nil {
		turns = v.turns[p]
	}
	if plan.rigid != nil {
		v.rigid.locals(plan.rigid, start, first, len(w))
		if turns != nil {
			turns.takeRigid(start, v.rigid)
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
		turns.takeMatrices(start, w)
	}
	for f := range up {
		w[f] = up[f].Mul(&w[f])
	}
}

// Worlds evaluates the world transforms of a part at the frame indices a to
// b-1 into a new slice.
func (h *Hierarchy) Worlds(p scene.PartID, a, b int) []Affine {
	v := h.NewSolver([]scene.PartID{p}, b-a)
	out := make([]Affine, 0, max(b-a, 0))
	for ; a < b; a += BlockFrames {
		v.block(a, min(BlockFrames, b-a))
		out = append(out, v.worlds[p]...)
	}
	return out
}

// EachWorld evaluates the world transforms of parts at the frame indices a to
// b-1, some frames at a time: visit is given the index of the first of them and
// the transforms of each part, which it must not keep. What parts have in
// common is solved once.
func (h *Hierarchy) EachWorld(parts []scene.PartID, a, b int, visit func(first int, worlds [][]Affine)) {
	v := h.NewSolver(parts, b-a)
	worlds := make([][]Affine, len(parts))
	for ; a < b; a += BlockFrames {
		v.block(a, min(BlockFrames, b-a))
		for i, p := range parts {
			worlds[i] = v.worlds[p]
		}
		visit(a, worlds)
	}
}
