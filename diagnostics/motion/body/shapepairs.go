package body

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/diagnostics/motion/vec"
	"curvelint/parse/scene"
)

// findPairs finds among the children of every part those that are mirror
// images: long chains of the same lengths, whatever their pose, and short ones
// that stand on both sides of one plane.
func (s *shape) findPairs() {
	for _, p := range s.fig.Parts {
		if kids := s.bones[p]; len(kids) > 1 {
			s.pairChains(p, kids)
			s.pairPoints(p, kids)
		}
	}
}

// maxPaired bounds how many children of one part are looked at for pairs.
const maxPaired = 64

// extent is how far a child's chain goes from its parent.
func (s *shape) extent(p, c scene.PartID) float64 {
	return s.reach[c] + vec.Distance(s.rest[c], s.rest[p])
}

// Captured skeletons differ by a few hundredths between left and right; chains
// that do not belong together differ by more (arms and legs of a designed
// biped by 0.2).
const (
	chainTolerance = 0.1
	countTolerance = 0.25
)

// pairChains pairs children of similar length and number of bones, the most
// similar first.
func (s *shape) pairChains(p scene.PartID, kids []scene.PartID) {
	type match struct {
		a, b scene.PartID
		cost float64
	}
	var long []scene.PartID
	for _, c := range kids {
		if s.isLimb(p, c) && len(long) < maxPaired {
			long = append(long, c)
		}
	}
	var all []match
	for i, a := range long {
		for _, b := range long[i+1:] {
			ea, eb := s.extent(p, a), s.extent(p, b)
			cost := math.Abs(ea-eb)/max(ea, eb) + math.Abs(vec.Distance(s.rest[a], s.rest[p])-vec.Distance(s.rest[b], s.rest[p]))/max(ea, eb)
			if cost <= chainTolerance && relative(s.size[a], s.size[b]) <= countTolerance {
				all = append(all, match{a, b, cost})
			}
		}
	}
	slices.SortStableFunc(all, func(x, y match) int { return cmp.Compare(x.cost, y.cost) })
	for _, m := range all {
		s.pair(m.a, m.b)
	}
}

func relative(a, b int) float64 {
	return math.Abs(float64(a-b)) / float64(max(a, b))
}

// pair notes a mirror pair unless one of the two is taken.
func (s *shape) pair(a, b scene.PartID) bool {
	if _, taken := s.mirror[a]; taken {
		return false
	}
	if _, taken := s.mirror[b]; taken {
		return false
	}
	s.mirror[a], s.mirror[b] = b, a
	return true
}

// pairPoints pairs the remaining children by position: those that a plane
// through their parent mirrors onto each other. Of all planes the one that
// pairs most is taken, then the one that fits best.
func (s *shape) pairPoints(p scene.PartID, kids []scene.PartID) {
	var free []scene.PartID
	var at []r3.Vec
	for _, c := range kids {
		if _, taken := s.mirror[c]; !taken && len(free) < maxPaired {
			free = append(free, c)
			at = append(at, r3.Sub(s.rest[s.firstAway(p, c)], s.rest[p]))
		}
	}
	best, bestError := [][2]int(nil), 0.0
	for i := range at {
		for j := i + 1; j < len(at); j++ {
			d := r3.Sub(at[i], at[j])
			if vec.Length(d) < 0.05*max(vec.Length(at[i]), vec.Length(at[j])) || vec.Length(d) == 0 {
				continue
			}
			got, err := s.mirrored(free, at, r3.Scale(1/vec.Length(d), d))
			if len(got) > len(best) || len(got) == len(best) && len(got) > 0 && err < bestError {
				best, bestError = got, err
			}
		}
	}
	for _, m := range best {
		s.pair(free[m[0]], free[m[1]])
	}
}

// firstAway is the first part down a chain that does not stand on p itself.
func (s *shape) firstAway(p, c scene.PartID) scene.PartID {
	for q := c; ; q = s.bones[q][0] {
		if vec.Distance(s.rest[q], s.rest[p]) > 1e-4*s.fig.Size || len(s.bones[q]) == 0 {
			return q
		}
	}
}

// mirrored pairs the points that the plane through the origin with normal n
// mirrors onto each other, and returns the mean distance they miss by.
func (s *shape) mirrored(parts []scene.PartID, at []r3.Vec, n r3.Vec) (pairs [][2]int, miss float64) {
	const tolerance = 0.06 // of the distance from the parent
	taken := make([]bool, len(at))
	for i := range at {
		d := r3.Dot(at[i], n)
		if taken[i] || math.Abs(d) < 0.02*vec.Length(at[i]) {
			continue
		}
		m := r3.Sub(at[i], r3.Scale(2*d, n))
		near, gap := -1, tolerance*vec.Length(at[i])
		for j := i + 1; j < len(at); j++ {
			same := math.Abs(s.reach[parts[i]]-s.reach[parts[j]]) <= chainTolerance*max(s.reach[parts[i]], s.reach[parts[j]]) &&
				relative(s.size[parts[i]], s.size[parts[j]]) <= countTolerance
			if g := vec.Distance(m, at[j]); !taken[j] && same && g < gap {
				near, gap = j, g
			}
		}
		if near >= 0 {
			taken[i], taken[near] = true, true
			pairs = append(pairs, [2]int{i, near})
			miss += gap
		}
	}
	return pairs, miss
}

// way is what a part of the middle has passed on the way from the root.
type way struct{ limbs, others int }

// findLine finds the middle line: of all ends that unpaired bones lead to, the
// one that passes most pairs of limbs, then most pairs of other things, then
// the one that goes ahead when the figure travels, then the highest.
func (s *shape) findLine() {
	ways := map[scene.PartID]way{s.fig.Root: s.pairsOf(s.fig.Root, way{})}
	best, score := s.fig.Root, [4]float64{-1}
	ahead := s.travel()
	for _, p := range s.fig.Parts {
		w, ok := ways[p]
		if !ok {
			continue
		}
		end := true
		for _, c := range s.bones[p] {
			if _, paired := s.mirror[c]; !paired {
				end = false
				ways[c] = s.pairsOf(c, w)
			}
		}
		if !end {
			continue
		}
		d := r3.Sub(s.rest[p], s.rest[s.fig.Root])
		sc := [4]float64{float64(w.limbs), float64(w.others), math.Round(10 * r3.Dot(d, ahead) / s.fig.Size), r3.Dot(d, s.up)}
		if slices.Compare(sc[:], score[:]) > 0 {
			best, score = p, sc
		}
	}
	for p := best; p != s.fig.Root; p = s.fig.cast.Scene.Parts[p].Parent {
		s.line = append(s.line, p)
	}
	s.line = append(s.line, s.fig.Root)
	slices.Reverse(s.line)
	for i, p := range s.line {
		s.lineIndex[p] = i
	}
	s.findHead()
}

// pairsOf adds the pairs of limbs and of other things that leave a part.
func (s *shape) pairsOf(p scene.PartID, w way) way {
	for _, c := range s.bones[p] {
		m, ok := s.mirror[c]
		switch {
		case !ok || m < c:
		case s.isLimb(p, c):
			w.limbs++
		default:
			w.others++
		}
	}
	return w
}

// isLimb reports whether a paired child is long enough for a limb.
func (s *shape) isLimb(p, c scene.PartID) bool {
	return s.extent(p, c) >= limbShare*s.fig.Size && s.size[c] >= 2
}

// findHead finds the limbs along the line and the head on it: the first part
// beyond the limbs that carries pairs or branches, else the last that moves.
func (s *shape) findHead() {
	last := -1
	for i, p := range s.line {
		carries := 0
		for _, c := range s.bones[p] {
			if m, ok := s.mirror[c]; ok && c < m && !s.isLimb(p, c) {
				carries++
			}
		}
		for _, c := range s.bones[p] {
			if m, ok := s.mirror[c]; ok && c < m && s.isLimb(p, c) && (carries == 0 || len(s.limbs) == 0) {
				s.limbs = append(s.limbs, limbPair{at: i, parts: [2]scene.PartID{c, m}})
				last = i
			}
		}
	}
	for i := last + 1; i < len(s.line); i++ {
		if len(s.bones[s.line[i]]) >= 2 && (last >= 0 || s.isFace(s.line[i])) {
			s.head = i
			return
		}
	}
	if len(s.limbs) == 0 {
		return // no body at all
	}
	for i := len(s.line) - 1; i > last; i-- {
		if s.moves(s.line[i]) {
			s.head = i
			return
		}
	}
	s.head = len(s.line)
}

// isFace reports whether a part carries a face although no limbs show a body:
// two pairs of things, or one beside shape weights or by its name.
func (s *shape) isFace(p scene.PartID) bool {
	n := s.pairsOf(p, way{}).others
	if slices.ContainsFunc(s.bones[p], func(c scene.PartID) bool { return s.fig.labels[c].Body.Face() }) {
		n++ // a name says so
	}
	if n == 1 {
		for _, q := range s.fig.Parts {
			if s.fig.cast.Scene.Parts[q].Kind == scene.Weight {
				n++
				break
			}
		}
	}
	return n > 1
}
