package paths

import (
	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/diagnostics/checks/kit"
	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/motion/body"
	"curvelint/diagnostics/motion/track"
	"curvelint/diagnostics/note"
)

// arcFinding is a stroke whose path is at fault.
type arcFinding struct {
	kit.Candidate
	point  int
	stroke track.Stroke
	depth  float64
	share  float64 // late-arc: of the turning
	early  bool
}

// eachArc calls do with the strokes of every tracked point that are large
// enough, are judged, and belong to no walk.
func eachArc(c *kit.Context, fig *motion.Figure, minChord float64, do func(i int, t *track.Track, k track.Stroke)) {
	if fig.Locomotion() {
		return
	}
	for i, p := range fig.Points {
		if p.Role == body.LonePoint || c.Ctx.Err() != nil {
			continue
		}
		t := fig.CarriedTrack(i)
		for _, k := range t.Strokes() {
			if k.Chord >= minChord && k.Last-k.First >= int(fewestSpacings.Value) && c.Study.Judged(k.First, k.Last) {
				do(i, t, k)
			}
		}
	}
}

// arcNote starts a note about a stroke's path, on the channel that drives it.
func arcNote(c *kit.Context, fig *motion.Figure, f arcFinding) note.Note {
	ch := f.Driver()
	p := c.Study.Scene.Channels[ch].Part
	n := c.Draft(p, ch, f.First, f.Last)
	n.Weight = c.Weigh(fig, f.Track.Part, f.Size)
	n.Measures = []note.Measure{
		{Name: "arc-depth", Value: f.depth, Unit: "ratio"},
		{Name: "chord", Value: f.stroke.Chord, Unit: "figure"},
	}
	if f.Track.Part != p {
		c.RelatePart(&n, f.Track.Part, f.First, "seen on %s", f.Track.Name)
	}
	n.Causes = append(n.Causes, p, f.Track.Part)
	return n
}

// The limits of what is judged of an arc.
var (
	fewestSpacings = kit.Limit{Name: "fewest_spacings", Value: 3, Unit: "count",
		Doc:    "a stroke of fewer spacings has too few positions to draw an arc",
		Source: "common practice, no source: two spacings bend once, and nobody sees where"}
	carriedShare = kit.Limit{Name: "carried_share", Value: 0.7, Unit: "ratio",
		Doc:    "a stroke of which the root goes this share is a way through the scene: a bird that flies past need not swing",
		Source: "common practice, no source"}
	airborne = kit.Limit{Name: "airborne", Value: 2.0 / 24, Unit: "s",
		Doc:    "a body on whose feet nothing stands for so long is in the air",
		Source: "common practice, no source"}
)

// carriedAlong reports whether the root goes most of the way of a stroke.
func carriedAlong(c *kit.Context, fig *motion.Figure, k track.Stroke) bool {
	root := fig.RootTrack()
	if root == nil {
		return false
	}
	return r3.Norm(r3.Sub(root.At(k.Last), root.At(k.First))) > carriedShare.Value*k.Chord
}

// jumps reports whether the body is in the air at some time between two frame
// indices: for two film frames no foot stands, though one does before or after.
func jumps(c *kit.Context, fig *motion.Figure, first, last int) bool {
	feet := fig.Feet()
	stands := func(i int) bool {
		for _, f := range feet {
			if track.ContactAt(f.Contacts, i) {
				return true
			}
		}
		return false
	}
	some := false
	for _, f := range feet {
		some = some || len(f.Contacts) > 0
	}
	if !some {
		return false
	}
	need, run := airborne.Frames(c.Study.Rate), 0
	for i := max(0, first); i <= min(last, c.Study.N-1); i++ {
		if run++; stands(i) {
			run = 0
		}
		if run >= need {
			return true
		}
	}
	return false
}
