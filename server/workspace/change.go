package workspace

import (
	"curvelint/parse/scene"
	"curvelint/parse/text"
)

// Change is one change of a text: a range replaced, or the whole.
type Change struct {
	Whole      bool
	Start, End text.Position
	Text       string
}

// offsets returns the bytes that a change replaces.
func (c *Change) offsets(index *text.Index, enc text.Encoding) (start, end int) {
	start, _ = index.Offset(c.Start, enc)
	end, _ = index.Offset(c.End, enc)
	return min(start, end), max(start, end)
}

// Apply returns the index of a text after changes that follow one another,
// their positions counted in enc. Positions outside the text mean the nearest
// place inside, and a range that ends before it starts is read the other way
// round, as editors themselves do.
//
// Changes that come from the end of the text to its start, as those of several
// cursors do, are made in one go.
func Apply(index *text.Index, enc text.Encoding, changes []Change) *text.Index {
	var batch []scene.Edit // from the end to the start, offsets of index
	for i := range changes {
		c := &changes[i]
		if c.Whole {
			index, batch = text.NewIndex([]byte(c.Text)), nil
			continue
		}
		if len(batch) > 0 && !above(c.End, c.Start, index, batch) {
			index, batch = flush(index, batch), nil
		}
		start, end := c.offsets(index, enc)
		batch = append(batch, scene.Edit{Start: start, End: end, New: []byte(c.Text)})
	}
	return flush(index, batch)
}

// above reports whether a change lies in lines above all of a batch, where the
// text is as it was and stays so.
func above(a, b text.Position, index *text.Index, batch []scene.Edit) bool {
	line := index.Line(batch[len(batch)-1].Start)
	return a.Line < line-1 && b.Line < line-1
}

// flush makes the edits of a batch.
func flush(index *text.Index, batch []scene.Edit) *text.Index {
	switch len(batch) {
	case 0:
		return index
	case 1:
		e := batch[0]
		if next, err := index.Update(e.Start, e.End, e.New); err == nil {
			return next
		}
	}
	src := index.Text()
	size := len(src)
	for _, e := range batch {
		size += len(e.New) - (e.End - e.Start)
	}
	out := make([]byte, 0, size)
	at := 0
	for i := len(batch) - 1; i >= 0; i-- {
		e := batch[i]
		out = append(append(out, src[at:e.Start]...), e.New...)
		at = e.End
	}
	return text.NewIndex(append(out, src[at:]...))
}
