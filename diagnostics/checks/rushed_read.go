package checks

import (
	_ "embed"
	"fmt"

	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/note"
)

//go:embed rushed_read.md
var rushedReadDoc string

// RushedRead finds expressions and poses that are gone before they are read.
var RushedRead = &Check{
	ID:       "rushed-read",
	Severity: note.Information,
	Group:    Timing,
	Title:    "an expression or pose too short to read",
	Doc:      rushedReadDoc,
	Settings: []Setting{
		{Name: "shortest", Unit: "s", Default: 0.06, Min: 0, Max: 1, Doc: "a shorter rest is no pose"},
		{Name: "longest", Unit: "s", Default: 0.25, Min: 0, Max: 2, Doc: "a longer one can be read"},
		{Name: "share", Unit: "range", Default: 0.3, Min: 0.05, Max: 1, Doc: "least size of both strokes beside it, as a share of the clip's range"},
	},
	SilentWhenBlocked: true,
	Run:               runRushedRead,
}

func runRushedRead(c *Context) []note.Note {
	var notes []note.Note
	for _, fig := range c.living() {
		for _, g := range fig.Groups {
			if c.Ctx.Err() != nil {
				return nil
			}
			if b := g.Label.Body; b == motion.Brows || b == motion.Head {
				notes = append(notes, c.rushed(fig, g)...)
			}
		}
	}
	return notes
}

// rushed looks at the pauses between the strokes of the member that moves most.
func (c *Context) rushed(fig *motion.Figure, g *motion.Group) []note.Note {
	_, t := g.EventsIn(0, c.Study.N-1)
	if t == nil {
		return nil
	}
	strokes := t.Strokes()
	span := trackRange(t)
	var notes []note.Note
	for i := 1; i < len(strokes); i++ {
		a, b := strokes[i-1], strokes[i]
		pause := float64(b.First-a.Last) / c.Study.Rate
		if !a.ToRest || !b.FromRest || pause < c.Setting("shortest") || pause > c.Setting("longest") ||
			a.Chord < c.Setting("share")*span || b.Chord < c.Setting("share")*span || !c.Study.Judged(a.Last, b.First) {
			continue
		}
		// A nod or a shake turns round: the second stroke takes the first back.
		if r3.Dot(r3.Sub(t.At(a.Last), t.At(a.First)), r3.Sub(t.At(b.Last), t.At(b.First))) < -0.5*a.Chord*b.Chord && g.Label.Body == motion.Head {
			continue
		}
		n := c.draft(t.Part, c.driver(t, a.Last), a.Last, b.First)
		n.Message = fmt.Sprintf("%s: the %s pose is held for %s only; hold it longer or leave it out",
			c.span(a.Last, b.First), g.Name, frames(b.First-a.Last))
		n.Weight = c.weigh(fig, t.Part, likeFigures(t.Quality, min(a.Length, b.Length)))
		n.Measures = []note.Measure{{Name: "hold", Value: float64(b.First - a.Last), Unit: "frames"}}
		n.Causes = append(n.Causes, t.Part)
		notes = append(notes, n)
	}
	return notes
}

// trackRange is the diagonal of the box around a track's path.
func trackRange(t *motion.Track) float64 {
	if t.Len() == 0 {
		return 0
	}
	lo, hi := t.At(0), t.At(0)
	for i := range t.Len() {
		p := t.At(i)
		lo = r3.Vec{X: min(lo.X, p.X), Y: min(lo.Y, p.Y), Z: min(lo.Z, p.Z)}
		hi = r3.Vec{X: max(hi.X, p.X), Y: max(hi.Y, p.Y), Z: max(hi.Z, p.Z)}
	}
	return r3.Norm(r3.Sub(hi, lo))
}
