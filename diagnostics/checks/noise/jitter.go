package noise

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
	"curvelint/parse/scene"
)

//go:embed jitter.md
var jitterDoc string

// The settings of jitter.
var (
	jitterPerSecond = kit.Number{Name: "per_second", Unit: "count", Default: 6, Min: 1, Max: 100, Doc: "reversals in a second"}
	jitterMinTime   = kit.Seconds{Name: "min_time", Default: 0.5, Min: 0.1, Max: 10, Doc: "shortest time"}
	jitterSmallest  = kit.Number{Name: "smallest", Unit: "figure", Default: 0.004, Min: 0, Max: 1, Doc: "smaller swings are not seen"}
	jitterLargest   = kit.Number{Name: "largest", Unit: "figure", Default: 0.03, Min: 0, Max: 1, Doc: "larger swings are moves"}
)

// The limits of jitter.
var (
	jitterOneAxis = kit.Limit{Name: "one_axis", Value: 0.98, Unit: "ratio",
		Doc:    "a joint that turns about one line for more than this share of its path is a jaw: it talks",
		Source: "common practice, no source"}
	jitterDies = kit.Limit{Name: "dies", Value: 0.5, Unit: "ratio",
		Doc:    "a stretch whose last third swings less than this share of its first dies away: it settles",
		Source: "common practice, no source"}
	jitterDrowned = kit.Limit{Name: "drowned", Value: 10, Unit: "ratio",
		Doc:    "a part that is carried so many times as far as it trembles is not seen to: the toes of a foot that swings forward",
		Source: "common practice, no source"}
)

// Jitter finds motion that goes nowhere.
var Jitter = &kit.Check{
	ID:                "jitter",
	Severity:          note.Information,
	Group:             kit.Noise,
	Title:             "motion that goes nowhere",
	Doc:               jitterDoc,
	Settings:          []kit.Setting{&jitterPerSecond, &jitterMinTime, &jitterSmallest, &jitterLargest},
	Limits:            []*kit.Limit{&jitterOneAxis, &jitterDies, &jitterDrowned, &kit.Rounding},
	SilentWhenBlocked: true,
	YieldsTo:          []string{"hitch"},
	Run:               runJitter,
}

func runJitter(c *kit.Context) []note.Note {
	var notes []note.Note
	for _, fig := range c.Living() {
		if fig.Locomotion() {
			continue
		}
		var all []tremble
		for _, p := range fig.Parts {
			if c.Ctx.Err() != nil {
				return nil
			}
			if b := fig.LabelOf(p).Body; b == body.Mouth || b == body.Lids || b == body.Eyes {
				continue
			}
			if t := c.Study.RotationTrack(p); t != nil && !talks(c, fig, t) {
				all = append(all, trembles(c, fig, t, fig.BoneLength(p)/kit.DegreesPerRadian)...)
			}
			if t := c.Study.LocalTrack(p); t != nil && p != fig.Root {
				all = append(all, trembles(c, fig, t, 1)...)
			}
		}
		kept := kit.OneCause(fig, all, func(f *tremble) *kit.Candidate { return &f.Candidate })
		for _, f := range kept {
			if !underTrembling(c, fig, kept, f) {
				notes = append(notes, jitterNote(c, fig, f))
			}
		}
	}
	return notes
}

// talks reports whether a track is that of a jaw whose name does not say so: a
// joint on the head that turns about one axis only.
func talks(c *kit.Context, fig *motion.Figure, t *track.Track) bool {
	up := c.Study.Scene.Parts[t.Part].Parent
	if fig.LabelOf(t.Part).Body != body.Head || up == scene.NoPart || fig.LabelOf(up).Body != body.Head {
		return false
	}
	axis := r3.Vec{}
	for i := range t.Len() - 1 {
		if s := t.Step(i); r3.Dot(s, axis) < 0 {
			axis = r3.Sub(axis, s)
		} else {
			axis = r3.Add(axis, s)
		}
	}
	return r3.Norm(axis) > jitterOneAxis.Value*t.PathLength(0, t.Len()-1)
}

// underTrembling reports whether a tremble is that of a leg under a body that
// trembles: on a planted foot it can but follow.
func underTrembling(c *kit.Context, fig *motion.Figure, all []tremble, f tremble) bool {
	leg := func(o *tremble) bool {
		return fig.LabelOf(c.Study.Scene.Channels[o.Driver()].Part).Body == body.Leg
	}
	return leg(&f) && slices.ContainsFunc(all, func(o tremble) bool {
		return !leg(&o) && min(o.Last, f.Last) >= max(o.First, f.First)
	})
}

// tremble is a stretch of small fast reversals.
type tremble struct {
	kit.Candidate
	perSecond, swing float64
}

// trembles finds stretches of small fast reversals of a track; size turns its
// unit into figure sizes at the part's far end.
func trembles(c *kit.Context, fig *motion.Figure, t *track.Track, size float64) []tremble {
	s := c.Study
	var turns []int
	for _, e := range t.Events() {
		if e.Kind == track.Turn {
			turns = append(turns, e.Frame)
		}
	}
	longest := s.Rate / jitterPerSecond.In(c) // frames from turn to turn
	lo, hi := jitterSmallest.In(c), jitterLargest.In(c)
	swing := func(i int) float64 { return r3.Norm(r3.Sub(t.At(turns[i+1]), t.At(turns[i]))) * size }
	var out []tremble
	for i := 0; i+1 < len(turns); i++ {
		a := i
		for i+1 < len(turns) && float64(turns[i+1]-turns[i]) <= longest+kit.Rounding.Value && swing(i) >= lo && swing(i) <= hi {
			i++
		}
		seconds := float64(turns[i]-turns[a]) / s.Rate
		if seconds < jitterMinTime.In(c) || !s.Judged(turns[a], turns[i]) {
			continue
		}
		// A settle dies away: its last swings are smaller than its first.
		third := max((i-a)/3, 1)
		early, late := 0.0, 0.0
		for j := range third {
			early += swing(a + j)
			late += swing(i - 1 - j)
		}
		if late < jitterDies.Value*early {
			continue
		}
		if path, _ := kit.CarriedWay(c, fig, t.Part, turns[a], turns[i]); path > jitterDrowned.Value*(early+late)/float64(2*third)*float64(i-a) {
			continue
		}
		f := tremble{kit.Candidate{Track: t, First: turns[a], Last: turns[i], Size: early / float64(third)}, float64(i-a) / seconds, early / float64(third)}
		f.Drivers = s.Drivers(t, f.First, f.Last)
		out = append(out, f)
	}
	return out
}

func jitterNote(c *kit.Context, fig *motion.Figure, f tremble) note.Note {
	ch := f.Driver()
	p := c.Study.Scene.Channels[ch].Part
	n := c.Draft(p, ch, f.First, f.Last)
	if c.Severity == note.Information && faceChanges(c, fig, p, f.First, f.Last) {
		n.Severity = note.Warning
	}
	n.Message = fmt.Sprintf("%s: %s, %.0f reversals a second of %s; calm it or give it a direction",
		c.Span(f.First, f.Last), c.Says(p, "trembles"), f.perSecond, words.Length(f.swing))
	n.Weight = c.Weigh(fig, p, f.swing*f.perSecond)
	n.Measures = []note.Measure{
		{Name: "reversals", Value: f.perSecond, Unit: "count"},
		{Name: "swing", Value: f.swing, Unit: "figure"},
	}
	n.Causes = append(n.Causes, p)
	return n
}

// faceChanges reports whether brows or mouth change while something outside the
// head is busy.
func faceChanges(c *kit.Context, fig *motion.Figure, p scene.PartID, a, b int) bool {
	if l := fig.LabelOf(p).Body; l == body.Head || l.Face() {
		return false
	}
	for _, g := range fig.Groups {
		if l := g.Label.Body; l != body.Brows && l != body.Mouth {
			continue
		}
		for _, k := range g.Strokes() {
			if min(k.Stroke.Last, b) > max(k.Stroke.First, a) {
				return true
			}
		}
	}
	return false
}
