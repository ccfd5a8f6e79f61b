package body

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/diagnostics/motion/solve"
	"curvelint/diagnostics/motion/vec"
	"curvelint/parse/scene"
)

// restPositions solves the figure at rest: declared rest transforms where the
// file has them, else the pose of the first frame. The result is in scene
// units, one position a part of fig.Parts.
func (fig *Anatomy) restPositions() map[scene.PartID]r3.Vec {
	s := fig.cast
	return fig.positions(s.First, func(p scene.PartID) solve.Affine {
		if part := &s.Scene.Parts[p]; part.HasRest {
			return solve.Affine(part.Rest[:12])
		}
		return s.LocalAt(p, s.First)
	})
}

// positionsAt solves the figure at display frame t.
func (fig *Anatomy) positionsAt(t float64) map[scene.PartID]r3.Vec {
	return fig.positions(t, func(p scene.PartID) solve.Affine { return fig.cast.LocalAt(p, t) })
}

// positions solves the figure from local transforms, what is above it at
// display frame t.
func (fig *Anatomy) positions(t float64, local func(scene.PartID) solve.Affine) map[scene.PartID]r3.Vec {
	s := fig.cast
	worlds := make(map[scene.PartID]solve.Affine, len(fig.Parts))
	at := make(map[scene.PartID]r3.Vec, len(fig.Parts))
	for _, p := range fig.Parts {
		part, l := &s.Scene.Parts[p], local(p)
		up, ok := worlds[part.Parent]
		switch {
		case part.ResetStack || part.Parent == scene.NoPart:
			up = solve.Identity()
		case !ok:
			up = s.WorldAt(part.Parent, t)
		}
		w := up.Mul(&l)
		worlds[p], at[p] = w, w.Origin()
	}
	return at
}

// findSize is the longest path along bones between two tips of the figure at
// rest, in scene units; for a lone transform the diagonal of the box of its own
// path; for a picture track the height of the picture.
func (fig *Anatomy) findSize(rest map[scene.PartID]r3.Vec) float64 {
	s := fig.cast
	depth := make(map[scene.PartID]float64, len(fig.Parts))
	best := 0.0
	for i := len(fig.Parts) - 1; i >= 0; i-- {
		p := fig.Parts[i]
		up := s.Scene.Parts[p].Parent
		at, inside := rest[up]
		if !inside {
			continue
		}
		d := depth[p] + vec.Distance(rest[p], at)
		best = max(best, depth[up]+d)
		depth[up] = max(depth[up], d)
	}
	for _, d := range depth {
		best = max(best, d)
	}
	if best > 0 && !math.IsInf(best, 0) && !math.IsNaN(best) {
		return best
	}
	if s.Scene.Parts[fig.Root].Kind == scene.PictureTrack {
		return 1
	}
	return fig.pathBox()
}

// pathBox is the diagonal of the box around the root's own path, 1 when it does
// not move.
func (fig *Anatomy) pathBox() float64 {
	s := fig.cast
	lo := r3.Vec{X: math.Inf(1), Y: math.Inf(1), Z: math.Inf(1)}
	hi := r3.Scale(-1, lo)
	s.EachWorld([]scene.PartID{fig.Root}, 0, s.N, func(_ int, worlds [][]solve.Affine) {
		for _, m := range worlds[0] {
			o := m.Origin()
			lo = r3.Vec{X: min(lo.X, o.X), Y: min(lo.Y, o.Y), Z: min(lo.Z, o.Z)}
			hi = r3.Vec{X: max(hi.X, o.X), Y: max(hi.Y, o.Y), Z: max(hi.Z, o.Z)}
		}
	})
	if d := vec.Distance(lo, hi); d > 0 && !math.IsInf(d, 0) && !math.IsNaN(d) {
		return d
	}
	return 1
}
