package spacing

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

//go:embed hitch.md
var hitchDoc string

// The settings of hitch.
var (
	hitchDepth = kit.Number{Name: "depth", Unit: "ratio", Default: 0.6, Min: 0.05, Max: 0.6, Doc: "the dip falls below this share of the smaller peak beside it"}
)

// The limits of hitch.
var (
	hitchQuickTurn = kit.Limit{Name: "quick_turn", Value: 100, Unit: "degrees/s",
		Doc:    "a head that turns more slowly changes its mind when it stutters",
		Source: "common practice, no source"}
	hitchKeptWay = kit.Limit{Name: "kept_way", Value: 0.75, Unit: "ratio",
		Doc:    "a turn that keeps less of its way from end to end comes to the end and turns back, or is the noise of a capture",
		Source: "common practice, no source"}
	hitchSeenSwing = kit.Limit{Name: "seen_swing", Value: 0.01, Unit: "figure",
		Doc:    "a limb that swings less on the body is not seen to turn back",
		Source: "common practice, no source"}
)

// Hitch finds a stutter in a move.
var Hitch = &kit.Check{
	ID:                "hitch",
	Severity:          note.Warning,
	Group:             kit.Spacing,
	Title:             "a stutter in a move",
	Doc:               hitchDoc,
	Settings:          []kit.Setting{&hitchDepth},
	Limits:            []*kit.Limit{&hitchQuickTurn, &hitchKeptWay, &hitchSeenSwing, &kit.FilmFrame},
	SilentWhenBlocked: true,
	YieldsTo:          []string{"kinked-arc", "mixed-stepping", "rushed-read"},
	Run:               runHitch,
}

// stutter is a dip in the speed of a move.
type stutter struct {
	kit.Candidate
	h track.Hitch
}

func runHitch(c *kit.Context) []note.Note {
	var notes []note.Note
	deepest := hitchDepth.In(c)
	for _, fig := range c.Living() {
		var all []stutter
		for _, t := range hitchTracks(fig) {
			if c.Ctx.Err() != nil {
				return nil
			}
			for _, h := range t.Hitches() {
				a, b := h.First, h.Last
				if h.Depth >= deepest || slowTurn(t, h) || !c.Study.Judged(a, b) || !stuttersAsSeen(c, fig, t, h) || turnsRound(c, fig, t, h) || kit.LandsNear(c, fig, h.Before, h.After+1) {
					continue
				}
				f := stutter{kit.Candidate{Track: t, First: a, Last: b}, h}
				f.Size = kit.LikeFigures(t.Quality, t.PathLength(h.Before, h.After+1))
				f.Drivers = c.Study.Drivers(t, h.Before, h.After+1)
				all = append(all, f)
			}
		}
		for _, f := range kit.OneCause(fig, all, func(f *stutter) *kit.Candidate { return &f.Candidate }) {
			notes = append(notes, hitchNote(c, fig, f))
		}
	}
	return notes
}

// slowTurn reports whether the peaks beside a dip in a turn are too slow.
func slowTurn(t *track.Track, h track.Hitch) bool {
	v := t.Speed()
	return t.Quality == track.Rotation && min(v[h.Before], v[h.After]) < hitchQuickTurn.Value
}

// stuttersAsSeen reports whether a dip in the turning of a part is one in the world,
// too: as deep, in a turn that is as quick and goes on. What the head does against
// its neck the body may make up for; what a neck does is seen on the head.
func stuttersAsSeen(c *kit.Context, fig *motion.Figure, t *track.Track, h track.Hitch) bool {
	if t.Quality != track.Rotation {
		return true
	}
	w := kit.FilmFrame.Frames(t.Rate)
	from, p := max(h.Before-w/2, 0), t.Part
	if head := fig.Group(body.Head.String()); head != nil && c.Study.IsAncestor(p, head.Parts[0]) {
		p = head.Parts[0]
	}
	seen := kit.SeenWorlds(c, fig, p, from, min(h.After+1+(w+1)/2, t.Len()))
	lowest := math.Inf(1)
	sides := [2]float64{} // the fastest before and after the dip
	for i := 0; i+w < len(seen); i++ {
		d := seen[i].AngleTo(&seen[i+w])
		lowest = min(lowest, d)
		side := 0
		if from+i+w/2 > (h.First+h.Last)/2 {
			side = 1
		}
		sides[side] = max(sides[side], d)
	}
	slower := min(sides[0], sides[1])
	if slower*t.Rate < hitchQuickTurn.Value*float64(w) || lowest >= hitchDepth.In(c)*slower {
		return false
	}
	path := 0.0
	for i := 1; i < len(seen); i++ {
		path += seen[i-1].AngleTo(&seen[i])
	}
	return seen[0].AngleTo(&seen[len(seen)-1]) >= hitchKeptWay.Value*path
}

// turnsRound reports whether a point turns back in the dip as seen from the body's
// core: a wing comes to the end of its beat while the bird flies on.
func turnsRound(c *kit.Context, fig *motion.Figure, t *track.Track, h track.Hitch) bool {
	core := fig.Core()
	if t.Quality != track.Position || t.Part == core || !c.Study.IsAncestor(core, t.Part) {
		return false
	}
	a, b := h.Before, h.After+1
	own, base := c.Study.Worlds(t.Part, a, b+1), c.Study.Worlds(core, a, b+1)
	at := func(i int) r3.Vec {
		back := base[i-a].Inverse()
		return r3.Scale(base[i-a].Scale()/fig.Size, back.Point(own[i-a].Point(t.Offset)))
	}
	dip := (h.First + h.Last) / 2
	in, out := r3.Sub(at(dip), at(a)), r3.Sub(at(b), at(dip))
	return r3.Dot(in, out) < 0 && min(r3.Norm(in), r3.Norm(out)) > hitchSeenSwing.Value
}

// hitchTracks are the paths of the figure's points but its feet, which roll and
// push off with many peaks of speed, and the turning of its head and neck, on
// which the head's point is too near to go far.
func hitchTracks(fig *motion.Figure) []*track.Track {
	var out []*track.Track
	for i, t := range kit.PointTracks(fig) {
		if r := fig.Points[i].Role; r != body.HeelPoint && r != body.ToePoint {
			out = append(out, t)
		}
	}
	for _, p := range fig.Parts {
		if b := fig.LabelOf(p).Body; b == body.Head || b == body.Neck {
			if t := fig.Study().RotationTrack(p); t != nil {
				out = append(out, t)
			}
		}
	}
	return out
}

func hitchNote(c *kit.Context, fig *motion.Figure, f stutter) note.Note {
	ch := f.Driver()
	p := c.Study.Scene.Channels[ch].Part
	n := c.Draft(p, ch, f.First, f.Last)
	n.Message = fmt.Sprintf("%s: %s, the speed dips to %s of the peaks beside it; look for a stray key or tangent",
		c.Span(f.First, f.Last), c.Says(p, "stutters"), words.Percent(f.h.Depth))
	n.Weight = c.Weigh(fig, p, f.Size)
	n.Measures = []note.Measure{
		{Name: "dip", Value: f.h.Depth, Unit: "ratio"},
		{Name: "peak-to-peak", Value: float64(f.h.After-f.h.Before) / c.Study.Rate, Unit: "s"},
	}
	n.Causes = append(n.Causes, p, f.Track.Part)
	return n
}
