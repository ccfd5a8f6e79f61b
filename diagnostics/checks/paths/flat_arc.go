package paths

import (
	_ "embed"
	"fmt"

	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/diagnostics/checks/kit"
	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/motion/body"
	"curvelint/diagnostics/motion/track"
	"curvelint/diagnostics/motion/vec"
	"curvelint/diagnostics/note"
	"curvelint/diagnostics/words"
	"curvelint/parse/scene"
)

//go:embed flat_arc.md
var flatArcDoc string

// The settings of flat-arc.
var (
	flatArcDepth    = kit.Number{Name: "depth", Unit: "ratio", Default: 0.02, Min: 0, Max: 1, Doc: "an arc shallower than this share of its chord is flat"}
	flatArcMinChord = kit.Number{Name: "min_chord", Unit: "figure", Default: 0.1, Min: 0, Max: 100, Doc: "shortest chord"}
	flatArcMinTurn  = kit.Number{Name: "min_turn", Unit: "degrees", Default: 20, Min: 0, Max: 360, Doc: "least turning of the part or the limb that carries it"}
)

// The limits of flat-arc.
var (
	flatArcPlumb = kit.Limit{Name: "plumb", Value: 0.9698, Unit: "ratio",
		Doc:    "a stroke whose direction has a larger squared cosine with the vertical runs up or down: 10 degrees",
		Source: "common practice, no source"}
	flatArcAtContact = kit.Limit{Name: "at_contact", Value: 2.0 / 24, Unit: "s",
		Doc:    "a stroke that ends so near to a contact goes where it must",
		Source: "common practice, no source"}
)

// FlatArc finds straight paths where a body swings.
var FlatArc = &kit.Check{
	ID:                "flat-arc",
	Severity:          note.Information,
	Group:             kit.Paths,
	Title:             "a straight path where a body swings",
	Doc:               flatArcDoc,
	Settings:          []kit.Setting{&flatArcDepth, &flatArcMinChord, &flatArcMinTurn},
	Limits:            []*kit.Limit{&flatArcPlumb, &flatArcAtContact, &carriedShare, &fewestSpacings},
	SilentWhenBlocked: true,
	YieldsTo:          []string{"pop"},
	Run:               runFlatArc,
}

func runFlatArc(c *kit.Context) []note.Note {
	var notes []note.Note
	for _, fig := range c.Living() {
		var all []arcFinding
		eachArc(c, fig, flatArcMinChord.In(c), func(i int, t *track.Track, k track.Stroke) {
			depth := t.ArcDepth(k)
			if depth >= flatArcDepth.In(c) || fig.Points[i].Role == body.RootPoint || carriedAlong(c, fig, k) || alongGravity(c, fig, t, k) || betweenContacts(c, fig, i, k) ||
				swings(c, fig, fig.Points[i], k.First, k.Last) < flatArcMinTurn.In(c) {
				return
			}
			f := arcFinding{Candidate: kit.Candidate{Track: t, First: k.First, Last: k.Last, Size: k.Chord}, point: i, stroke: k, depth: depth}
			f.Drivers = c.Study.Drivers(t, k.First, k.Last)
			all = append(all, f)
		})
		for _, f := range kit.OneCause(fig, all, func(f *arcFinding) *kit.Candidate { return &f.Candidate }) {
			n := arcNote(c, fig, f)
			n.Message = fmt.Sprintf("%s: %s moves in a straight line over %s, arc depth %.3f; lift or drop the breakdown off the line",
				c.Span(f.First, f.Last), kit.PointName(c, fig, f.point), words.Length(f.stroke.Chord), f.depth)
			notes = append(notes, n)
		}
	}
	return notes
}

// alongGravity reports whether the stroke runs up or down within 10 degrees.
func alongGravity(c *kit.Context, fig *motion.Figure, t *track.Track, k track.Stroke) bool {
	d := r3.Sub(t.At(k.Last), t.At(k.First))
	n := r3.Norm(d)
	if n == 0 {
		return true
	}
	up := r3.Dot(d, fig.Up()) / n
	return up*up > flatArcPlumb.Value
}

// betweenContacts reports whether a foot is set down at one end of the stroke, or a
// hand at both: then its path goes where it must.
func betweenContacts(c *kit.Context, fig *motion.Figure, i int, k track.Stroke) bool {
	w := flatArcAtContact.Frames(c.Study.Rate)
	touches := func(list []track.Contact, at int) bool {
		for f := at - w; f <= at+w; f++ {
			if track.ContactAt(list, f) {
				return true
			}
		}
		return false
	}
	for _, foot := range fig.Feet() {
		for _, p := range foot.Points {
			if p == i {
				return touches(foot.Contacts, k.First) || touches(foot.Contacts, k.Last)
			}
		}
	}
	list := fig.HandContacts(i)
	return touches(list, k.First) && touches(list, k.Last)
}

// swings is how far, in degrees, the limb turns that carries a point: see limbTurn. Of
// a head only what moves its point counts: turned about itself it goes nowhere.
func swings(c *kit.Context, fig *motion.Figure, p body.Point, a, b int) float64 {
	turn := limbTurn(c, fig, p.Part, a, b)
	if p.Role != body.HeadPoint || p.Offset == (r3.Vec{}) {
		return turn
	}
	most := 0.0
	locals := c.Study.Locals(p.Part, a, b+1)
	from := locals[0].Vector(p.Offset)
	for i := range locals {
		most = max(most, vec.Angle(from, locals[i].Vector(p.Offset)))
	}
	return min(turn, most)
}

// limbTurn is the largest turn, in degrees, that the part or a part of its limb
// above it makes against its parent between two frames.
func limbTurn(c *kit.Context, fig *motion.Figure, p scene.PartID, a, b int) float64 {
	s := c.Study
	best := 0.0
	limb := fig.GroupOf(p)
	for q := p; q != scene.NoPart; q = s.Scene.Parts[q].Parent {
		if g := fig.GroupOf(q); q != p && (g == nil || g != limb) {
			break
		}
		if t := s.RotationTrack(q); t != nil {
			best = max(best, t.PathLength(a, b))
		}
	}
	return best
}
