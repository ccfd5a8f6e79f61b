package timing

import (
	_ "embed"
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/diagnostics/checks/kit"
	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/motion/body"
	"curvelint/diagnostics/motion/track"
	"curvelint/diagnostics/note"
	"curvelint/parse/scene"
)

//go:embed lockstep.md
var lockstepDoc string

// The settings of lockstep.
var (
	lockstepShare       = kit.Number{Name: "share", Unit: "ratio", Default: 0.05, Min: 0, Max: 1, Doc: "share of the tip's path that the children's own turning gives"}
	lockstepCorrelation = kit.Number{Name: "correlation", Unit: "ratio", Default: 0.98, Min: 0.5, Max: 1, Doc: "how alike the speeds of root and tip are"}
	lockstepMinTurn     = kit.Number{Name: "min_turn", Unit: "degrees", Default: 15, Min: 1, Max: 360, Doc: "least turn of the chain's root in the stroke; twice that for a spine"}
	lockstepElsewhere   = kit.Number{Name: "elsewhere", Unit: "degrees", Default: 5, Min: 0, Max: 360, Doc: "the children must turn more than this somewhere in the clip"}
)

// The limits of lockstep.
var (
	lockstepFewestLinks = kit.Limit{Name: "fewest_links", Value: 3, Unit: "count",
		Doc:    "a chain of fewer parts need not drag: the fan of a tail or an ear of two may flick as a whole",
		Source: "common practice, no source"}
	lockstepBodyTurn = kit.Limit{Name: "body_turn", Value: 2, Unit: "ratio",
		Doc:    "a chain that is no flexible one needs a turn so many times as large: a small turn of the body needs no drag",
		Source: "common practice, no source"}
)

// Lockstep finds flexible chains that move as one stiff piece.
var Lockstep = &kit.Check{
	ID:                "lockstep",
	Severity:          note.Information,
	Group:             kit.Timing,
	Title:             "a flexible chain without drag",
	Doc:               lockstepDoc,
	Settings:          []kit.Setting{&lockstepShare, &lockstepCorrelation, &lockstepMinTurn, &lockstepElsewhere},
	Limits:            []*kit.Limit{&lockstepFewestLinks, &lockstepBodyTurn, &kit.DriverSpan},
	SilentWhenBlocked: true,
	YieldsTo:          []string{"pop"},
	Run:               runLockstep,
}

func runLockstep(c *kit.Context) []note.Note {
	var notes []note.Note
	for _, fig := range c.Living() {
		for _, ch := range fig.Chains() {
			if c.Ctx.Err() != nil {
				return nil
			}
			if fig.LabelOf(ch.Parts[0]).Body == body.Arm {
				continue // people swing an arm from the shoulder; pivot-arc finds those that only do that
			}
			if n, ok := stiffest(c, fig, ch); ok {
				notes = append(notes, n)
			}
		}
	}
	return notes
}

// stiffest makes one note of a chain's largest stroke without drag.
func stiffest(c *kit.Context, fig *motion.Figure, chain body.Chain) (note.Note, bool) {
	s := c.Study
	root := s.RotationTrack(chain.Parts[0])
	tip := fig.TipOf(chain)
	if root == nil || tip < 0 || len(chain.Parts) < int(lockstepFewestLinks.Value) || !bendsElsewhere(c, chain) {
		return note.Note{}, false
	}
	t := beyond(fig, chain, tip)
	least := lockstepMinTurn.In(c)
	if !chain.Flexible {
		least *= lockstepBodyTurn.Value
	}
	var worst track.Stroke
	count := 0
	for _, k := range root.Strokes() {
		if k.Length < least || !s.Judged(k.First, k.Last) {
			continue
		}
		if r, ok := root.CorrelationAt(k, t.track, 0); !ok || r < lockstepCorrelation.In(c) {
			continue // almost every stroke ends here
		}
		path := tipPath(s, chain, t, k)
		lag, ok := root.LagBehind(k, t.track)
		if path <= 0 || !ok || lag.Frames != 0 || lag.Correlation < lockstepCorrelation.In(c) ||
			ownShare(s, chain, t, k, path) >= lockstepShare.In(c) {
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
	n := c.Draft(p, kit.Driver(c, root, worst.First), worst.First, worst.Last)
	n.Message = fmt.Sprintf("%s: %s swings as one stiff piece; let each part follow the one before by a frame or two", c.Span(worst.First, worst.Last), chain.Name)
	if count > 1 {
		n.Message = fmt.Sprintf("%s: %s swings as one stiff piece, here and in %d other strokes; let each part follow a frame or two later", c.Span(worst.First, worst.Last), chain.Name, count-1)
	}
	n.Weight = c.Weigh(fig, p, kit.LikeFigures(track.Rotation, worst.Length))
	n.Measures = []note.Measure{{Name: "strokes", Value: float64(count), Unit: "count"}}
	n.Causes = append(n.Causes, chain.Parts...)
	return n, true
}

// bendsElsewhere reports whether some child of the chain turns in the clip: one
// that never does is a rig without bend, not animation without drag.
func bendsElsewhere(c *kit.Context, chain body.Chain) bool {
	for _, p := range chain.Parts[1:] {
		if t := c.Study.RotationTrack(p); t != nil && trackRange(t) > lockstepElsewhere.In(c) {
			return true
		}
	}
	return false
}

// chainTip is the point of a chain's end, in the frame of the track's part.
type chainTip struct {
	track  *track.Track
	offset r3.Vec
}

// beyond is the end of a chain. Where that is the bare pivot of the last
// part, which its own turning cannot move, it stands for a point one bone
// further out.
func beyond(fig *motion.Figure, chain body.Chain, tip int) chainTip {
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
func tipPath(s *motion.Study, chain body.Chain, t chainTip, k track.Stroke) float64 {
	return k.Length / kit.DegreesPerRadian * reach(s, chain.Parts[0], t, k.First)
}

// reach is the distance from a part's origin to the chain's end at a frame,
// in figure sizes.
func reach(s *motion.Study, p scene.PartID, t chainTip, i int) float64 {
	fig := s.FigureOf(p)
	if fig == nil {
		return 0
	}
	m := s.WorldAt(t.track.Part, s.Frame(i))
	return r3.Norm(r3.Sub(m.Point(t.offset), s.WorldPosition(p, s.Frame(i)))) / fig.Size
}

// ownShare is the part of the tip's path that the children's own turning gives:
// the root of the sum of squares, since drifts of their own do not add up.
func ownShare(s *motion.Study, chain body.Chain, tip chainTip, k track.Stroke, path float64) float64 {
	own := 0.0
	for _, p := range chain.Parts[1:] {
		if t := s.RotationTrack(p); t != nil {
			own = math.Hypot(own, t.PathLength(k.First, k.Last)/kit.DegreesPerRadian*reach(s, p, tip, k.First))
		}
	}
	return own / path
}
