package passes

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/motion/body"
	"curvelint/diagnostics/motion/solve"
	"curvelint/diagnostics/motion/track"
	"curvelint/parse/scene"
)

// Motion says what about a part a stroke is of.
type Motion string

// The motions that are compared.
const (
	Path  Motion = "path"  // of the tracked point, seen from what carries the figure
	Turn  Motion = "turn"  // of the part, seen from its parent
	Slide Motion = "shift" // of the part, seen from its parent
	Value Motion = "value" // of a weight or a number
)

// trackPair is one motion of one part in both passes. Either track may be nil
// when the part does not move so there.
type trackPair struct {
	name       string
	motion     Motion
	partBefore scene.PartID
	part       scene.PartID // of the later pass
	before     *track.Track
	after      *track.Track
	figBefore  *motion.Figure // nil outside a figure
	fig        *motion.Figure
	point      int  // of fig, for a path; else -1
	turned     bool // the two scenes have different axes up
}

// pairTracks returns the motions of all matched parts: tracked points first, then
// the parts' own motions.
func pairTracks(before, after *motion.Study, m *partMatch) []*trackPair {
	turned := before.Scene.Up != after.Scene.Up
	var out []*trackPair
	add := func(p *trackPair) {
		if still(p.before) && still(p.after) {
			return
		}
		p.turned = turned
		out = append(out, p)
	}
	for _, f := range m.figures {
		for _, ij := range pairPoints(f, m) {
			b := &f[1].Points[ij[1]]
			p := &trackPair{name: pointName(f[1], b), motion: Path, partBefore: f[0].Points[ij[0]].Part, part: b.Part,
				figBefore: f[0], fig: f[1], point: ij[1], before: f[0].CarriedTrack(ij[0]), after: f[1].CarriedTrack(ij[1])}
			if a := m.toBefore[b.Part]; a != scene.NoPart && a != p.partBefore {
				p.partBefore = a
				p.before = carriedAt(f[0], p.before, a, b.Offset)
			}
			add(p)
		}
	}
	for i, b := range m.toAfter {
		a := scene.PartID(i)
		if b == scene.NoPart || ridden(after.FigureOf(b), b) {
			continue
		}
		own := trackPair{name: after.Scene.Parts[b].Name, partBefore: a, part: b, point: -1,
			figBefore: before.FigureOf(a), fig: after.FigureOf(b)}
		for _, q := range []struct {
			motion Motion
			of     func(s *motion.Study, p scene.PartID) *track.Track
		}{{Turn, (*motion.Study).RotationTrack}, {Slide, (*motion.Study).LocalTrack}} {
			if q.motion == Slide && onlyLone(own.fig, b) {
				continue // its tracked point says the same
			}
			pair := own
			pair.motion, pair.before, pair.after = q.motion, q.of(before, a), q.of(after, b)
			add(&pair)
		}
		for _, v := range pairValues(before, after, a, b) {
			pair := own
			pair.motion, pair.before, pair.after = Value, v[0], v[1]
			add(&pair)
		}
	}
	return out
}

// ridden reports whether a part is the root of a figure that something else
// carries: it turns against its carrier, and nobody sees that.
func ridden(fig *motion.Figure, p scene.PartID) bool {
	return fig != nil && fig.Root == p && fig.Carrier != scene.NoPart && fig.Study().Scene.Parts[p].Parent != fig.Carrier
}

// carriedAt returns the path of another point of a figure than those it tracks,
// seen from what carries it: two files do not always give the same end of a hand.
// Like is a tracked point nearby.
func carriedAt(fig *motion.Figure, like *track.Track, part scene.PartID, offset r3.Vec) *track.Track {
	s := fig.Study()
	back := make([]float64, 3*s.N)
	t := &track.Track{Name: like.Name, Part: part, Channel: scene.NoChannel, Quality: track.Position, Space: like.Space, Rate: like.Rate,
		Noise: like.Noise, Unit: like.Unit, Offset: offset, Carrier: like.Carrier, GivenStep: like.GivenStep,
		X: back[:s.N:s.N], Y: back[s.N : 2*s.N : 2*s.N], Z: back[2*s.N:]}
	var carriers []solve.Affine
	if t.Carrier != scene.NoPart {
		carriers = s.Worlds(t.Carrier, 0, s.N)
	}
	first := r3.Vec{}
	for i, m := range s.Worlds(part, 0, s.N) {
		p := m.Point(offset)
		if carriers != nil {
			back := carriers[i].Inverse()
			p = back.Point(p)
		}
		if i == 0 {
			first = p
			t.Origin = [3]float64{p.X, p.Y, p.Z}
		}
		p = r3.Scale(1/t.Unit, r3.Sub(p, first))
		t.X[i], t.Y[i], t.Z[i] = p.X, p.Y, p.Z
	}
	return t
}

// still reports whether a track is missing or never moves.
func still(t *track.Track) bool { return t == nil || len(t.Strokes()) == 0 }

// pointName is how an animator calls a tracked point: the root by the name of the
// part that carries the body.
func pointName(fig *motion.Figure, p *body.Point) string {
	if p.Role == body.RootPoint {
		return fig.Study().Scene.Parts[p.Part].Name
	}
	return p.Name
}

func onlyLone(fig *motion.Figure, p scene.PartID) bool {
	return fig != nil && len(fig.Points) > 0 && fig.Points[0].Role == body.LonePoint && fig.Points[0].Part == p
}

// pairPoints matches the tracked points of two figures: by their parts, else by
// what they are of a body.
func pairPoints(f [2]*motion.Figure, m *partMatch) (pairs [][2]int) {
	taken := make([]bool, len(f[1].Points))
	join := func(same func(a, b *body.Point) bool, joined []bool) {
		for i := range f[0].Points {
			for j := range f[1].Points {
				if !joined[i] && !taken[j] && same(&f[0].Points[i], &f[1].Points[j]) {
					joined[i], taken[j] = true, true
					pairs = append(pairs, [2]int{i, j})
				}
			}
		}
	}
	joined := make([]bool, len(f[0].Points))
	join(func(a, b *body.Point) bool { return a.Role == b.Role && m.toAfter[a.Part] == b.Part }, joined)
	join(func(a, b *body.Point) bool { return a.Role == b.Role && a.Side == b.Side && a.Name == b.Name }, joined)
	return pairs
}

// pairValues matches the free values of two parts by the names of their channels,
// or the only one with the only one.
func pairValues(before, after *motion.Study, a, b scene.PartID) (pairs [][2]*track.Track) {
	left, right := values(before, a), values(after, b)
	if len(left) == 1 && len(right) == 1 {
		return [][2]*track.Track{{left[0], right[0]}}
	}
	for _, s := range left {
		for _, t := range right {
			if before.Scene.Channels[s.Channel].Name == after.Scene.Channels[t.Channel].Name {
				pairs = append(pairs, [2]*track.Track{s, t})
			}
		}
	}
	return pairs
}

func values(s *motion.Study, p scene.PartID) (out []*track.Track) {
	for _, id := range s.Channels(p) {
		if t := s.ValueTrack(id); t != nil {
			out = append(out, t)
		}
	}
	return out
}

// sample returns a track at a frame index between frames, on the straight line
// there; its ends go on outside.
func sample(t *track.Track, x float64) r3.Vec {
	if t == nil || t.Len() == 0 {
		return r3.Vec{}
	}
	x = min(max(x, 0), float64(t.Len()-1))
	i := int(math.Floor(x + 1e-9))
	u := x - float64(i)
	if u <= 1e-6 || i+1 >= t.Len() {
		return t.At(i)
	}
	return r3.Add(r3.Scale(1-u, t.At(i)), r3.Scale(u, t.At(i+1)))
}

// speedAt returns the speed of a track at a frame index between frames; 0 outside.
func speedAt(t *track.Track, x float64) float64 {
	if t == nil {
		return 0
	}
	v := t.Speed()
	x -= 0.5 // v[i] counts at i+1/2
	i := int(math.Floor(x))
	if i < -1 || i >= len(v) || len(v) == 0 {
		return 0
	}
	u := x - float64(i)
	lo, hi := v[max(i, 0)], v[min(i+1, len(v)-1)]
	return lo + u*(hi-lo)
}
