package checks

import (
	"cmp"
	_ "embed"
	"fmt"
	"math"
	"slices"
	"strings"

	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/note"
	"curvelint/parse/scene"
)

//go:embed same_frame.md
var sameFrameDoc string

// SameFrame finds parts that change on the same frame.
var SameFrame = &Check{
	ID:       "same-frame",
	Severity: note.Warning,
	Group:    Timing,
	Title:    "parts that change together",
	Doc:      sameFrameDoc,
	Settings: []Setting{
		{Name: "share", Unit: "ratio", Default: 0.8, Min: 0.5, Max: 1, Doc: "share of the moving groups, or of a pair's events, that must coincide"},
		{Name: "min_groups", Unit: "count", Default: 5, Min: 3, Max: 50, Doc: "fewest groups that coincide among many"},
		{Name: "min_pair_events", Unit: "count", Default: 3, Min: 2, Max: 100, Doc: "fewest events of a pair"},
		{Name: "window", Unit: "s", Default: 1.0 / 48, Min: 0, Max: 0.2, Doc: "how far from one frame still counts as together"},
	},
	SilentWhenBlocked: true,
	Run:               runSameFrame,
}

// change is one event of a group that moves in a beat.
type change struct {
	group *motion.Group
	track *motion.Track
	frame int
	time  float64 // in frames, between whole ones
}

// cluster is a set of groups that change within the window of one frame.
type cluster struct {
	frame   int
	kind    motion.EventKind
	changes []change
	moving  int // groups that move in the beat
}

func runSameFrame(c *Context) []note.Note {
	var notes []note.Note
	for _, fig := range c.living() {
		if c.Ctx.Err() != nil {
			return nil
		}
		beat := c.sameFrameBeats(fig)
		notes = append(notes, beat...)
		for _, pair := range leadPairs {
			if pair[0] == motion.Head && fig.Locomotion() {
				continue // the gait moves both
			}
			notes = append(notes, c.sameFramePair(fig, pair[0], pair[1], beat)...)
		}
	}
	return notes
}

// leadPairs are the groups of which the first should lead the second.
var leadPairs = [][2]motion.Body{{motion.Brows, motion.Lids}, {motion.Head, motion.Chest}}

// sameFrameBeats looks for beats in which most groups change as one.
func (c *Context) sameFrameBeats(fig *motion.Figure) []note.Note {
	var found []cluster
	strong := false
	l := crowd{share: c.Setting("share"), groups: int(c.Setting("min_groups")), window: c.Setting("window") * c.Study.Rate}
	for _, b := range freeBeats(fig) {
		k, ok := c.tightest(fig, &b, l)
		if !ok {
			continue
		}
		found = append(found, k)
		if len(k.changes) >= l.groups && len(k.changes) == k.moving {
			strong = true
		}
	}
	if len(found) == 0 || (len(found) < 2 && !strong) {
		return nil
	}
	return []note.Note{c.sameFrameNote(fig, found)}
}

// crowd says how many groups of a beat make a cluster, and how close in time.
type crowd struct {
	share  float64 // of the moving groups
	groups int     // fewest among many
	window float64 // frames either way
}

// tightest returns the largest cluster of a beat that is large enough.
func (c *Context) tightest(fig *motion.Figure, b *motion.FigureBeat, l crowd) (cluster, bool) {
	groups := b.Groups()
	n := len(groups)
	if n < 3 {
		return cluster{}, false
	}
	events, tracks := make([][]motion.Event, n), make([]*motion.Track, n)
	for i, g := range groups {
		events[i], tracks[i] = g.EventsIn(b.First, b.Last)
	}
	var best cluster
	for kind := motion.Start; kind <= motion.Turn; kind++ {
		var all []change
		counts := make([]int, n)
		for i, g := range groups {
			for _, e := range events[i] {
				if e.Kind == kind && !cutByClip(tracks[i], e) {
					all = append(all, change{g, tracks[i], e.Frame, tracks[i].EventTime(e)})
					counts[i]++
				}
			}
		}
		k := densest(all, l.window)
		window := 2*math.Floor(l.window+1e-9) + 1
		if len(k.changes) > len(best.changes) && !byChance(counts, len(k.changes), window, float64(b.Last-b.First+1)) {
			k.kind, k.moving = kind, n
			best = k
		}
	}
	k := len(best.changes)
	enough := k >= l.groups && float64(k) >= l.share*float64(n) || (n <= 4 && k == n)
	if !enough || c.nearContact(fig, best.frame) {
		return cluster{}, false
	}
	return best, true
}

// cutByClip reports whether an event is the first or last change of a clip on twos
// or threes, whose first and last frames repeat: what moves through the beginning
// or end of the clip starts or stops nowhere.
func cutByClip(t *motion.Track, e motion.Event) bool {
	if t.Stepping() < 2 {
		return false
	}
	w := t.StepFrames(t.Stepping())
	return e.Kind == motion.Start && e.Frame <= w || e.Kind == motion.Stop && e.Frame >= t.Len()-1-w
}

// densest returns the changes of the most groups within the window, in frames
// either way, of one time.
func densest(all []change, window float64) cluster {
	slices.SortStableFunc(all, func(a, b change) int { return cmp.Compare(a.time, b.time) })
	width := 2*window - apart
	var best cluster
	for i, m := range all {
		k := cluster{frame: m.frame}
		for _, o := range all[i:] {
			if o.time-m.time > width {
				break
			}
			if !slices.ContainsFunc(k.changes, func(x change) bool { return x.group == o.group }) {
				k.changes = append(k.changes, o)
			}
		}
		if len(k.changes) > len(best.changes) {
			k.frame = k.changes[len(k.changes)/2].frame
			best = k
		}
	}
	return best
}

// apart is how much of a frame two changes must miss each other by less than a
// whole one to be together.
const apart = 0.15

var eventWords = [...]string{motion.Start: "start", motion.Stop: "stop", motion.Turn: "turn"}

func (c *Context) sameFrameNote(fig *motion.Figure, found []cluster) note.Note {
	k := found[0]
	for _, o := range found[1:] {
		if len(o.changes) > len(k.changes) {
			k = o
		}
	}
	slices.SortFunc(k.changes, func(a, b change) int { return int(a.track.Part - b.track.Part) })
	top := k.changes[0]
	n := c.draft(top.track.Part, c.driver(top.track, k.frame), k.frame, k.frame)
	var names []string
	for _, m := range k.changes {
		names = append(names, m.group.Name)
	}
	times := ""
	if len(found) > 1 {
		times = fmt.Sprintf(", in %d beats", len(found))
	}
	n.Message = fmt.Sprintf("%s: %s %s together%s; offset them by 1-3 frames", c.span(k.frame, k.frame), list(names, 5), eventWords[k.kind], times)
	travel := 0.0
	for i, m := range k.changes {
		travel += beatTravel(m.track, k.frame)
		n.Causes = append(n.Causes, m.track.Part)
		if i > 0 {
			ch := c.driver(m.track, k.frame)
			c.relateSame(&n, m, ch, k.kind)
		}
	}
	for _, o := range found {
		if o.frame != k.frame {
			c.relatePart(&n, o.changes[0].track.Part, o.frame, "again: %d of %d groups %s together", len(o.changes), o.moving, eventWords[o.kind])
		}
	}
	n.Weight = c.weigh(fig, top.track.Part, travel)
	n.Measures = []note.Measure{
		{Name: "groups", Value: float64(len(k.changes)), Unit: "count"},
		{Name: "moving", Value: float64(k.moving), Unit: "count"},
		{Name: "beats", Value: float64(len(found)), Unit: "count"},
	}
	return n
}

func (c *Context) relateSame(n *note.Note, m change, ch scene.ChannelID, kind motion.EventKind) {
	if ch == scene.NoChannel {
		c.relatePart(n, m.track.Part, m.frame, "%s %ss too", m.group.Name, eventWords[kind])
		return
	}
	c.relate(n, ch, m.frame, "%s: %s here too", m.group.Name, eventWords[kind])
}

// driver is the channel that moves a track most around frame index i.
func (c *Context) driver(t *motion.Track, i int) scene.ChannelID {
	w := c.Study.Window(0.25)
	d := c.Study.Drivers(t, max(0, i-w), min(c.Study.N-1, i+w))
	if len(d) == 0 {
		return scene.NoChannel
	}
	return d[0].Channel
}

// beatTravel is how far the track goes in its strokes that touch frame i.
func beatTravel(t *motion.Track, i int) float64 {
	sum := 0.0
	for _, k := range t.Strokes() {
		if k.First <= i && i <= k.Last {
			sum += likeFigures(t.Quality, k.Length)
		}
	}
	return sum
}

// list joins names the way people do, at most n of them by name.
func list(names []string, n int) string {
	if len(names) > n {
		return strings.Join(names[:n-1], ", ") + fmt.Sprintf(" and %d more", len(names)-n+1)
	}
	if len(names) == 1 {
		return names[0]
	}
	return strings.Join(names[:len(names)-1], ", ") + " and " + names[len(names)-1]
}
