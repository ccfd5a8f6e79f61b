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
	"curvelint/diagnostics/words"
)

//go:embed twinned_pose.md
var twinnedPoseDoc string

// The settings of twinned-pose.
var (
	twinnedPoseAgreement = kit.Number{Name: "agreement", Unit: "ratio", Default: 0.02, Min: 0, Max: 1, Doc: "how far left and mirrored right may be apart, as a share of the range of their motion"}
	twinnedPoseShare     = kit.Number{Name: "share", Unit: "ratio", Default: 0.8, Min: 0.1, Max: 1, Doc: "share of the frames in which either moves"}
	twinnedPoseMinRange  = kit.Number{Name: "min_range", Unit: "figure", Default: 0.05, Min: 0, Max: 10, Doc: "least range of the motion"}
)

// The limits of twinned-pose.
var (
	twinnedPosePosedAlike = kit.Limit{Name: "posed_alike", Value: 0.03, Unit: "figure",
		Doc:    "places at the first frame that are further from mirror images are no pair: a rig is never quite symmetric",
		Source: "common practice, no source"}
	twinnedPoseLeastMotion = kit.Limit{Name: "least_motion", Value: 0.5, Unit: "s",
		Doc:    "a pair that moves for less tells nothing",
		Source: "common practice, no source"}
	twinnedPoseTaskDrift = kit.Limit{Name: "task_drift", Value: 0.05, Unit: "figure",
		Doc:    "two that keep their distance to less share a task: two hands on one rail",
		Source: "common practice, no source"}
	twinnedPoseTaskTravel = kit.Limit{Name: "task_travel", Value: 0.1, Unit: "figure",
		Doc:    "while both go further than this",
		Source: "common practice, no source"}
)

// TwinnedPose finds limbs that are posed as mirror images.
var TwinnedPose = &kit.Check{
	ID:                "twinned-pose",
	Severity:          note.Information,
	Group:             kit.Timing,
	Title:             "left and right posed as one",
	Doc:               twinnedPoseDoc,
	Settings:          []kit.Setting{&twinnedPoseAgreement, &twinnedPoseShare, &twinnedPoseMinRange},
	Limits:            []*kit.Limit{&twinnedPosePosedAlike, &twinnedPoseLeastMotion, &twinnedPoseTaskDrift, &twinnedPoseTaskTravel, &kit.StandsStill},
	SilentWhenBlocked: true,
	Run:               runTwinnedPose,
}

func runTwinnedPose(c *kit.Context) []note.Note {
	var notes []note.Note
	for _, fig := range c.Living() {
		var worst *mirrored
		pairs := 0
		for _, p := range fig.MirrorPairs() {
			if c.Ctx.Err() != nil {
				return nil
			}
			m, ok := mirroredFrames(c, fig, p)
			if !ok {
				continue
			}
			pairs++
			if worst == nil || m.size > worst.size {
				worst = &m
			}
		}
		if worst != nil {
			notes = append(notes, mirroredNote(c, fig, *worst, pairs))
		}
	}
	return notes
}

// mirrored is a pair of joints that move as mirror images.
type mirrored struct {
	pair        body.MirrorPair
	first, last int
	share, size float64
}

// mirroredFrames judges one pair, in the frames in which either moves against the
// figure's root.
func mirroredFrames(c *kit.Context, fig *motion.Figure, p body.MirrorPair) (mirrored, bool) {
	s := c.Study
	gap, left, right, apart := fig.MirrorGap(p)
	span := max(boxOf(left), boxOf(right))
	if span < twinnedPoseMinRange.In(c) || apart > twinnedPosePosedAlike.Value || (sharedTask(left, right) && !kicks(c, fig, p)) {
		return mirrored{}, false
	}
	step := track.FloorSpeed(track.Position) / s.Rate
	moving, alike := 0, 0
	m := mirrored{pair: p, first: -1, size: span}
	for i := 0; i+1 < s.N; i++ {
		if r3.Norm(r3.Sub(left[i+1], left[i])) < step && r3.Norm(r3.Sub(right[i+1], right[i])) < step {
			continue
		}
		moving++
		if gap[i] <= twinnedPoseAgreement.In(c)*span {
			alike++
		}
		if m.first < 0 {
			m.first = i
		}
		m.last = i + 1
	}
	if moving < twinnedPoseLeastMotion.Frames(s.Rate) {
		return mirrored{}, false
	}
	m.share = float64(alike) / float64(moving)
	if fig.LabelOf(p.Left).Body == body.Leg && kit.Pinned(fig, fig.GroupOf(p.Left), m.first, m.last) {
		return mirrored{}, false // a crouch over feet that stand
	}
	return m, m.share >= twinnedPoseShare.In(c) && s.Judged(m.first, m.last)
}

// sharedTask reports whether the two keep their distance while both travel: two
// hands on one rail, one rope.
func sharedTask(left, right []r3.Vec) bool {
	lo, hi := math.Inf(1), 0.0
	for i := range left {
		d := r3.Norm(r3.Sub(left[i], right[i]))
		lo, hi = min(lo, d), max(hi, d)
	}
	return hi-lo < twinnedPoseTaskDrift.Value && boxOf(left) > twinnedPoseTaskTravel.Value && boxOf(right) > twinnedPoseTaskTravel.Value
}

// kicks reports whether the pair are legs of a body that stays where it is: two
// feet that keep their distance share no task then, as they do in a jump.
func kicks(c *kit.Context, fig *motion.Figure, p body.MirrorPair) bool {
	core := fig.RootTrack()
	if core == nil || fig.LabelOf(p.Left).Body != body.Leg {
		return false
	}
	path := make([]r3.Vec, c.Study.N)
	for i := range path {
		path[i] = core.At(i)
	}
	return boxOf(path) < twinnedPoseMinRange.In(c)
}

// boxOf is the diagonal of the box around a path.
func boxOf(p []r3.Vec) float64 {
	if len(p) == 0 {
		return 0
	}
	lo, hi := p[0], p[0]
	for _, v := range p {
		lo = r3.Vec{X: min(lo.X, v.X), Y: min(lo.Y, v.Y), Z: min(lo.Z, v.Z)}
		hi = r3.Vec{X: max(hi.X, v.X), Y: max(hi.Y, v.Y), Z: max(hi.Z, v.Z)}
	}
	return r3.Norm(r3.Sub(hi, lo))
}

// mirroredNote makes one note of the pair that moves most, however many are
// twinned.
func mirroredNote(c *kit.Context, fig *motion.Figure, m mirrored, pairs int) note.Note {
	s := c.Study
	p := m.pair.Left
	top := s.Scene.Parts[p].Parent
	ch := kit.MovingChannel(c, p)
	if ch < 0 && top >= 0 {
		ch = kit.MovingChannel(c, top)
	}
	n := c.Draft(p, ch, m.first, m.last)
	n.Message = fmt.Sprintf("%s: %s and %s are mirror images in %s of their motion; break one side in pose or time",
		c.Span(m.first, m.last), c.Name(m.pair.Left), c.Name(m.pair.Right), words.Percent(m.share))
	c.RelatePart(&n, m.pair.Right, m.first, "its mirror image")
	n.Weight = c.Weigh(fig, p, m.size)
	n.Measures = []note.Measure{
		{Name: "alike", Value: m.share, Unit: "ratio"},
		{Name: "pairs", Value: float64(pairs), Unit: "count"},
	}
	n.Causes = append(n.Causes, m.pair.Left, m.pair.Right)
	return n
}
