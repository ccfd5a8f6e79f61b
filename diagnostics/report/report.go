// Package report writes notes for people and programs: as text, JSON and SARIF.
// Here byte ranges become lines and columns.
package report

import (
	"fmt"
	"io"

	"curvelint/diagnostics"
	"curvelint/diagnostics/config"
	"curvelint/diagnostics/note"
	"curvelint/diagnostics/words"
	"curvelint/parse/scene"
	"curvelint/parse/text"
)

// Place is a position in a file: Line and Column count from 1, columns in bytes
// of UTF-8.
type Place struct {
	Line   int `json:"line"`
	Column int `json:"column"`

	characters int // the column in code points, from 1
}

// File is what one file was found to be. It holds no bytes of the file, so that
// a long run needs little memory.
type File struct {
	Path   string  `json:"path"`
	Format string  `json:"format"`
	FPS    float64 `json:"fps"`
	// Frames are the first and last frame, nil for a file without animation.
	Frames  *[2]float64 `json:"frames"`
	Figures int         `json:"figures"`
	Parts   int         `json:"parts"`
	Notes   []Note      `json:"notes"`
}

// Note is a note.Note whose places are lines and columns. End is one past the
// last byte.
type Note struct {
	Check    string  `json:"check"`
	Severity string  `json:"severity"`
	Weight   float64 `json:"weight"`
	Path     string  `json:"path"`
	Part     string  `json:"part"`
	// Frames is nil for a note that is about no frames.
	Frames   *[2]float64    `json:"frames"`
	Start    Place          `json:"start"`
	End      Place          `json:"end"`
	Message  string         `json:"message"`
	Measures []note.Measure `json:"measures"`
	Related  []Related      `json:"related"`
	Tags     []string       `json:"tags,omitempty"`

	severity note.Severity
}

// Related is another place that a note speaks of.
type Related struct {
	Path    string      `json:"path"`
	Part    string      `json:"part"`
	Frames  *[2]float64 `json:"frames"`
	Start   Place       `json:"start"`
	End     Place       `json:"end"`
	Message string      `json:"message"`
}

// Writer writes the files of one run, in the order in which they are given.
// Close ends the report; it does not close what it is written to.
type Writer interface {
	File(f *File) error
	Close() error
}

// Options say how a report is written.
type Options struct {
	// Color makes text colourful. Other formats ignore it.
	Color bool
	// Version is that of the program, for formats that name it.
	Version string
}

// Formats are the names that New knows.
var Formats = []string{"text", "json", "sarif"}

// New returns a writer of the given format.
func New(format string, w io.Writer, o Options) (Writer, error) {
	switch format {
	case "text":
		return &textWriter{w: w, color: o.Color}, nil
	case "json":
		return &jsonWriter{w: w}, nil
	case "sarif":
		return newSARIF(w, o.Version), nil
	}
	return nil, fmt.Errorf("unknown format %q; expected one of %q", format, Formats)
}

// OfResult returns the report on a scene's file; notes are those to show of r's.
func OfResult(r *diagnostics.Result, notes []note.Note) *File {
	sc := r.Study.Scene
	f := &File{Format: sc.Format, FPS: sc.Rate, Frames: frames(sc.First, sc.Last), Parts: len(sc.Parts), Figures: len(r.Study.Figures())}
	if len(sc.Files) > 0 {
		f.Path = sc.Files[0].Path
	}
	f.Notes = placed(sc.Files, notes)
	return f
}

// OfConfig returns the report on a configuration; notes are those of
// diagnostics.ConfigNotes.
func OfConfig(c *config.Config, notes []note.Note) *File {
	files := []*scene.File{{Path: c.Path, Text: c.Text}}
	return &File{Path: c.Path, Format: "config", Notes: placed(files, notes)}
}

// Placed returns notes of a scene with their lines and columns.
func Placed(sc *scene.Scene, notes []note.Note) []Note { return placed(sc.Files, notes) }

// placed gives notes their lines and columns.
func placed(files []*scene.File, notes []note.Note) []Note {
	indexes := make([]*text.Index, len(files))
	place := func(s scene.Span) (path string, start, end Place) {
		if int(s.File) >= len(files) {
			return "", Place{1, 1, 1}, Place{1, 1, 1}
		}
		if indexes[s.File] == nil {
			indexes[s.File] = text.NewIndex(files[s.File].Text)
		}
		x := indexes[s.File]
		return files[s.File].Path, placeAt(x, int(s.Start)), placeAt(x, int(s.End))
	}
	out := make([]Note, len(notes))
	for i := range notes {
		n := &notes[i]
		k := &out[i]
		*k = Note{
			Check: n.Check, Severity: n.Severity.String(), severity: n.Severity, Weight: words.Stable(n.Weight),
			Part: n.Part, Frames: frames(n.First, n.Last), Message: n.Message,
			Measures: make([]note.Measure, len(n.Measures)), Related: make([]Related, len(n.Related)),
		}
		k.Path, k.Start, k.End = place(n.Span)
		for j, m := range n.Measures {
			k.Measures[j] = note.Measure{Name: m.Name, Value: words.Stable(m.Value), Unit: m.Unit}
		}
		for j, r := range n.Related {
			k.Related[j] = Related{Part: r.Part, Frames: frames(r.First, r.Last), Message: r.Message}
			k.Related[j].Path, k.Related[j].Start, k.Related[j].End = place(r.Span)
		}
		for _, tag := range n.Tags {
			if tag == note.Unnecessary {
				k.Tags = append(k.Tags, "unnecessary")
			}
		}
	}
	return out
}

func placeAt(x *text.Index, offset int) Place {
	// The nearest place inside is right for an offset outside the text.
	bytes, _ := x.Position(offset, text.UTF8)
	runes, _ := x.Position(offset, text.UTF32)
	return Place{bytes.Line + 1, bytes.Column + 1, runes.Column + 1}
}

func frames(first, last float64) *[2]float64 {
	if !(first <= last) {
		return nil
	}
	return &[2]float64{first, last}
}
