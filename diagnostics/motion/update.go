package motion

import (
	"slices"

	"curvelint/diagnostics/motion/body"
	"curvelint/diagnostics/motion/track"
	"curvelint/parse/scene"
)

// memory is what an earlier study of the same scene knew, with the channels and
// frames in which the scene has changed since.
type memory struct {
	tracks   map[trackKey]*track.Track
	world    map[trackKey]*track.Track
	figures  []figureShape
	groups   map[groupKey]*groupPicks
	rekeyed  []bool // by channel: keys of it differ
	restated []bool // by part: a static value of it differs
	from     int    // first and last frame index whose values may differ
	to       int
}

// figureShape is what a figure is made of. It stands for the figure of an
// earlier study, which would keep that study in memory, and with it the text of
// every version before.
type figureShape struct {
	root, carrier scene.PartID
	size          float64
	parts         []scene.PartID
	points        []body.Point
}

func shapeOf(f *Figure) figureShape {
	return figureShape{f.Root, f.Carrier, f.Size, f.Parts, f.Points}
}

// Update studies sc, a scene that differs from the study's own only in the keys
// of the changed channels and in static values of the ops of some parts: what
// does not depend on them is taken over, and of what hangs on keys alone only the
// frames near the changed ones are solved again. The result is the same as New's.
// The study itself is not changed.
func (s *Study) Update(sc *scene.Scene, changed []scene.ChannelID, parts ...scene.PartID) *Study {
	n := New(sc, s.Options)
	if n.N != s.N || n.First != s.First || n.Rate != s.Rate ||
		len(sc.Parts) != len(s.Scene.Parts) || len(sc.Channels) != len(s.Scene.Channels) {
		return n
	}
	m := &memory{rekeyed: make([]bool, len(sc.Channels)), restated: make([]bool, len(sc.Parts)), from: n.N, to: -1}
	for _, p := range parts {
		m.restated[p] = true
		m.from, m.to = 0, n.N-1
	}
	for _, id := range changed {
		m.rekeyed[id] = true
		a, b := changedFrames(&s.Scene.Channels[id].Curve, &sc.Channels[id].Curve, n)
		m.from, m.to = min(m.from, a), max(m.to, b)
	}
	m.tracks = s.tracks.all()
	m.world = s.solvedPoints()
	for _, f := range s.Figures() {
		m.figures = append(m.figures, shapeOf(f))
	}
	m.groups = s.pickedGroups()
	n.earlier = m
	return n
}

// solvedPoints returns the tracked points solved so far, or nil.
func (s *Study) solvedPoints() map[trackKey]*track.Track {
	s.worldMu.Lock()
	defer s.worldMu.Unlock()
	return s.world
}

// changedFrames returns the range of frame indices in which two versions of a
// curve may differ, the whole study where a change reaches beyond its
// neighbouring keys.
func changedFrames(a, b *scene.Curve, s *Study) (from, to int) {
	local := a.Stride == b.Stride && a.Pre == scene.ExtrapHeld && a.Post == scene.ExtrapHeld &&
		b.Pre == scene.ExtrapHeld && b.Post == scene.ExtrapHeld && a.Len() > 1 && b.Len() > 1
	if !local {
		return 0, s.N - 1
	}
	n := min(a.Len(), b.Len())
	first := 0
	for first < n && sameKey(a, first, b, first) {
		first++
	}
	last := 0 // keys equal at the end
	for last < n-first && sameKey(a, a.Len()-1-last, b, b.Len()-1-last) {
		last++
	}
	if first == a.Len() && first == b.Len() {
		return s.N, -1
	}
	// A key's change reaches to the keys beside it; handles belong to keys.
	lo := min(keyTime(a, first-1), keyTime(b, first-1))
	hi := max(keyTime(a, a.Len()-last), keyTime(b, b.Len()-last))
	if first == 0 {
		lo = s.First
	}
	if last == 0 {
		hi = s.Frame(s.N - 1)
	}
	return s.Index(lo), min(s.Index(hi)+1, s.N-1)
}

func keyTime(c *scene.Curve, i int) float64 {
	return c.Times[min(max(i, 0), c.Len()-1)]
}

func sameKey(a *scene.Curve, i int, b *scene.Curve, j int) bool {
	w := a.Stride
	if a.Times[i] != b.Times[j] || a.SegmentInterp(i) != b.SegmentInterp(j) ||
		!sameRow(a, i, b, j) {
		return false
	}
	if (a.PreValues == nil) != (b.PreValues == nil) || (a.PreValues != nil && a.PreValues[i] != b.PreValues[j]) {
		return false
	}
	return sameHandles(a.Handles, i, b.Handles, j, w)
}

// sameRow reports whether two keys have the same values.
func sameRow(a *scene.Curve, i int, b *scene.Curve, j int) bool {
	w := a.Stride
	for k := range w {
		if a.Value(i*w+k) != b.Value(j*w+k) {
			return false
		}
	}
	return true
}

func sameHandles(a *scene.Handles, i int, b *scene.Handles, j, w int) bool {
	if a == nil || b == nil {
		return a == b
	}
	same := func(x, y []float64, w int) bool {
		return (x == nil) == (y == nil) && (x == nil || slices.Equal(x[i*w:(i+1)*w], y[j*w:(j+1)*w]))
	}
	return same(a.InT, b.InT, 1) && same(a.OutT, b.OutT, 1) && same(a.InV, b.InV, w) && same(a.OutV, b.OutV, w)
}

// samePart reports whether neither a channel nor a static value of the part
// changed.
func (m *memory) samePart(s *Study, p scene.PartID) bool {
	if m.restated[p] {
		return false
	}
	for _, id := range s.Channels(p) {
		if m.rekeyed[id] {
			return false
		}
	}
	return true
}

// sameChain reports whether no channel of the part or of anything above it
// changed.
func (m *memory) sameChain(s *Study, p scene.PartID) bool {
	for ; p != scene.NoPart; p = s.ParentInSpace(p) {
		if !m.samePart(s, p) {
			return false
		}
	}
	return true
}

// recall returns the track of an earlier study when it must still be the same,
// but for its unit.
func (s *Study) recall(k trackKey) *track.Track {
	m := s.earlier
	if m == nil || !m.samePart(s, k.part) {
		return nil
	}
	t := m.tracks[k]
	if t == nil || k.kind == screenPoint {
		return nil
	}
	return t
}

// sameSizes reports whether the figures are the same as in the earlier study,
// in parts, points and size.
func (s *Study) sameSizes() bool {
	figs := s.Figures()
	if len(figs) != len(s.earlier.figures) {
		return false
	}
	for i, f := range figs {
		g := s.earlier.figures[i]
		if f.Root != g.root || f.Carrier != g.carrier || f.Size != g.size || !slices.Equal(f.Parts, g.parts) || !slices.Equal(f.Points, g.points) {
			return false
		}
	}
	return true
}
