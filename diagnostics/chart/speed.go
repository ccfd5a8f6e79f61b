package chart

import (
	"fmt"
	"slices"
	"strings"

	"curvelint/diagnostics/facts"
	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/motion/track"
	"curvelint/diagnostics/words"
	"curvelint/parse/scene"
)

// Speed draws the speeds of a leader and what follows it from one display frame
// to another, each as a share of its own peak there, with the frames by which
// each is behind: along the part's chain where it belongs to one (the spine up
// to the head, an arm, a tail), else of the groups that move with it in its
// beat, in the order in which they start.
//
// An error says that there is nothing to draw: no such part or frames, or no
// motion.
func Speed(s *motion.Study, p scene.PartID, first, last float64, o Options) ([]byte, error) {
	o = o.settled()
	r, err := asked(s, p, first, last)
	if err != nil {
		return nil, err
	}
	c := speedChart{study: s, part: p, clip: r, first: s.Frame(r.first), last: s.Frame(r.last)}
	c.of = "beat"
	runs := chainRuns(s, p, r)
	if len(runs) > 0 {
		c.of = "chain"
	} else {
		runs = beatRuns(s, p, r)
	}
	if len(runs) == 0 {
		return nil, still(s, p)
	}
	c.lines = c.curves(runs, &o)
	title := fmt.Sprintf("%s and its %s, speeds, %s", s.Scene.Parts[p].Name, c.of, words.Span(c.first, c.last))
	return picture(o, caption{title, c.describe()}, func(pen *pen) { c.draw(pen, title, &o) })
}

// run is a track whose speed is drawn.
type run struct {
	name  string
	part  scene.PartID
	track *track.Track
}

// most is how many lines one chart can hold and still be read.
const most = 5

// chainRuns returns the tracks of the chain that a part belongs to, from its
// root on; nil when there is none of which two parts move.
func chainRuns(s *motion.Study, p scene.PartID, r clip) []run {
	fig := s.FigureOf(p)
	if fig == nil {
		return nil
	}
	for _, chain := range fig.Chains() {
		if !slices.Contains(chain.Parts, p) {
			continue
		}
		var out []run
		for _, q := range chain.Parts {
			t := s.RotationTrack(q)
			if t == nil {
				t = facts.LeadingTrack(s, q)
			}
			if moves(t, r) {
				out = append(out, run{s.Scene.Parts[q].Name, q, t})
			}
		}
		if len(out) >= 2 {
			return fewest(out, p)
		}
	}
	return nil
}

// fewest keeps the root, the tip, the part asked for and what is evenly between
// when a chain has more parts than can be drawn.
func fewest(all []run, p scene.PartID) []run {
	if len(all) <= most {
		return all
	}
	keep := map[int]bool{}
	for i := range most {
		keep[i*(len(all)-1)/(most-1)] = true
	}
	if at := slices.IndexFunc(all, func(r run) bool { return r.part == p }); at >= 0 && !keep[at] {
		delete(keep, (most-1)/2*(len(all)-1)/(most-1))
		keep[at] = true
	}
	var out []run
	for i := range all {
		if keep[i] {
			out = append(out, all[i])
		}
	}
	return out
}

// beatRuns returns the tracks of the groups that move in the first beat of the
// range, the part's own group among them, in the order of their starts.
func beatRuns(s *motion.Study, p scene.PartID, r clip) []run {
	own := facts.LeadingTrack(s, p)
	alone := func() []run {
		if moves(own, r) {
			return []run{{s.Scene.Parts[p].Name, p, own}}
		}
		return nil
	}
	fig := s.FigureOf(p)
	if fig == nil {
		return alone()
	}
	group := fig.GroupOf(p)
	for _, b := range beatsOf(fig) {
		if b.Last <= r.first || b.First >= r.last {
			continue
		}
		var out []run
		for _, g := range b.Groups() {
			i := slices.IndexFunc(b.Strokes, func(k motion.GroupStroke) bool { return k.Group == g })
			if t := b.Strokes[i].Track; moves(t, r) {
				out = append(out, run{g.Name, g.Top(), t})
			}
		}
		if p != fig.Root && !slices.ContainsFunc(out, func(k run) bool { return group != nil && k.name == group.Name }) {
			continue
		}
		if len(out) > most {
			out = out[:most]
		}
		return out
	}
	return alone()
}

// curve is one line of the chart.
type curve struct {
	name        string
	lag         string // "2.1 frames behind"; "" for the leader
	now, before []point
	peak        float64
	unit        string  // of the peak, in package words
	peakAt      float64 // a display frame
}

type speedChart struct {
	study       *motion.Study
	part        scene.PartID
	clip        clip
	of          string
	first, last float64
	lines       []curve
}

// curves makes the lines of runs; x is in display frames, y a share of the
// line's own peak.
func (c *speedChart) curves(runs []run, o *Options) []curve {
	var out []curve
	for i, r := range runs {
		k := curve{name: r.name}
		k.unit = facts.UnitOf(r.track) + "/s"
		k.now, k.peak, k.peakAt = profile(c.study, r.track, c.clip, 0)
		if i > 0 {
			k.lag = c.lag(runs[0].track, r.track)
		}
		if q := matched(o.Before, c.study, r.part); q != scene.NoPart {
			if b := beforeRun(o.Before, q, r.track); b != nil {
				if other, err := rangeOf(o.Before, c.first, c.last); err == nil {
					k.before, _, _ = profile(o.Before, b, other, k.peak)
				}
			}
		}
		out = append(out, k)
	}
	return out
}

// beforeRun is the earlier pass of a run's track.
func beforeRun(s *motion.Study, p scene.PartID, like *track.Track) *track.Track {
	for _, t := range s.LocalTracks(p) {
		if t.Quality == like.Quality && t.Name == like.Name {
			return t
		}
	}
	return nil
}

// alike is the relative difference below which two speeds are the same: rounding
// must not choose between the frames of an even stretch.
const alike = 1e-9

// profile returns the speeds of a track as shares of whole, or of its peak in
// the range when whole is 0, the peak, and its frame, the first of equal ones.
func profile(s *motion.Study, t *track.Track, r clip, whole float64) (pts []point, peak, at float64) {
	speed := t.Speed()
	for i := r.first; i < r.last; i++ {
		if speed[i] > peak*(1+alike) {
			peak, at = speed[i], s.Frame(i)+0.5
		}
	}
	if whole == 0 {
		whole = peak
	}
	if whole == 0 {
		return nil, 0, 0
	}
	for i := r.first; i < r.last; i++ {
		pts = append(pts, point{s.Frame(i) + 0.5, speed[i] / whole})
	}
	return pts, peak, at
}

// lag says by how much a follower is behind the leader in the leader's largest
// stroke of the range.
func (c *speedChart) lag(lead, follow *track.Track) string {
	var best track.Stroke
	for _, k := range lead.Strokes() {
		if k.Last > c.clip.first && k.First < c.clip.last && k.Length > best.Length {
			best = k
		}
	}
	if best.Length == 0 {
		return ""
	}
	l, ok := lead.LagBehind(best, follow)
	if !ok || l.Correlation < 0.5 {
		return "no clear lag"
	}
	return words.Behind(l.Seconds*c.study.Rate, "")
}

func (c *speedChart) describe() string {
	var said []string
	for _, k := range c.lines {
		s := fmt.Sprintf("%s peaks at frame %s with %s", k.name, words.Frame(k.peakAt), words.Amount(k.unit, k.peak))
		if k.lag != "" {
			s += ", " + k.lag
		}
		said = append(said, s)
	}
	return strings.Join(said, "; ") + "."
}
