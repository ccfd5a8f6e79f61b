package timing

import (
	_ "embed"
	"fmt"
	"slices"

	"curvelint/diagnostics/checks/kit"
	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/motion/body"
	"curvelint/diagnostics/motion/track"
	"curvelint/diagnostics/note"
	"curvelint/diagnostics/words"
	"curvelint/parse/scene"
)

//go:embed same_frame.md
var sameFrameDoc string

// The settings of same-frame.
var (
	sameFrameShare         = kit.Number{Name: "share", Unit: "ratio", Default: 0.8, Min: 0.5, Max: 1, Doc: "share of the moving groups, or of a pair's events, that must coincide"}
	sameFrameMinGroups     = kit.Number{Name: "min_groups", Unit: "count", Default: 5, Min: 3, Max: 50, Doc: "fewest groups that coincide among many"}
	sameFrameMinPairEvents = kit.Number{Name: "min_pair_events", Unit: "count", Default: 3, Min: 2, Max: 100, Doc: "fewest events of a pair"}
	sameFrameWindow        = kit.Seconds{Name: "window", Default: 1.0 / 48, Min: 0, Max: 0.2, Doc: "how far from one frame still counts as together"}
)

// The limits of same-frame.
var (
	sameFrameFewestBeats = kit.Limit{Name: "fewest_beats", Value: 2, Unit: "count",
		Doc:    "in fewer beats, only a start, stop or turn of all groups is noted",
		Source: "common practice, no source: once, everything may go on one frame"}
	sameFrameMostly = kit.Limit{Name: "mostly", Value: 0.5, Unit: "ratio",
		Doc:    "a follower whose changes meet the leader's less often meets them by chance",
		Source: "common practice, no source"}
)

// SameFrame finds parts that change on the same frame.
var SameFrame = &kit.Check{
	ID:                "same-frame",
	Severity:          note.Warning,
	Group:             kit.Timing,
	Title:             "parts that change together",
	Doc:               sameFrameDoc,
	Settings:          []kit.Setting{&sameFrameShare, &sameFrameMinGroups, &sameFrameMinPairEvents, &sameFrameWindow},
	Limits:            []*kit.Limit{&sameFrameFewestBeats, &sameFrameMostly, &beatGap, &apart, &fewGroups, &wholeBeat, &chanceLimit, &kit.StandsStill, &kit.Interruption, &kit.FilmFrame, &kit.Rounding, &kit.DriverSpan},
	SilentWhenBlocked: true,
	Run:               runSameFrame,
}

func runSameFrame(c *kit.Context) []note.Note {
	var notes []note.Note
	for _, fig := range c.Living() {
		if c.Ctx.Err() != nil {
			return nil
		}
		beat := sameFrameBeats(c, fig)
		notes = append(notes, beat...)
		for _, pair := range leadPairs {
			if pair[0] == body.Head && fig.Locomotion() {
				continue // the gait moves both
			}
			notes = append(notes, sameFramePair(c, fig, pair[0], pair[1], beat)...)
		}
	}
	return notes
}

// leadPairs are the groups of which the first should lead the second.
var leadPairs = [][2]body.Body{{body.Brows, body.Lids}, {body.Head, body.Chest}}

// sameFrameBeats looks for beats in which most groups change as one.
func sameFrameBeats(c *kit.Context, fig *motion.Figure) []note.Note {
	var clusters []cluster
	strong := false
	l := crowd{share: sameFrameShare.In(c), groups: int(sameFrameMinGroups.In(c)), window: sameFrameWindow.In(c) * c.Study.Rate}
	for _, b := range freeBeats(fig) {
		k, ok := tightest(c, fig, &b, l)
		if !ok {
			continue
		}
		clusters = append(clusters, k)
		if len(k.changes) >= l.groups && len(k.changes) == k.moving {
			strong = true
		}
	}
	if len(clusters) == 0 || (len(clusters) < int(sameFrameFewestBeats.Value) && !strong) {
		return nil
	}
	return []note.Note{sameFrameNote(c, fig, clusters)}
}

var eventWords = [...]string{track.Start: "start", track.Stop: "stop", track.Turn: "turn"}

// sameFrameNote makes one note of all beats, at the largest cluster; the other
// parts and beats are related places.
func sameFrameNote(c *kit.Context, fig *motion.Figure, clusters []cluster) note.Note {
	k := clusters[0]
	for _, o := range clusters[1:] {
		if len(o.changes) > len(k.changes) {
			k = o
		}
	}
	slices.SortFunc(k.changes, func(a, b change) int { return int(a.track.Part - b.track.Part) })
	top := k.changes[0]
	n := c.Draft(top.track.Part, kit.Driver(c, top.track, k.frame), k.frame, k.frame)
	var names []string
	for _, m := range k.changes {
		names = append(names, m.group.Name)
	}
	times := ""
	if len(clusters) > 1 {
		times = fmt.Sprintf(", in %d beats", len(clusters))
	}
	n.Message = fmt.Sprintf("%s: %s %s together%s; offset them by 1-3 frames", c.Span(k.frame, k.frame), words.ListOf(names, 5), eventWords[k.kind], times)
	travel := 0.0
	for i, m := range k.changes {
		travel += beatTravel(m.track, k.frame)
		n.Causes = append(n.Causes, m.track.Part)
		if i > 0 {
			ch := kit.Driver(c, m.track, k.frame)
			relateSame(c, &n, m, ch, k.kind)
		}
	}
	for _, o := range clusters {
		if o.frame != k.frame {
			c.RelatePart(&n, o.changes[0].track.Part, o.frame, "again: %d of %d groups %s together", len(o.changes), o.moving, eventWords[o.kind])
		}
	}
	n.Weight = c.Weigh(fig, top.track.Part, travel)
	n.Measures = []note.Measure{
		{Name: "groups", Value: float64(len(k.changes)), Unit: "count"},
		{Name: "moving", Value: float64(k.moving), Unit: "count"},
		{Name: "beats", Value: float64(len(clusters)), Unit: "count"},
	}
	return n
}

// relateSame shows where another part of the cluster changes.
func relateSame(c *kit.Context, n *note.Note, m change, ch scene.ChannelID, kind track.EventKind) {
	if ch == scene.NoChannel {
		c.RelatePart(n, m.track.Part, m.frame, "%s %ss too", m.group.Name, eventWords[kind])
		return
	}
	c.Relate(n, ch, m.frame, "%s: %s here too", m.group.Name, eventWords[kind])
}

// beatTravel is how far the track goes in its strokes that touch frame i.
func beatTravel(t *track.Track, i int) float64 {
	sum := 0.0
	for _, k := range t.Strokes() {
		if k.First <= i && i <= k.Last {
			sum += kit.LikeFigures(t.Quality, k.Length)
		}
	}
	return sum
}
