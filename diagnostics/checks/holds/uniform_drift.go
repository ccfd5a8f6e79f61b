package holds

import (
	_ "embed"
	"fmt"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/diagnostics/checks/kit"
	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/motion/body"
	"curvelint/diagnostics/motion/track"
	"curvelint/diagnostics/note"
	"curvelint/diagnostics/words"
)

//go:embed uniform_drift.md
var uniformDriftDoc string

// The settings of uniform-drift.
var (
	uniformDriftShare    = kit.Number{Name: "share", Unit: "ratio", Default: 0.1, Min: 0, Max: 1, Doc: "relative motion of the points, as a share of their common drift"}
	uniformDriftMinTime  = kit.Seconds{Name: "min_time", Default: 0.33, Min: 0.05, Max: 100, Doc: "shortest hold"}
	uniformDriftMinDrift = kit.Number{Name: "min_drift", Unit: "figure/s", Default: 0.002, Min: 0, Max: 1, Doc: "slowest drift that an audience sees"}
)

// The limits of uniform-drift.
var (
	uniformDriftWhole  = kit.Limit{Name: "whole", Value: 0.002, Unit: "figure", Doc: "a stretch that drifts less in the whole is not seen", Source: "common practice, no source"}
	uniformDriftFewest = kit.Limit{Name: "fewest_points", Value: 3, Unit: "count", Doc: "fewer points that nothing holds are no body that could move as one piece", Source: "common practice, no source"}
	uniformDriftHeld   = kit.Limit{Name: "held", Value: 0.05, Unit: "ratio", Doc: "a point that goes less than this share of the farthest one's path is held by something", Source: "common practice, no source"}
)

// UniformDrift finds holds in which everything drifts as one.
var UniformDrift = &kit.Check{
	ID:                "uniform-drift",
	Severity:          note.Information,
	Group:             kit.Holds,
	Title:             "everything drifts as one",
	Doc:               uniformDriftDoc,
	Settings:          []kit.Setting{&uniformDriftShare, &uniformDriftMinTime, &uniformDriftMinDrift},
	Limits:            []*kit.Limit{&uniformDriftWhole, &kit.SureNoise, &uniformDriftHeld, &uniformDriftFewest, &beforeHold},
	SilentWhenBlocked: true,
	YieldsTo:          []string{"frozen-hold"},
	Run:               runUniformDrift,
}

func runUniformDrift(c *kit.Context) []note.Note {
	var notes []note.Note
	for _, fig := range c.Living() {
		free := freePoints(c, fig)
		if len(free) < int(uniformDriftFewest.Value) || c.Ctx.Err() != nil {
			continue
		}
		for _, h := range quietStretches(c, free) {
			if loose := unheld(free, h); len(loose) >= int(uniformDriftFewest.Value) {
				notes = append(notes, drifts(c, fig, loose, h)...)
			}
		}
	}
	return notes
}

// freePoints are the tracks of the figure's points that are never in contact.
func freePoints(c *kit.Context, fig *motion.Figure) []*track.Track {
	var out []*track.Track
	var feet []int // a foot without a name is the tip of some chain
	for _, f := range fig.Feet() {
		feet = append(feet, f.Points...)
	}
	for i, p := range fig.Points {
		if slices.Contains(feet, i) {
			continue
		}
		switch p.Role {
		case body.HeelPoint, body.ToePoint, body.LonePoint:
			continue
		case body.HandPoint:
			if len(fig.HandContacts(i)) > 0 {
				continue
			}
		}
		out = append(out, fig.CarriedTrack(i))
	}
	return out
}

// unheld leaves out the points that keep their place in a hold while others
// drift: something holds them.
func unheld(tracks []*track.Track, h hold) []*track.Track {
	most := 0.0
	for _, t := range tracks {
		most = max(most, t.PathLength(h.first, h.last))
	}
	var out []*track.Track
	for _, t := range tracks {
		if t.PathLength(h.first, h.last) > uniformDriftHeld.Value*most {
			out = append(out, t)
		}
	}
	return out
}

// quietStretches are the frames in which all the tracks rest, long enough to be
// a hold.
func quietStretches(c *kit.Context, tracks []*track.Track) []hold {
	s := c.Study
	rest := make([]int, s.N)
	for _, t := range tracks {
		for _, r := range t.Rests() {
			for i := r.First; i <= r.Last; i++ {
				rest[i]++
			}
		}
	}
	least := uniformDriftMinTime.Frames(c)
	var out []hold
	for i := 0; i < s.N; i++ {
		if rest[i] < len(tracks) {
			continue
		}
		a := i
		for i+1 < s.N && rest[i+1] == len(tracks) {
			i++
		}
		if i-a >= least && a > 0 && i < s.N-1 && s.Judged(a, i) {
			out = append(out, hold{a, i})
		}
	}
	return out
}

// drifts finds in a hold the stretches in which the points go along with the
// body's core as if they were one piece with it. A hold begins and ends with the
// last of a stroke, so it is looked at in windows.
func drifts(c *kit.Context, fig *motion.Figure, tracks []*track.Track, h hold) []note.Note {
	w := uniformDriftMinTime.Frames(c)
	fixed := onCore(c, fig, tracks, h)
	stiff := func(a int) bool {
		common, relative := drift(c, tracks, fixed, h, a, a+w)
		return common >= uniformDriftMinDrift.In(c)*uniformDriftMinTime.In(c) && relative < uniformDriftShare.In(c)*common
	}
	var notes []note.Note
	for a := h.first; a+w <= h.last; a++ {
		if !stiff(a) {
			continue
		}
		b := a + 1
		for b+w <= h.last && stiff(b) {
			b++
		}
		if n, ok := driftNote(c, fig, tracks, fixed, h, hold{a, b - 1 + w}); ok {
			notes = append(notes, n)
		}
		a = b + w - 1
	}
	return notes
}

// onCore returns where the points of the tracks are in a hold as seen from the
// body's core, in figure sizes.
func onCore(c *kit.Context, fig *motion.Figure, tracks []*track.Track, h hold) [][]r3.Vec {
	s := c.Study
	core := s.Worlds(fig.Core(), h.first, h.last+1)
	out := make([][]r3.Vec, len(tracks))
	for i, t := range tracks {
		at := s.Worlds(t.Part, h.first, h.last+1)
		for j := range core {
			back := core[j].Inverse()
			p := back.Point(at[j].Point(t.Offset))
			out[i] = append(out[i], r3.Scale(core[j].Scale()/fig.Size, p))
		}
	}
	return out
}

// drift returns how far the points go between two frames on average, and how far
// one of them gets from where it was as seen from the core: what goes and comes
// back has a life of its own, too.
func drift(c *kit.Context, tracks []*track.Track, fixed [][]r3.Vec, h hold, a, b int) (common, relative float64) {
	for i, t := range tracks {
		common += r3.Norm(r3.Sub(t.At(b), t.At(a))) / float64(len(tracks))
		seen := fixed[i][a-h.first : b-h.first+1]
		for _, p := range seen {
			relative = max(relative, r3.Norm(r3.Sub(p, seen[0])))
		}
	}
	return common, relative
}

func driftNote(c *kit.Context, fig *motion.Figure, tracks []*track.Track, fixed [][]r3.Vec, whole, h hold) (note.Note, bool) {
	common, relative := drift(c, tracks, fixed, whole, h.first, h.last)
	noise := 0.0
	for _, t := range tracks {
		noise = max(noise, t.Noise)
	}
	if common < max(uniformDriftWhole.Value, kit.SureNoise.Value*noise) || relative >= uniformDriftShare.In(c)*common {
		return note.Note{}, false
	}
	part, ch := strokeBefore(c, fig, fig.Root, h.first)
	if d := c.Study.Drivers(tracks[0], h.first, h.last); len(d) > 0 {
		ch = d[0].Channel
		part = c.Study.Scene.Channels[ch].Part
	}
	n := c.Draft(part, ch, h.first, h.last)
	n.Message = fmt.Sprintf("%s: the whole body drifts as one piece, parts differ by %s only; give them different rates", c.Span(h.first, h.last), words.Percent(relative/common))
	n.Weight = c.Weigh(fig, fig.Root, common)
	n.Measures = []note.Measure{
		{Name: "drift", Value: common, Unit: "figure"},
		{Name: "relative", Value: relative / common, Unit: "ratio"},
	}
	n.Causes = append(n.Causes, part, fig.Root)
	return n, true
}
