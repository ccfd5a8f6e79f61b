package page

import (
	"path"
	"path/filepath"
	"strings"

	"curvelint/diagnostics/note"
	"curvelint/diagnostics/passes"
	"curvelint/diagnostics/passes/write"
	"curvelint/diagnostics/report"
	"curvelint/diagnostics/words"
)

// changes are what became of the earlier pass.
type changes struct {
	Name  string   `json:"name"` // that of its file
	Lines []string `json:"lines"`
	Items []change `json:"items"`
	// Fixed are the notes of the earlier pass that are gone.
	Fixed []string `json:"fixed"`
}

// change is one thing that changed, in display frames of the later pass.
type change struct {
	Text   string      `json:"text"` // without its frames
	Frames *[2]float64 `json:"frames"`
	aimed
}

// mostMoves is how many moves of one part are told, mostChanges how many changes;
// curvelint compare tells the rest.
const (
	mostMoves   = 3
	mostChanges = 24
)

// newChanges lists the changes: beats, then parts, what the audience sees most
// first, then who leads, then holds.
func newChanges(c *stage, k *passes.Comparison) *changes {
	_, lines := write.Heading(k)
	out := &changes{Lines: lines, Items: []change{}, Fixed: []string{}}
	for i := range out.Lines {
		out.Lines[i] = report.Visible(out.Lines[i])
	}
	if files := k.Before.Scene.Files; len(files) > 0 {
		out.Name = report.Visible(filepath.Base(files[0].Path))
	}
	add := func(part, text string, first, last float64) {
		if len(out.Items) < mostChanges {
			// The page writes the frames before the text.
			text = strings.Replace(text, words.Between(first, last), "", 1)
			text = report.Visible(strings.ReplaceAll(strings.TrimSpace(text), " :", ":"))
			out.Items = append(out.Items, change{text, &[2]float64{first, last}, c.aim(part, " "+text+" ")})
		}
	}
	for i := range k.Beats {
		b := &k.Beats[i]
		add(b.Figure, words.List(b.Groups)+": "+b.String(), b.First, b.Last)
	}
	for i := range k.Parts {
		p := &k.Parts[i]
		for j := range p.Moves[:min(mostMoves, len(p.Moves))] {
			m := &p.Moves[j]
			add(p.Path, p.Name+" "+m.String(), m.First, m.Last)
		}
	}
	for i := range k.Orders {
		add(k.Orders[i].Figure, k.Orders[i].String(), k.Orders[i].First, k.Orders[i].Last)
	}
	for i := range k.Holds {
		h := &k.Holds[i]
		add(h.Figure, path.Base(h.Figure)+" "+h.String(), h.First, h.Last)
	}
	out.Fixed = messages(k.Notes.Fixed)
	return out
}

func messages(notes []note.Note) []string {
	out := make([]string, len(notes))
	for i := range notes {
		out[i] = report.Visible(notes[i].Message)
	}
	return out
}
