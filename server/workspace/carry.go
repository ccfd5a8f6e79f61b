package workspace

import (
	"slices"

	"curvelint/diagnostics/note"
	"curvelint/parse/scene"
)

// Carry returns the notes of a study where they are in a newer reading of the
// same text. A place that was cut away is where it would be; places in files
// that the newer reading has not read the same way are dropped, and so are
// notes that have nothing else.
func Carry(shot *Shot, r *Read) []note.Note {
	c := carrier{from: shot.Scene, to: r.Scene, edit: difference(shot.Scene.Files[0].Text, r.Scene.Files[0].Text)}
	var notes []note.Note
	for _, n := range shot.Notes {
		at, ok := c.span(n.Span)
		if !ok {
			continue
		}
		n.Span = at
		related := n.Related
		n.Related = nil
		for _, place := range related {
			if place.Span, ok = c.span(place.Span); ok {
				n.Related = append(n.Related, place)
			}
		}
		notes = append(notes, n)
	}
	return notes
}

// carrier moves places from one reading to another.
type carrier struct {
	from, to *scene.Scene
	edit     scene.Edit // of file 0
}

func (c *carrier) span(s scene.Span) (scene.Span, bool) {
	if s.File == 0 {
		s.Start, s.End = c.offset(s.Start), c.offset(s.End)
		return s, true
	}
	old := c.from.Files[s.File]
	i := slices.IndexFunc(c.to.Files, func(f *scene.File) bool {
		return f.Path == old.Path && len(f.Text) == len(old.Text)
	})
	s.File = scene.FileID(i)
	return s, i > 0
}

// offset returns where a byte of file 0 is now.
func (c *carrier) offset(at uint32) uint32 {
	switch i := int(at); {
	case i <= c.edit.Start:
		return at
	case i >= c.edit.End:
		return uint32(i + len(c.edit.New) - (c.edit.End - c.edit.Start))
	}
	return uint32(min(int(at), c.edit.Start+len(c.edit.New)))
}
