package passes

import (
	"context"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/diagnostics/motion/clip"
	"curvelint/diagnostics/motion/track"
)

// minProminence is how much a track must move for its stroke to be spoken of, in
// the measure of track.Track.Prominence: 0.02 figure sizes, 1.2 degrees, 4 % of
// a range.
const minProminence = 0.4

// strokePair is a stroke in both passes. Several strokes of one pass may be one of
// the other: a stutter was smoothed, or a move was broken in two.
type strokePair struct {
	before, after []track.Stroke // none: it is new, or gone
}

// matchedTrack is a pair with its alignment and its strokes, in order of time.
type matchedTrack struct {
	*trackPair
	warp    *warping
	strokes []strokePair
	same    bool // the tracks are equal within noise wherever both have frames
}

// matchAll matches the strokes of all pairs, or of some when the context ends.
func matchAll(ctx context.Context, pairs []*trackPair, k *clock) []*matchedTrack {
	out := make([]*matchedTrack, 0, len(pairs))
	for _, p := range pairs {
		if ctx.Err() != nil {
			break
		}
		m := &matchedTrack{trackPair: p}
		first, last := k.common()
		m.same = p.equal(k, first, last)
		m.warp = identity()
		if !m.same && !still(p.before) && !still(p.after) {
			m.warp = p.warp(k, false)
		}
		m.match(k)
		out = append(out, m)
	}
	return out
}

// identity is the warping of tracks that need none.
func identity() *warping {
	return &warping{first: 0, step: 1, to: []float64{0, 1}}
}

// span is a stretch of time in seconds.
type span struct{ first, last float64 }

func (s span) length() float64 { return max(0, s.last-s.first) }

func (s span) common(t span) float64 {
	return span{max(s.first, t.first), min(s.last, t.last)}.length()
}

// overlap returns what two stretches share of what they cover together.
func (s span) overlap(t span) float64 {
	c := s.common(t)
	if all := s.length() + t.length() - c; all > 0 {
		return c / all
	}
	return 0
}

// candidate is a pair of strokes that may be the same.
type candidate struct {
	i, j  int
	score float64
}

// Scores are sums of two overlaps, as the frames are and as they are warped.
const (
	leastScore = 0.4
	against    = 0.3 // of the score of a stroke that goes the other way
)

// match finds which strokes are which: those that overlap as they are or as the
// alignment moves them, in order, so that the overlaps sum to the most.
func (m *matchedTrack) match(k *clock) {
	var a, b []track.Stroke
	if m.before != nil {
		a = prominent(m.before)
	}
	if m.after != nil {
		b = prominent(m.after)
	}
	spansA, warped, spansB := make([]span, len(a)), make([]span, len(a)), make([]span, len(b))
	for i, s := range a {
		spansA[i] = span{k.timeBefore(float64(s.First)), k.timeBefore(float64(s.Last))}
		warped[i] = span{m.warp.after(spansA[i].first), m.warp.after(spansA[i].last)}
	}
	for j, s := range b {
		spansB[j] = span{k.timeAfter(float64(s.First)), k.timeAfter(float64(s.Last))}
	}
	var found []candidate
	from := 0
	for i := range a {
		lo, hi := min(spansA[i].first, warped[i].first), max(spansA[i].last, warped[i].last)
		for from < len(b) && spansB[from].last < lo-2*reach {
			from++
		}
		for j := from; j < len(b) && spansB[j].first < hi; j++ {
			score := spansA[i].overlap(spansB[j]) + warped[i].overlap(spansB[j])
			if !m.turned && r3.Dot(chord(m.before, a[i]), chord(m.after, b[j])) < 0 {
				score *= against
			}
			if score >= leastScore {
				found = append(found, candidate{i, j, score})
			}
		}
	}
	toB := bestChain(found, len(a), len(b))
	m.strokes = m.absorb(a, b, spansA, warped, spansB, toB)
}

// prominent returns the strokes of a track that are more than a tremble.
func prominent(t *track.Track) (out []track.Stroke) {
	for _, s := range t.Strokes() {
		if t.Prominence(s) >= minProminence {
			out = append(out, s)
		}
	}
	return out
}

func chord(t *track.Track, s track.Stroke) r3.Vec { return r3.Sub(t.At(s.Last), t.At(s.First)) }

// bestChain chooses from candidates, sorted by i, those that sum to the highest
// score while both i and j rise, and returns the j of each i, -1 for none. It
// keeps the best sum up to each j in a tree of maxima (P. M. Fenwick, "A new data
// structure for cumulative frequency tables", Software: Practice and Experience
// 24 (1994), pages 327-336), so that time grows with the candidates.
func bestChain(found []candidate, n, m int) []int {
	toB := make([]int, n)
	for i := range toB {
		toB[i] = -1
	}
	type link struct {
		sum  float64
		last int // candidate, -1 for none
	}
	tree := make([]link, m+1)
	for i := range tree {
		tree[i].last = -1
	}
	before := make([]int, len(found))
	sums := make([]float64, len(found))
	best := link{0, -1}
	for from := 0; from < len(found); {
		to := from
		for to < len(found) && found[to].i == found[from].i {
			to++
		}
		for c := from; c < to; c++ {
			up := link{0, -1}
			for j := found[c].j; j > 0; j -= j & -j {
				if tree[j].sum > up.sum {
					up = tree[j]
				}
			}
			sums[c], before[c] = up.sum+found[c].score, up.last
		}
		for c := from; c < to; c++ {
			for j := found[c].j + 1; j <= m; j += j & -j {
				if sums[c] > tree[j].sum {
					tree[j] = link{sums[c], c}
				}
			}
			if sums[c] > best.sum {
				best = link{sums[c], c}
			}
		}
		from = to
	}
	for c := best.last; c >= 0; c = before[c] {
		toB[found[c].i] = found[c].j
	}
	return toB
}

// inside is the share of an unmatched stroke that must lie in a matched one of the
// other pass to be part of it.
// It counts as the alignment moves it, and less strictly as it stands: an alignment
// stretches far where a clip has nothing that is alike.
const (
	inside = 0.6
	least  = 0.3
)

// runsInto is the longest pause in seconds between strokes that may be one.
const runsInto = 1.0 / 24

// absorb makes pairs of the matched strokes, gives them the unmatched strokes that
// lie inside their counterparts, and adds what remains as gone or new.
func (m *matchedTrack) absorb(a, b []track.Stroke, spansA, warped, spansB []span, toB []int) []strokePair {
	toA := make([]int, len(b))
	for j := range toA {
		toA[j] = -1
	}
	pairs := make([]strokePair, 0, max(len(a), len(b)))
	pairOfA, pairOfB := make([]int, len(a)), make([]int, len(b))
	for i, j := range toB {
		pairOfA[i] = -1
		if j >= 0 {
			toA[j] = i
			pairOfA[i], pairOfB[j] = len(pairs), len(pairs)
			pairs = append(pairs, strokePair{a[i : i+1 : i+1], b[j : j+1 : j+1]})
		}
	}
	for i, j := range toB {
		if j >= 0 {
			continue
		}
		there := func(n int) bool { return spansA[i].common(spansB[toB[n]]) >= least*spansA[i].length() }
		if other := inNeighbour(i, toB, a, m.before.Rate, warped[i], spansB, there); other >= 0 {
			p := &pairs[pairOfA[other]]
			p.before = append(slices.Clone(p.before), a[i])
			continue
		}
		pairs = append(pairs, strokePair{before: a[i : i+1 : i+1]})
	}
	for j, i := range toA {
		if i >= 0 {
			continue
		}
		there := func(n int) bool { return spansB[j].common(spansA[toA[n]]) >= least*spansB[j].length() }
		if other := inNeighbour(j, toA, b, m.after.Rate, spansB[j], warped, there); other >= 0 {
			p := &pairs[pairOfB[other]]
			p.after = append(slices.Clone(p.after), b[j])
			continue
		}
		pairs = append(pairs, strokePair{after: b[j : j+1 : j+1]})
	}
	for i := range pairs {
		inOrder(pairs[i].before)
		inOrder(pairs[i].after)
	}
	slices.SortStableFunc(pairs, func(p, q strokePair) int { return p.index() - q.index() })
	return pairs
}

// inNeighbour returns the nearest matched stroke to either side of stroke i that it
// runs into and whose counterpart holds most of it, also as in says, or -1.
func inNeighbour(i int, to []int, strokes []track.Stroke, rate float64, own span, spans []span, in func(int) bool) int {
	if own.length() <= 0 {
		return -1
	}
	best, most := -1, inside*own.length()
	for _, step := range []int{-1, 1} {
		for n := i + step; n >= 0 && n < len(to); n += step {
			if gap := strokes[max(n, n-step)].First - strokes[min(n, n-step)].Last; gap > clip.Window(rate, runsInto) {
				break
			}
			if to[n] < 0 {
				continue
			}
			if c := own.common(spans[to[n]]); c >= most && in(n) {
				best, most = n, c
			}
			break
		}
	}
	return best
}

func inOrder(s []track.Stroke) {
	slices.SortFunc(s, func(a, b track.Stroke) int { return a.First - b.First })
}

// index orders pairs by time, roughly where a pair is in one pass only.
func (p *strokePair) index() int {
	if len(p.before) > 0 {
		return p.before[0].First
	}
	return p.after[0].First
}
