package checks

import (
	_ "embed"
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/note"
	"curvelint/parse/scene"
)

//go:embed lockstep.md
var lockstepDoc string

//go:embed late_follow.md
var lateFollowDoc string

// Lockstep finds flexible chains that move as one stiff piece.
var Lockstep = &Check{
	ID:       "lockstep",
	Severity: note.Information,
	Group:    Timing,
	Title:    "a flexible chain without drag",
	Doc:      lockstepDoc,
	Settings: []Setting{
		{Name: "share", Unit: "ratio", Default: 0.05, Min: 0, Max: 1, Doc: "share of the tip's path that the children's own turning gives"},
		{Name: "correlation", Unit: "ratio", Default: 0.98, Min: 0.5, Max: 1, Doc: "how alike the speeds of root and tip are"},
		{Name: "min_turn", Unit: "degrees", Default: 15, Min: 1, Max: 360, Doc: "least turn of the chain's root in the stroke; twice that for a spine"},
		{Name: "elsewhere", Unit: "degrees", Default: 5, Min: 0, Max: 360, Doc: "the children must turn more than this somewhere in the clip"},
	},
	SilentWhenBlocked: true,
	YieldsTo:          []string{"pop"},
	Run:               runLockstep,
}

// LateFollow finds followers that are out of their band.
var LateFollow = &Check{
	ID:       "late-follow",
	Severity: note.Information,
	Group:    Timing,
	Title:    "a follower out of its band",
	Doc:      lateFollowDoc,
	Settings: []Setting{
		{Name: "latest", Unit: "s", Default: 0.5, Min: 0, Max: 1.25, Doc: "largest lag of a chain's tip behind its root"},
		{Name: "earliest", Unit: "s", Default: 0.08, Min: 0, Max: 1.25, Doc: "largest lead of a tip that should follow"},
		{Name: "alike", Unit: "ratio", Default: 1.6, Min: 1, Max: 10, Doc: "how many times as long one of the two strokes may last as the other"},
		{Name: "min_turn", Unit: "degrees", Default: 15, Min: 1, Max: 360, Doc: "least turn of root and tip in the stroke"},
	},
	SilentWhenBlocked: true,
	Run:               runLateFollow,
}

func runLockstep(c *Context) []note.Note {
	var notes []note.Note
	for _, fig := range c.living() {
		for _, ch := range fig.Chains() {
			if c.Ctx.Err() != nil {
				return nil
			}
			if fig.LabelOf(ch.Parts[0]).Body == motion.Arm {
				continue // people swing an arm from the shoulder; pivot-arc finds those that only do that
			}
			if n, ok := c.stiffest(fig, ch); ok {
				notes = append(notes, n)
			}
		}
	}
	return notes
}

// fewestLinks is how many parts a chain needs to show a lack of drag: the fan of
// a bird's tail, or an ear of two, may flick as a whole.
const fewestLinks = 3

// stiffest makes one note of a chain's largest stroke without drag.
func (c *Context) stiffest(fig *motion.Figure, chain motion.Chain) (note.Note, bool) {
	s := c.Study
	root := s.RotationTrack(chain.Parts[0])
	tip := fig.TipOf(chain)
	if root == nil || tip < 0 || len(chain.Parts) < fewestLinks || !c.bendsElsewhere(chain) {
		return note.Note{}, false
	}
	t := beyond(fig, chain, tip)
	least := c.Setting("min_turn")
	if !chain.Flexible {
		least *= 2 // a small turn of the body needs no drag
	}
	var worst motion.Stroke
	count := 0
	for _, k := range root.Strokes() {
		if k.Length < least || !s.Judged(k.First, k.Last) {
			continue
		}
		if r, ok := root.AlikeAt(k, t.track, 0); !ok || r < c.Setting("correlation") {
			continue // almost every stroke ends here
		}
		path := c.tipPath(chain, t, k)
		lag, ok := root.LagBehind(k, t.track)
		if path <= 0 || !ok || lag.Frames != 0 || lag.Correlation < c.Setting("correlation") ||
			c.ownShare(chain, t, k, path) >= c.Setting("share") {
			continue
		}
		count++
		if k.Length > worst.Length {
			worst = k
		}
	}
	if count == 0 {
		return note.Note{}, false
	}
	p := chain.Parts[1]
	n := c.draft(p, c.driver(root, worst.First), worst.First, worst.Last)
	n.Message = fmt.Sprintf("%s: %s swings as one stiff piece; let each part follow the one before by a frame or two", c.span(worst.First, worst.Last), chain.Name)
	if count > 1 {
		n.Message = fmt.Sprintf("%s: %s swings as one stiff piece, here and in %d other strokes; let each part follow a frame or two later", c.span(worst.First, worst.Last), chain.Name, count-1)
	}
	n.Weight = c.weigh(fig, p, likeFigures(motion.Rotation, worst.Length))
	n.Measures = []note.Measure{{Name: "strokes", Value: float64(count), Unit: "count"}}
	n.Causes = append(n.Causes, chain.Parts...)
	return n, true
}

// bendsElsewhere reports whether some child of the chain turns in the clip: one
// that never does is a rig without bend, not animation without drag.
func (c *Context) bendsElsewhere(chain motion.Chain) bool {
	for _, p := range chain.Parts[1:] {
		if t := c.Study.RotationTrack(p); t != nil && trackRange(t) > c.Setting("elsewhere") {
			return true
		}
	}
	return false
}

// chainTip is the point of a chain's end, in the frame of the track's part.
type chainTip struct {
	track  *motion.Track
	offset r3.Vec
}

// beyond is the end of a chain. Where that is the bare pivot of the last
// part, which its own turning cannot move, it stands for a point one bone
// further out.
func beyond(fig *motion.Figure, chain motion.Chain, tip int) chainTip {
	t := fig.CarriedTrack(tip)
	last := chain.Parts[len(chain.Parts)-1]
	if t.Part != last || r3.Norm(t.Offset) > 0 {
		return chainTip{t, t.Offset}
	}
	out := chainTip{t, t.Offset}
	s := fig.Study()
	if up := s.Scene.Parts[last].Parent; up >= 0 {
		m := s.WorldAt(last, s.First)
		inv := m.Inverse()
		out.offset = inv.Vector(r3.Sub(m.Origin(), s.WorldPosition(up, s.First)))
	}
	return out
}

// tipPath is the way of the tip that the stroke's turn alone would give it: its
// path in the frame that the chain's root hangs in is not at hand, so the turn
// times the distance from root to tip stands for it (figure sizes).
func (c *Context) tipPath(chain motion.Chain, t chainTip, k motion.Stroke) float64 {
	return k.Length / degrees * c.reach(chain.Parts[0], t, k.First)
}

// degrees in a radian.
const degrees = 57.29577951308232

// reach is the distance from a part's origin to the chain's end at a frame,
// in figure sizes.
func (c *Context) reach(p scene.PartID, t chainTip, i int) float64 {
	s := c.Study
	fig := s.FigureOf(p)
	if fig == nil {
		return 0
	}
	m := s.WorldAt(t.track.Part, s.Frame(i))
	return r3.Norm(r3.Sub(m.Point(t.offset), s.WorldPosition(p, s.Frame(i)))) / fig.Size
}

// ownShare is the part of the tip's path that the children's own turning gives:
// the root of the sum of squares, since drifts of their own do not add up.
func (c *Context) ownShare(chain motion.Chain, tip chainTip, k motion.Stroke, path float64) float64 {
	own := 0.0
	for _, p := range chain.Parts[1:] {
		if t := c.Study.RotationTrack(p); t != nil {
			own = math.Hypot(own, t.PathLength(k.First, k.Last)/degrees*c.reach(p, tip, k.First))
		}
	}
	return own / path
}

func runLateFollow(c *Context) []note.Note {
	var notes []note.Note
	for _, fig := range c.living() {
		for _, ch := range fig.Chains() {
			if c.Ctx.Err() != nil {
				return nil
			}
			if ch.Flexible {
				notes = append(notes, c.lateStrokes(fig, ch)...)
			}
		}
	}
	return notes
}

// lateStrokes compares the turning of a chain's last part with its first's.
func (c *Context) lateStrokes(fig *motion.Figure, chain motion.Chain) []note.Note {
	s := c.Study
	last := chain.Parts[len(chain.Parts)-1]
	root, tip := s.RotationTrack(chain.Parts[0]), s.RotationTrack(last)
	if root == nil || tip == nil {
		return nil
	}
	var notes []note.Note
	for _, k := range root.Strokes() {
		if k.Length < c.Setting("min_turn") || !s.Judged(k.First, k.Last) || !k.FromRest {
			continue
		}
		follow, lag, ok := c.follower(root, tip, k)
		if !ok {
			continue
		}
		n := int(math.Round(math.Abs(lag) * s.Rate))
		what := ""
		switch {
		case lag > c.Setting("latest") && !answers(tip, k, follow):
			what = fmt.Sprintf("follows %s late", frames(n))
		case lag < -c.Setting("earliest") && follow.Last > k.First: // else it was over before
			what = fmt.Sprintf("goes %s ahead of what carries it", frames(n))
		default:
			continue
		}
		m := c.draft(last, c.driver(tip, follow.First), min(k.First, follow.First), max(k.Last, follow.Last))
		m.Message = fmt.Sprintf("%s: the end of %s %s; a follower is one to three frames behind", c.span(k.First, k.Last), chain.Name, what)
		m.Weight = c.weigh(fig, last, likeFigures(motion.Rotation, k.Length))
		m.Measures = []note.Measure{{Name: "lag", Value: lag, Unit: "s"}}
		m.Causes = append(m.Causes, last)
		notes = append(notes, m)
	}
	return notes
}

// follower finds the tip's stroke that follows a stroke of the root: of those
// from a rest, the same way round and about as long, the one that starts nearest
// to it. The lag is the mean of those of start and stop.
func (c *Context) follower(root, tip *motion.Track, k motion.Stroke) (best motion.Stroke, lag float64, ok bool) {
	way := r3.Sub(root.At(k.Last), root.At(k.First))
	start, stop := strokeTimes(root, k)
	for _, f := range tip.Strokes() {
		w := r3.Sub(tip.At(f.Last), tip.At(f.First))
		if !f.FromRest || f.Length < c.Setting("min_turn") || r3.Dot(way, w) < 0.5*r3.Norm(way)*r3.Norm(w) {
			continue
		}
		a, b := strokeTimes(tip, f)
		if long := (b - a) / (stop - start); long > c.Setting("alike") || long < 1/c.Setting("alike") {
			continue
		}
		l := ((a - start) + (b - stop)) / 2 / c.Study.Rate
		if math.Abs(l) <= farthest && (!ok || math.Abs(l) < math.Abs(lag)) {
			best, lag, ok = f, l, true
		}
	}
	return best, lag, ok
}

// answers reports whether the tip does something else between the start of the
// root's stroke and its own late one: it drags behind first and comes after.
func answers(tip *motion.Track, k, late motion.Stroke) bool {
	for _, f := range tip.Strokes() {
		if f.First < late.First && f.First < k.Last && f.Last > k.First && f.Length > 0.2*late.Length {
			return true
		}
	}
	return false
}

// farthest is the largest lag in seconds at which a stroke still answers
// another.
const farthest = 1.25

// strokeTimes are the times in frames at which a stroke starts and stops.
func strokeTimes(t *motion.Track, k motion.Stroke) (start, stop float64) {
	return t.EventTime(motion.Event{Kind: motion.Start, Frame: k.First}), t.EventTime(motion.Event{Kind: motion.Stop, Frame: k.Last})
}
