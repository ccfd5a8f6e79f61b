package passes

import (
	"slices"
	"strings"
	"unicode"

	"curvelint/diagnostics/motion"
	"curvelint/parse/scene"
)

// partMatch says which part of one scene is which of the other; NoPart for none.
type partMatch struct {
	before, after *motion.Study
	toAfter       []scene.PartID // by part of before
	toBefore      []scene.PartID // by part of after
	figures       [][2]*motion.Figure
}

// matchParts matches the parts of two scenes: by path; then by name and the names
// above it, the longest run of names that is unique in both first; then below
// matched parents by name in order, and an only child with an only child.
func matchParts(before, after *motion.Study) *partMatch {
	m := &partMatch{before: before, after: after,
		toAfter: noParts(len(before.Scene.Parts)), toBefore: noParts(len(after.Scene.Parts))}
	m.byPath()
	a, b := newNaming(before.Scene), newNaming(after.Scene)
	for _, run := range []int{16, 8, 5, 4, 3, 2, 1} {
		m.unique(a.runs(run), b.runs(run))
	}
	m.children(a, b)
	m.pairFigures()
	return m
}

func noParts(n int) []scene.PartID {
	p := make([]scene.PartID, n)
	for i := range p {
		p[i] = scene.NoPart
	}
	return p
}

func (m *partMatch) join(a, b scene.PartID) {
	m.toAfter[a], m.toBefore[b] = b, a
}

func (m *partMatch) byPath() {
	at := make(map[string]scene.PartID, len(m.toBefore))
	for i := range m.after.Scene.Parts {
		at[m.after.Scene.Parts[i].Path] = scene.PartID(i)
	}
	for i := range m.before.Scene.Parts {
		if b, ok := at[m.before.Scene.Parts[i].Path]; ok {
			m.join(scene.PartID(i), b)
		}
	}
}

// naming holds the plain names of a scene's parts: what formats and rigs put
// around a name (a namespace, a number, case, punctuation) is left off.
type naming struct {
	scene *scene.Scene
	names []string
}

func newNaming(sc *scene.Scene) *naming {
	n := &naming{sc, make([]string, len(sc.Parts))}
	for i := range sc.Parts {
		n.names[i] = plainName(sc.Parts[i].Name)
	}
	return n
}

func plainName(name string) string {
	if i := strings.LastIndexAny(name, ":|"); i >= 0 && i < len(name)-1 {
		name = name[i+1:]
	}
	return strings.Map(func(r rune) rune {
		if unicode.IsLetter(r) || unicode.IsDigit(r) {
			return unicode.ToLower(r)
		}
		return -1
	}, name)
}

// place names a part by its own name and those above it.
type place struct {
	name string
	hash uint64
}

// runs names every part by up to n names, its own first.
func (n *naming) runs(count int) []place {
	hashes := make([]uint64, len(n.names))
	next := make([]uint64, len(n.names))
	for range count {
		for i := range n.names {
			h := uint64(14695981039346656037) // FNV-1a
			if up := n.scene.Parts[i].Parent; up != scene.NoPart {
				h ^= hashes[up]
				h *= 1099511628211
			}
			for _, c := range []byte(n.names[i]) {
				h = (h ^ uint64(c)) * 1099511628211
			}
			next[i] = h
		}
		hashes, next = next, hashes
	}
	out := make([]place, len(n.names))
	for i := range out {
		out[i] = place{n.names[i], hashes[i]}
	}
	return out
}

// unique joins unmatched parts whose places stand once in each scene.
func (m *partMatch) unique(a, b []place) {
	const several = scene.PartID(-2)
	index := func(places []place, taken []scene.PartID) map[place]scene.PartID {
		at := make(map[place]scene.PartID)
		for i, p := range places {
			if taken[i] != scene.NoPart || p.name == "" {
				continue
			}
			if _, ok := at[p]; ok {
				at[p] = several
				continue
			}
			at[p] = scene.PartID(i)
		}
		return at
	}
	left, right := index(a, m.toAfter), index(b, m.toBefore)
	for i := range a {
		p, ok := left[a[i]]
		q, found := right[a[i]]
		if ok && found && p == scene.PartID(i) && q >= 0 && m.alike(p, q) {
			m.join(p, q)
		}
	}
}

// alike reports whether two parts can be the same thing: a number is no node, and
// a part stands under the counterpart of what it stood under, if that has one.
func (m *partMatch) alike(a, b scene.PartID) bool {
	p, q := &m.before.Scene.Parts[a], &m.after.Scene.Parts[b]
	value := func(k scene.PartKind) bool { return k == scene.Weight || k == scene.Scalar }
	return value(p.Kind) == value(q.Kind) && (p.Kind == scene.CameraPart) == (q.Kind == scene.CameraPart)
}

// children joins what is left below matched parents, from the top down.
func (m *partMatch) children(a, b *naming) {
	for i := range m.toAfter {
		if m.toAfter[i] == scene.NoPart {
			continue
		}
		left := m.free(m.before.Children(scene.PartID(i)), m.toAfter)
		right := m.free(m.after.Children(m.toAfter[i]), m.toBefore)
		for _, p := range left {
			for _, q := range right {
				if m.toBefore[q] == scene.NoPart && a.names[p] == b.names[q] && m.alike(p, q) {
					m.join(p, q)
					break
				}
			}
		}
		left, right = m.free(left, m.toAfter), m.free(right, m.toBefore)
		if len(left) == 1 && len(right) == 1 && m.sameShape(left[0], right[0]) {
			m.join(left[0], right[0])
		}
	}
}

func (m *partMatch) free(list, taken []scene.PartID) []scene.PartID {
	return slices.DeleteFunc(slices.Clone(list), func(p scene.PartID) bool { return taken[p] != scene.NoPart })
}

// sameShape reports whether a renamed part has as many children and moves as its
// counterpart does.
func (m *partMatch) sameShape(a, b scene.PartID) bool {
	return m.alike(a, b) && bone(m.before.Scene.Parts[a].Kind) == bone(m.after.Scene.Parts[b].Kind) &&
		len(m.before.Children(a)) == len(m.after.Children(b)) && m.before.Animated(a) == m.after.Animated(b)
}

// bone takes the kinds that formats have for the same thing for one.
func bone(k scene.PartKind) scene.PartKind {
	if k == scene.Joint || k == scene.Tip {
		return scene.Node
	}
	return k
}

// pairFigures joins figures: each of before with that of after which holds most
// of its parts' counterparts.
func (m *partMatch) pairFigures() {
	taken := map[*motion.Figure]bool{}
	for _, fig := range m.before.Figures() {
		count := map[*motion.Figure]int{}
		var best *motion.Figure
		for _, p := range fig.Parts {
			other := m.after.FigureOf(m.toAfter[p])
			if other == nil || taken[other] {
				continue
			}
			count[other]++
			if best == nil || count[other] > count[best] || count[other] == count[best] && other.Index < best.Index {
				best = other
			}
		}
		if best != nil {
			taken[best] = true
			m.figures = append(m.figures, [2]*motion.Figure{fig, best})
		}
	}
}

// moving reports whether a part moves by itself.
func moving(s *motion.Study, p scene.PartID) bool {
	return s.Moves(p) || slices.ContainsFunc(s.Channels(p), func(id scene.ChannelID) bool { return s.ValueTrack(id) != nil })
}

// shared returns the share of the moving parts of the smaller scene that have a
// counterpart; 1 when nothing moves.
func (m *partMatch) shared() float64 {
	count := func(s *motion.Study, to []scene.PartID) (all, matched int) {
		for p := range to {
			if moving(s, scene.PartID(p)) {
				all++
				if to[p] != scene.NoPart {
					matched++
				}
			}
		}
		return all, matched
	}
	a, ma := count(m.before, m.toAfter)
	b, mb := count(m.after, m.toBefore)
	if b < a {
		a, ma = b, mb
	}
	if a == 0 {
		return 1
	}
	return float64(ma) / float64(a)
}

// unmatched returns the paths of moving parts without a counterpart.
func (m *partMatch) unmatched(o Options) (gone, fresh []string) {
	list := func(s *motion.Study, to []scene.PartID) (paths []string) {
		for p := range to {
			if path := s.Scene.Parts[p].Path; to[p] == scene.NoPart && moving(s, scene.PartID(p)) && (o.Match == nil || o.Match(path)) {
				paths = append(paths, path)
			}
		}
		return paths
	}
	return list(m.before, m.toAfter), list(m.after, m.toBefore)
}
