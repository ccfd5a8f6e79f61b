package checks

import (
	_ "embed"
	"fmt"

	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/note"
	"curvelint/parse/scene"
)

//go:embed flat_arc.md
var flatArcDoc string

//go:embed late_arc.md
var lateArcDoc string

// FlatArc finds straight paths where a body swings.
var FlatArc = &Check{
	ID:       "flat-arc",
	Severity: note.Information,
	Group:    Paths,
	Title:    "a straight path where a body swings",
	Doc:      flatArcDoc,
	Settings: []Setting{
		{Name: "depth", Unit: "ratio", Default: 0.02, Min: 0, Max: 1, Doc: "an arc shallower than this share of its chord is flat"},
		{Name: "min_chord", Unit: "figure", Default: 0.1, Min: 0, Max: 100, Doc: "shortest chord"},
		{Name: "min_turn", Unit: "degrees", Default: 20, Min: 0, Max: 360, Doc: "least turning of the part or the limb that carries it"},
	},
	SilentWhenBlocked: true,
	YieldsTo:          []string{"pop"},
	Run:               runFlatArc,
}

// LateArc finds paths that curve only at one end.
var LateArc = &Check{
	ID:       "late-arc",
	Severity: note.Information,
	Group:    Paths,
	Title:    "all the curve at one end",
	Doc:      lateArcDoc,
	Settings: []Setting{
		{Name: "share", Unit: "ratio", Default: 0.8, Min: 0.3, Max: 1, Doc: "share of the turning that lies in the first or last quarter of the path"},
		{Name: "depth", Unit: "ratio", Default: 0.05, Min: 0, Max: 1, Doc: "shallowest arc that is judged"},
		{Name: "min_chord", Unit: "figure", Default: 0.08, Min: 0, Max: 100, Doc: "shortest chord"},
	},
	SilentWhenBlocked: true,
	YieldsTo:          []string{"pop"},
	Run:               runLateArc,
}

// arcFinding is a stroke whose path is at fault.
type arcFinding struct {
	finding
	point  int
	stroke motion.Stroke
	depth  float64
	share  float64 // late-arc: of the turning
	early  bool
}

// eachArc calls do with the strokes of every tracked point that are large
// enough, are judged, and belong to no walk.
func (c *Context) eachArc(fig *motion.Figure, minChord float64, do func(i int, t *motion.Track, k motion.Stroke)) {
	if fig.Locomotion() {
		return
	}
	for i, p := range fig.Points {
		if p.Role == motion.LonePoint || c.Ctx.Err() != nil {
			continue
		}
		t := fig.CarriedTrack(i)
		for _, k := range t.Strokes() {
			if k.Chord >= minChord && k.Last-k.First >= 3 && c.Study.Judged(k.First, k.Last) {
				do(i, t, k)
			}
		}
	}
}

func runFlatArc(c *Context) []note.Note {
	var notes []note.Note
	for _, fig := range c.living() {
		var all []arcFinding
		c.eachArc(fig, c.Setting("min_chord"), func(i int, t *motion.Track, k motion.Stroke) {
			depth := t.ArcDepth(k)
			if depth >= c.Setting("depth") || fig.Points[i].Role == motion.RootPoint || c.carriedAlong(fig, k) || c.alongGravity(fig, t, k) || c.betweenContacts(fig, i, k) ||
				c.swings(fig, fig.Points[i], k.First, k.Last) < c.Setting("min_turn") {
				return
			}
			f := arcFinding{finding: finding{track: t, first: k.First, last: k.Last, size: k.Chord}, point: i, stroke: k, depth: depth}
			f.drivers = c.Study.Drivers(t, k.First, k.Last)
			all = append(all, f)
		})
		for _, f := range oneCause(fig, all, func(f *arcFinding) *finding { return &f.finding }) {
			n := c.arcNote(fig, f)
			n.Message = fmt.Sprintf("%s: %s moves in a straight line over %.0f %% of figure size, arc depth %.3f; lift or drop the breakdown off the line",
				c.span(f.first, f.last), pointName(c, fig, f.point), f.stroke.Chord*100, f.depth)
			notes = append(notes, n)
		}
	}
	return notes
}

func runLateArc(c *Context) []note.Note {
	var notes []note.Note
	for _, fig := range c.living() {
		if !acts(fig) {
			continue // a thing that is carried goes where the hands take it
		}
		var all []arcFinding
		c.eachArc(fig, c.Setting("min_chord"), func(i int, t *motion.Track, k motion.Stroke) {
			depth := t.ArcDepth(k)
			r := fig.Points[i].Role
			if depth < c.Setting("depth") || r == motion.HeelPoint || r == motion.ToePoint || turnsBack(t, k) {
				return
			}
			if r != motion.RootPoint && c.carriedAlong(fig, k) {
				return // the bend is the body's
			}
			near := c.Study.Window(gather)
			if c.jumps(fig, k.First-near, k.Last+near) {
				return // a body turns where it gathers, pushes off and lands; gravity does the rest
			}
			turn := t.Turning(k)
			share, early := turn.Late, false
			if turn.Early > share {
				share, early = turn.Early, true
			}
			if share <= c.Setting("share") {
				return
			}
			f := arcFinding{finding: finding{track: t, first: k.First, last: k.Last, size: k.Length}, point: i, stroke: k, depth: depth, share: share, early: early}
			f.drivers = c.Study.Drivers(t, k.First, k.Last)
			all = append(all, f)
		})
		for _, f := range oneCause(fig, all, func(f *arcFinding) *finding { return &f.finding }) {
			n := c.arcNote(fig, f)
			end := "last"
			if f.early {
				end = "first"
			}
			n.Message = fmt.Sprintf("%s: %s makes %s of its curve in the %s quarter of the path; spread the arc along the move",
				c.span(f.first, f.last), pointName(c, fig, f.point), percent(f.share), end)
			n.Measures = append(n.Measures, note.Measure{Name: "share-of-turning", Value: f.share, Unit: "ratio"})
			notes = append(notes, n)
		}
	}
	return notes
}

// turnsBack reports whether the path goes back on itself within a stroke, as for a
// frame that pops: that is no bend of an arc.
func turnsBack(t *motion.Track, k motion.Stroke) bool {
	for i := k.First + 1; i < k.Last; i++ {
		if r3.Dot(t.Step(i-1), t.Step(i)) < 0 {
			return true
		}
	}
	return false
}

// gather is how many seconds a body takes to gather itself before a jump, and to
// catch itself after: common practice, no source.
const gather = 0.5

// arcNote starts a note about a stroke's path, on the channel that drives it.
func (c *Context) arcNote(fig *motion.Figure, f arcFinding) note.Note {
	ch := f.driver()
	p := c.Study.Scene.Channels[ch].Part
	n := c.draft(p, ch, f.first, f.last)
	n.Weight = c.weigh(fig, f.track.Part, f.size)
	n.Measures = []note.Measure{
		{Name: "arc-depth", Value: f.depth, Unit: "ratio"},
		{Name: "chord", Value: f.stroke.Chord, Unit: "figure"},
	}
	if f.track.Part != p {
		c.relatePart(&n, f.track.Part, f.first, "seen on %s", f.track.Name)
	}
	n.Causes = append(n.Causes, p, f.track.Part)
	return n
}

// pointName is what a person calls a tracked point.
func pointName(c *Context, fig *motion.Figure, i int) string {
	p := fig.Points[i]
	switch p.Role {
	case motion.RootPoint:
		return c.name(p.Part)
	case motion.TipPoint, motion.LonePoint:
		return c.name(p.Part)
	}
	return p.Name
}

// travelShare is the share of a stroke's chord beyond which the root's own way makes
// it a way through the scene: a bird that flies past need not swing.
const travelShare = 0.7

// carriedAlong reports whether the root goes most of the way of a stroke.
func (c *Context) carriedAlong(fig *motion.Figure, k motion.Stroke) bool {
	root := fig.RootTrack()
	if root == nil {
		return false
	}
	return r3.Norm(r3.Sub(root.At(k.Last), root.At(k.First))) > travelShare*k.Chord
}

// alongGravity reports whether the stroke runs up or down within 10 degrees.
func (c *Context) alongGravity(fig *motion.Figure, t *motion.Track, k motion.Stroke) bool {
	d := r3.Sub(t.At(k.Last), t.At(k.First))
	n := r3.Norm(d)
	if n == 0 {
		return true
	}
	up := r3.Dot(d, fig.Up()) / n
	return up*up > 0.9698 // cos^2 of 10 degrees
}

// betweenContacts reports whether a foot is set down at one end of the stroke, or a
// hand at both: then its path goes where it must.
func (c *Context) betweenContacts(fig *motion.Figure, i int, k motion.Stroke) bool {
	w := c.Study.Window(2.0 / 24)
	touches := func(list []motion.Contact, at int) bool {
		for f := at - w; f <= at+w; f++ {
			if motion.ContactAt(list, f) {
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
func (c *Context) swings(fig *motion.Figure, p motion.Point, a, b int) float64 {
	turn := c.limbTurn(fig, p.Part, a, b)
	if p.Role != motion.HeadPoint || p.Offset == (r3.Vec{}) {
		return turn
	}
	most := 0.0
	locals := c.Study.Locals(p.Part, a, b+1)
	from := locals[0].Vector(p.Offset)
	for i := range locals {
		most = max(most, motion.Angle(from, locals[i].Vector(p.Offset)))
	}
	return min(turn, most)
}

// limbTurn is the largest turn, in degrees, that the part or a part of its limb
// above it makes against its parent between two frames.
func (c *Context) limbTurn(fig *motion.Figure, p scene.PartID, a, b int) float64 {
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
