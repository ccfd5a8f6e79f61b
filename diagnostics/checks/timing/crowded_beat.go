package timing

import (
	_ "embed"
	"fmt"

	"curvelint/diagnostics/checks/kit"
	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/note"
	"curvelint/diagnostics/words"
)

//go:embed crowded_beat.md
var crowdedBeatDoc string

// The settings of crowded-beat.
var (
	crowdedBeatShare     = kit.Number{Name: "share", Unit: "ratio", Default: 0.8, Min: 0.5, Max: 1, Doc: "share of the moving groups that peak together"}
	crowdedBeatMinGroups = kit.Number{Name: "min_groups", Unit: "count", Default: 5, Min: 3, Max: 50, Doc: "fewest groups that move in the beat"}
	crowdedBeatWindow    = kit.Seconds{Name: "window", Default: 1.0 / 24, Min: 0, Max: 0.5, Doc: "time within which the peaks fall"}
	crowdedBeatMinTime   = kit.Seconds{Name: "min_time", Default: 0.3, Min: 0, Max: 10, Doc: "shortest beat"}
)

// The limits of crowded-beat.
var (
	crowdedBeatAsOne = kit.Limit{Name: "as_one", Value: 1.0 / 48, Unit: "s",
		Doc:    "a beat whose parts start, stop or turn within this of one time is left to same-frame",
		Source: "half a film frame, as in same-frame; common practice, no source"}
)

// CrowdedBeat finds beats in which everything is fastest at once.
var CrowdedBeat = &kit.Check{
	ID:                "crowded-beat",
	Severity:          note.Information,
	Group:             kit.Timing,
	Title:             "everything peaks at once",
	Doc:               crowdedBeatDoc,
	Settings:          []kit.Setting{&crowdedBeatShare, &crowdedBeatMinGroups, &crowdedBeatWindow, &crowdedBeatMinTime},
	Limits:            []*kit.Limit{&crowdedBeatAsOne, &beatGap, &apart, &fewGroups, &wholeBeat, &chanceLimit, &kit.StandsStill, &kit.Interruption, &kit.FilmFrame, &kit.Rounding, &kit.DriverSpan},
	SilentWhenBlocked: true,
	YieldsTo:          []string{"same-frame"},
	Run:               runCrowdedBeat,
}

func runCrowdedBeat(c *kit.Context) []note.Note {
	var notes []note.Note
	l := crowd{share: crowdedBeatShare.In(c), groups: int(crowdedBeatMinGroups.In(c)), window: crowdedBeatAsOne.Value * c.Study.Rate}
	for _, fig := range c.Living() {
		for _, b := range freeBeats(fig) {
			if c.Ctx.Err() != nil {
				return nil
			}
			if float64(b.Last-b.First)/c.Study.Rate < crowdedBeatMinTime.In(c) || !c.Study.Judged(b.First, b.Last) {
				continue
			}
			if _, same := tightest(c, fig, &b, l); same {
				continue // it also starts, stops or turns as one, which says more
			}
			if n, ok := crowded(c, fig, b); ok {
				notes = append(notes, n)
			}
		}
	}
	return notes
}

// crowded compares the frames at which the groups of a beat are fastest, each
// in its largest stroke.
func crowded(c *kit.Context, fig *motion.Figure, b motion.FigureBeat) (note.Note, bool) {
	best := map[*motion.Group]motion.GroupStroke{}
	counts := map[*motion.Group]int{}
	for _, k := range b.Strokes {
		counts[k.Group]++
		if o, ok := best[k.Group]; !ok || k.Track.Prominence(k.Stroke) > o.Track.Prominence(o.Stroke) {
			best[k.Group] = k
		}
	}
	groups := b.Groups()
	if len(groups) < int(crowdedBeatMinGroups.In(c)) {
		return note.Note{}, false
	}
	w := crowdedBeatWindow.In(c)*c.Study.Rate + kit.Rounding.Value
	var together []motion.GroupStroke
	for _, g := range groups {
		var here []motion.GroupStroke
		from := best[g].Stroke.Peak
		for _, o := range groups {
			if d := float64(best[o].Stroke.Peak - from); d >= 0 && d <= w {
				here = append(here, best[o])
			}
		}
		if len(here) > len(together) {
			together = here
		}
	}
	var n []int
	for _, g := range groups {
		n = append(n, counts[g])
	}
	k := len(together)
	if k < int(crowdedBeatMinGroups.In(c)) || float64(k) < crowdedBeatShare.In(c)*float64(len(groups)) ||
		byChance(n, k, w+1, float64(b.Last-b.First+1)) || kit.LandsNear(c, fig, together[0].Stroke.Peak-1, together[0].Stroke.Peak+1) {
		return note.Note{}, false
	}
	return crowdedNote(c, fig, b, together, len(groups)), true
}

// crowdedNote sits on the highest of the parts that are fastest together, and
// shows where the others are.
func crowdedNote(c *kit.Context, fig *motion.Figure, b motion.FigureBeat, together []motion.GroupStroke, moving int) note.Note {
	top := together[0]
	travel := 0.0
	for _, k := range together {
		travel += kit.LikeFigures(k.Track.Quality, k.Stroke.Length)
		if k.Track.Part < top.Track.Part {
			top = k
		}
	}
	at := top.Stroke.Peak
	n := c.Draft(top.Track.Part, kit.Driver(c, top.Track, at), at, at+1)
	n.Related = nil
	n.First, n.Last = c.Study.Frame(b.First), c.Study.Frame(b.Last)
	n.Message = fmt.Sprintf("%s: %d of %d groups are fastest near frame %s; let some peak earlier and some later",
		c.Span(b.First, b.Last), len(together), moving, words.Frame(c.Study.Frame(at)))
	for _, k := range together {
		n.Causes = append(n.Causes, k.Track.Part)
		if ch := kit.Driver(c, k.Track, k.Stroke.Peak); k.Track != top.Track && ch >= 0 {
			c.Relate(&n, ch, k.Stroke.Peak, "%s is fastest here", k.Group.Name)
		}
	}
	n.Weight = c.Weigh(fig, top.Track.Part, travel)
	n.Measures = []note.Measure{
		{Name: "groups", Value: float64(len(together)), Unit: "count"},
		{Name: "moving", Value: float64(moving), Unit: "count"},
	}
	return n
}
