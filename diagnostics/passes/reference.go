package passes

import (
	"cmp"
	"context"
	"math"
	"slices"

	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/motion/body"
	"curvelint/diagnostics/motion/track"
	"curvelint/parse/scene"
)

// isPicture reports whether a scene holds points tracked in the picture and
// nothing else that moves.
func isPicture(s *motion.Study) bool {
	some := false
	for i := range s.Scene.Parts {
		switch p := scene.PartID(i); {
		case s.Scene.Parts[i].Kind == scene.PictureTrack:
			some = true
		case moving(s, p) && s.Scene.Parts[i].Kind != scene.CameraPart:
			return false
		}
	}
	return some
}

// compareReference compares the timing of beats alone. The bodies may differ, so
// points are matched by what they are of a body, and only their speeds count.
func (c *Comparison) compareReference(ctx context.Context, parts *partMatch, k *clock, o Options) error {
	pairs := referencePairs(c.Before, c.After)
	k.shift = coarseShift(ctx, pairs, k)
	matched := matchSpeeds(ctx, pairs, k)
	if s := uniformShift(matched, k); s != 0 {
		k.shift += s
		matched = matchSpeeds(ctx, pairs, k)
	}
	c.Shift = k.frames(k.shift)
	moves := c.measureAll(ctx, matched, k, newSight(c.Before, c.After), o)
	var apart []float64 // of each beat, in seconds
	for _, m := range moves {
		m.weight = m.prominence()
	}
	for _, w := range waves(moves, func(m *move) string { return m.pair.name }) {
		if len(w.moves) < 2 && len(pairs) > 1 && !w.moves[0].watched() {
			continue
		}
		b := Beat{moves: w.moves}
		if w.fig != nil {
			b.Figure = c.After.Scene.Parts[w.fig.Root].Path
		}
		for _, m := range w.moves {
			b.Groups = append(b.Groups, m.pair.name)
		}
		b.place(k)
		far := max(math.Abs(b.Start), math.Abs(b.Arrival)) / k.after.Rate
		if apart = append(apart, far); far > reach {
			continue // another move, which happens to fall here
		}
		if c.ComparedBeats++; b.differs() {
			c.Beats = append(c.Beats, b)
		}
	}
	if c.Unrelated = unlikeReference(c, parts, pairs, k, apart); c.Unrelated != "" {
		c.Beats, c.ComparedBeats, c.Compared, c.Renumbered = nil, 0, 0, 0
	}
	if c.ComparedBeats == 0 {
		c.Shift = 0 // some shift is always the best; without beats it says nothing
	}
	slices.SortStableFunc(c.Beats, func(a, b Beat) int { return cmp.Compare(a.First, b.First) })
	return ctx.Err()
}

// matchSpeeds matches the strokes of all pairs by their speeds alone, or of some
// when the context ends.
func matchSpeeds(ctx context.Context, pairs []*trackPair, k *clock) []*matchedTrack {
	matched := make([]*matchedTrack, 0, len(pairs))
	for _, p := range pairs {
		if ctx.Err() != nil {
			break
		}
		m := &matchedTrack{trackPair: p, warp: p.warp(k, true)}
		m.match(k)
		matched = append(matched, m)
	}
	return matched
}

// differs reports whether a beat starts or arrives sooner or later than in the
// reference. The ends of a lone move can be a frame off in another sampling of it;
// then its middle stays.
func (b *Beat) differs() bool {
	ends := math.Abs(b.Start) >= leastFrames || math.Abs(b.Arrival) >= leastFrames
	return ends && (len(b.moves) > 1 || math.Abs(b.Peak) >= leastFrames)
}

// watched reports whether a move is of what the audience should watch: such a move
// is a beat, though nothing else moves with it.
func (m *move) watched() bool {
	if m.pair.fig == nil {
		return false
	}
	g := m.pair.fig.FocusGroup()
	return g != nil && slices.Contains(g.Parts, m.pair.part)
}

// seenPoint is a tracked point with the path that a reference is held against.
type seenPoint struct {
	fig   *motion.Figure
	point *body.Point
	name  string
	track *track.Track
}

// seenPoints returns the tracked points of a scene that move: on the picture where
// the other side is, else in space.
func seenPoints(s *motion.Study, picture bool) (out []seenPoint) {
	view := s.View()
	for _, fig := range s.Figures() {
		if s.NatureOf(fig.Root) != motion.Living {
			continue
		}
		for i := range fig.Points {
			t := fig.CarriedTrack(i)
			if picture && view != nil {
				t = view.ScreenTrack(fig, i)
			}
			if !still(t) {
				out = append(out, seenPoint{fig, &fig.Points[i], pointName(fig, &fig.Points[i]), t})
			}
		}
	}
	return out
}

// referencePairs matches the points of a pass with those of its reference: by
// name; then by what they are of a body, each figure with one; and a single
// tracked point with what the audience should watch.
func referencePairs(before, after *motion.Study) (out []*trackPair) {
	picture := isPicture(before) || isPicture(after)
	a, b := seenPoints(before, picture), seenPoints(after, picture)
	taken := make([]bool, len(b))
	partner := map[*motion.Figure]*motion.Figure{}
	join := func(p, q *seenPoint) {
		out = append(out, &trackPair{name: q.name, motion: Path, partBefore: p.point.Part, part: q.point.Part,
			figBefore: p.fig, fig: q.fig, point: -1, before: p.track, after: q.track, turned: true})
	}
	joined := make([]bool, len(a))
	for _, same := range []func(p, q *seenPoint) bool{
		func(p, q *seenPoint) bool { return plainName(p.name) == plainName(q.name) },
		func(p, q *seenPoint) bool { return bodyOf(p) != (body.Label{}) && bodyOf(p) == bodyOf(q) },
	} {
		for i := range a {
			for j := range b {
				if joined[i] || taken[j] || !same(&a[i], &b[j]) {
					continue
				}
				if other, ok := partner[a[i].fig]; !picture && ok && other != b[j].fig {
					continue
				}
				partner[a[i].fig] = b[j].fig
				joined[i], taken[j] = true, true
				join(&a[i], &b[j])
			}
		}
	}
	if len(out) == 0 && (len(a) == 1 || len(b) == 1) {
		if p, q := watched(a), watched(b); p != nil && q != nil {
			join(p, q)
		}
	}
	return out
}

// bodyOf says what a point is of a body, the zero label when nothing tells.
func bodyOf(p *seenPoint) body.Label {
	l := body.Label{Side: p.point.Side}
	switch p.point.Role {
	case body.RootPoint:
		l.Body = body.Hips
	case body.HeadPoint:
		l.Body = body.Head
	case body.HandPoint:
		l.Body, l.Place = body.Arm, body.End
	case body.HeelPoint:
		l.Body, l.Place = body.Leg, body.Heel
	case body.ToePoint:
		l.Body, l.Place = body.Leg, body.Toe
	default:
		return body.ReadName(p.name)
	}
	return l
}

// watched returns the point that the audience should watch, else the only one.
func watched(list []seenPoint) *seenPoint {
	for i := range list {
		p := &list[i]
		if g := p.fig.FocusGroup(); len(list) == 1 || g != nil && slices.Contains(g.Parts, p.point.Part) {
			return p
		}
	}
	return nil
}

// The shift that a reference is looked for within: a take begins when it begins.
const farShift = 10.0 // seconds

// coarseShift returns the shift in seconds at which the speeds of all pairs are
// most alike, 0 when none is clearly better than none.
func coarseShift(ctx context.Context, pairs []*trackPair, k *clock) float64 {
	grid := 1 / min(k.before.Rate, k.after.Rate, gridRate)
	n := int(k.timeBefore(float64(k.before.N-1))/grid) + 1
	reach := int(math.Round(min(farShift, float64(k.after.N)/k.after.Rate/2) / grid))
	if reach < 1 || n < 4 {
		return 0
	}
	scores := make([]float64, 2*reach+1)
	for _, p := range pairs {
		if ctx.Err() != nil {
			return 0
		}
		a, b := make([]float64, n), make([]float64, n+2*reach)
		for i := range a {
			a[i] = speedAt(p.before, k.indexBefore(float64(i)*grid))
		}
		for i := range b {
			b[i] = speedAt(p.after, k.indexAfter(float64(i-reach)*grid))
		}
		unit(a)
		unit(b)
		for s := range scores {
			for i, v := range a {
				scores[s] += v * b[i+s]
			}
		}
	}
	best := reach
	for s, v := range scores {
		if v > scores[best]*1.02 || v >= scores[best] && abs(s-reach) < abs(best-reach) {
			best = s
		}
	}
	return float64(best-reach) * grid
}

func abs(i int) int { return max(i, -i) }

// unit takes the mean off a profile and scales it to length 1.
func unit(x []float64) {
	mean, sum := 0.0, 0.0
	for _, v := range x {
		mean += v
	}
	mean /= float64(len(x))
	for i := range x {
		x[i] -= mean
		sum += x[i] * x[i]
	}
	if sum > 0 {
		for i := range x {
			x[i] /= math.Sqrt(sum)
		}
	}
}
