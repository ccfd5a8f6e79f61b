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

//go:embed late_follow.md
var lateFollowDoc string

// The settings of late-follow.
var (
	lateFollowLatest   = kit.Seconds{Name: "latest", Default: 0.5, Min: 0, Max: 1.25, Doc: "largest lag of a chain's tip behind its root"}
	lateFollowEarliest = kit.Seconds{Name: "earliest", Default: 0.08, Min: 0, Max: 1.25, Doc: "largest lead of a tip that should follow"}
	lateFollowAlike    = kit.Number{Name: "alike", Unit: "ratio", Default: 1.6, Min: 1, Max: 10, Doc: "how many times as long one of the two strokes may last as the other"}
	lateFollowMinTurn  = kit.Number{Name: "min_turn", Unit: "degrees", Default: 15, Min: 1, Max: 360, Doc: "least turn of root and tip in the stroke"}
)

// The limits of late-follow.
var (
	lateFollowSameWay = kit.Limit{Name: "same_way", Value: 0.5, Unit: "ratio",
		Doc:    "a stroke whose direction has a smaller cosine with that of the root follows something else: 60 degrees",
		Source: "common practice, no source"}
	lateFollowElseShare = kit.Limit{Name: "else_share", Value: 0.2, Unit: "ratio",
		Doc:    "a tip that does more than this share of its late stroke before it answers twice",
		Source: "common practice, no source"}
	lateFollowFarthest = kit.Limit{Name: "farthest", Value: 1.25, Unit: "s",
		Doc:    "a stroke that comes later answers no more",
		Source: "common practice, no source"}
)

// LateFollow finds followers that are out of their band.
var LateFollow = &kit.Check{
	ID:                "late-follow",
	Severity:          note.Information,
	Group:             kit.Timing,
	Title:             "a follower out of its band",
	Doc:               lateFollowDoc,
	Settings:          []kit.Setting{&lateFollowLatest, &lateFollowEarliest, &lateFollowAlike, &lateFollowMinTurn},
	Limits:            []*kit.Limit{&lateFollowSameWay, &lateFollowElseShare, &lateFollowFarthest, &kit.DriverSpan},
	SilentWhenBlocked: true,
	Run:               runLateFollow,
}

func runLateFollow(c *kit.Context) []note.Note {
	var notes []note.Note
	for _, fig := range c.Living() {
		for _, ch := range fig.Chains() {
			if c.Ctx.Err() != nil {
				return nil
			}
			if ch.Flexible {
				notes = append(notes, lateStrokes(c, fig, ch)...)
			}
		}
	}
	return notes
}

// lateStrokes compares the turning of a chain's last part with its first's.
func lateStrokes(c *kit.Context, fig *motion.Figure, chain body.Chain) []note.Note {
	s := c.Study
	last := chain.Parts[len(chain.Parts)-1]
	root, tip := s.RotationTrack(chain.Parts[0]), s.RotationTrack(last)
	if root == nil || tip == nil {
		return nil
	}
	var notes []note.Note
	for _, k := range root.Strokes() {
		if k.Length < lateFollowMinTurn.In(c) || !s.Judged(k.First, k.Last) || !k.FromRest {
			continue
		}
		follow, lag, ok := follower(c, root, tip, k)
		if !ok {
			continue
		}
		n := int(math.Round(math.Abs(lag) * s.Rate))
		what := ""
		switch {
		case lag > lateFollowLatest.In(c) && !answers(tip, k, follow):
			what = fmt.Sprintf("follows %s late", words.Count(n, "frame"))
		case lag < -lateFollowEarliest.In(c) && follow.Last > k.First: // else it was over before
			what = fmt.Sprintf("goes %s ahead of what carries it", words.Count(n, "frame"))
		default:
			continue
		}
		m := c.Draft(last, kit.Driver(c, tip, follow.First), min(k.First, follow.First), max(k.Last, follow.Last))
		m.Message = fmt.Sprintf("%s: the end of %s %s; a follower is one to three frames behind", c.Span(k.First, k.Last), chain.Name, what)
		m.Weight = c.Weigh(fig, last, kit.LikeFigures(track.Rotation, k.Length))
		m.Measures = []note.Measure{{Name: "lag", Value: lag, Unit: "s"}}
		m.Causes = append(m.Causes, last)
		notes = append(notes, m)
	}
	return notes
}

// follower finds the tip's stroke that follows a stroke of the root: of those
// from a rest, the same way round and about as long, the one that starts nearest
// to it. The lag is the mean of those of start and stop.
func follower(c *kit.Context, root, tip *track.Track, k track.Stroke) (best track.Stroke, lag float64, ok bool) {
	way := r3.Sub(root.At(k.Last), root.At(k.First))
	start, stop := strokeTimes(root, k)
	for _, f := range tip.Strokes() {
		w := r3.Sub(tip.At(f.Last), tip.At(f.First))
		if !f.FromRest || f.Length < lateFollowMinTurn.In(c) || r3.Dot(way, w) < lateFollowSameWay.Value*r3.Norm(way)*r3.Norm(w) {
			continue
		}
		a, b := strokeTimes(tip, f)
		if long := (b - a) / (stop - start); long > lateFollowAlike.In(c) || long < 1/lateFollowAlike.In(c) {
			continue
		}
		l := ((a - start) + (b - stop)) / 2 / c.Study.Rate
		if math.Abs(l) <= lateFollowFarthest.Value && (!ok || math.Abs(l) < math.Abs(lag)) {
			best, lag, ok = f, l, true
		}
	}
	return best, lag, ok
}

// answers reports whether the tip does something else between the start of the
// root's stroke and its own late one: it drags behind first and comes after.
func answers(tip *track.Track, k, late track.Stroke) bool {
	for _, f := range tip.Strokes() {
		if f.First < late.First && f.First < k.Last && f.Last > k.First && f.Length > lateFollowElseShare.Value*late.Length {
			return true
		}
	}
	return false
}

// strokeTimes are the times in frames at which a stroke starts and stops.
func strokeTimes(t *track.Track, k track.Stroke) (start, stop float64) {
	return t.EventTime(track.Event{Kind: track.Start, Frame: k.First}), t.EventTime(track.Event{Kind: track.Stop, Frame: k.Last})
}
