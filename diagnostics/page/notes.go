package page

import (
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/note"
	"curvelint/diagnostics/report"
	"curvelint/parse/scene"
)

// listed is a note in the list.
type listed struct {
	Check    string      `json:"check"`
	Severity string      `json:"severity"`
	Message  string      `json:"message"`
	Part     string      `json:"part"`
	Frames   *[2]float64 `json:"frames"` // nil when it is about none
	Place    string      `json:"place"`  // file:line:column
	// New is true for a note that the earlier pass has not.
	New bool `json:"new"`
	aimed
}

// aimed is what a note or a change is about, among what is drawn.
type aimed struct {
	// Column is that of the part, -1 for none; Track that of what its path is
	// drawn of.
	Column int `json:"column"`
	Track  int `json:"track"`
	// Whole is true when it is about a whole figure.
	Whole bool `json:"whole"`
}

var nowhere = aimed{-1, -1, false}

func listNotes(notes []report.Note) []listed {
	out := make([]listed, len(notes))
	for i := range notes {
		n := &notes[i]
		out[i] = listed{Check: n.Check, Severity: n.Severity, Message: report.Visible(n.Message), Part: report.Visible(n.Part),
			Frames: n.Frames, Place: report.Visible(fmt.Sprintf("%s:%d:%d", filepath.Base(n.Path), n.Start.Line, n.Start.Column)), aimed: nowhere}
	}
	return out
}

// aim finds what each note is about.
func (f *form) aim(c *stage, notes []note.Note) {
	for i := range notes {
		f.Notes[i].aimed = c.aim(notes[i].Part, notes[i].Message)
	}
}

// markNew marks the notes that are among fresh.
func (f *form) markNew(notes, fresh []note.Note) {
	for i := range notes {
		f.Notes[i].New = slices.ContainsFunc(fresh, func(n note.Note) bool {
			return n.Check == notes[i].Check && n.Span == notes[i].Span && n.First == notes[i].First && n.Message == notes[i].Message
		})
	}
}

// aim finds what is drawn of a part, by its path, and whose path shows what a
// text says of it: a tracked point on the part or below it that the text names,
// else the point that the part carries, else the part's own origin.
func (c *stage) aim(path, text string) aimed {
	s := c.study
	p := s.Scene.Find(path)
	for p != scene.NoPart { // a weight is seen on what it shapes
		if _, ok := c.column[p]; ok {
			break
		}
		p = s.Scene.Parts[p].Parent
	}
	if p == scene.NoPart {
		return nowhere
	}
	fig := s.FigureOf(p)
	a := aimed{Column: c.column[p], Track: c.column[p], Whole: p == fig.Root && c.isWhole(fig, text)}
	if i := c.named(fig, p, text); i >= 0 {
		a.Track = c.pointColumn(fig, i)
		a.Whole = false
	} else if i := fig.PointOn(p); i >= 0 {
		a.Track = c.pointColumn(fig, i)
	}
	return a
}

// isWhole reports whether what a text says of a figure's root is about all of it:
// the root only places it, or the text says so.
func (c *stage) isWhole(fig *motion.Figure, text string) bool {
	return len(fig.Parts) > 1 && (strings.Contains(text, "whole figure") || c.stands(fig, fig.Root, c.below()))
}

// named returns the index of the longest-named point on or below a part that a
// text names, -1 for none.
func (c *stage) named(fig *motion.Figure, p scene.PartID, text string) int {
	found := -1
	for i := range fig.Points {
		pt := &fig.Points[i]
		if pt.Part != p && !c.study.IsAncestor(p, pt.Part) || !strings.Contains(text, " "+pt.Name+" ") || c.pointColumn(fig, i) < 0 {
			continue
		}
		if found < 0 || len(pt.Name) > len(fig.Points[found].Name) {
			found = i
		}
	}
	return found
}

// pointColumn returns the column of a figure's point, -1 when it is not drawn.
func (c *stage) pointColumn(fig *motion.Figure, i int) int {
	for j, e := range c.ends {
		if c.figures[e.figure] == fig && e.point == i {
			return len(c.parts) + j
		}
	}
	if at, ok := c.column[fig.Points[i].Part]; ok {
		return at
	}
	return -1
}
