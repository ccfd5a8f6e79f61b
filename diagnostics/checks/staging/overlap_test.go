package staging

import (
	"math"
	"testing"

	"curvelint/diagnostics/note"
	"curvelint/parse/scene"
)

// Notes on one part that share a frame are one.
func TestFirstOfOverlapping(t *testing.T) {
	at := func(part scene.PartID, first, last float64) note.Note {
		return note.Note{PartID: part, First: first, Last: last}
	}
	got := firstOfOverlapping([]note.Note{at(1, 10, 20), at(1, 20, 30), at(1, 21, 30), at(2, 10, 20), at(1, 5, 9), at(1, 9, 10)})
	want := []note.Note{at(1, 10, 20), at(1, 21, 30), at(2, 10, 20), at(1, 5, 9)}
	if len(got) != len(want) {
		t.Fatalf("%d notes are kept, want %d", len(got), len(want))
	}
	for i := range got {
		if got[i].PartID != want[i].PartID || got[i].First != want[i].First {
			t.Errorf("note %d: %v, want %v", i, got[i], want[i])
		}
	}
}

// Distances from segments, by Pythagoras.
func TestToSegment(t *testing.T) {
	for _, c := range []struct{ px, py, ax, ay, bx, by, want float64 }{
		{0, 3, -5, 0, 5, 0, 3},         // beside it
		{9, 3, -5, 0, 5, 0, 5},         // past its second end: 3-4-5
		{-8, -4, -5, 0, 5, 0, 5},       // past its first end
		{4, 5, 1, 1, 1, 1, 5},          // an end that is the other one
		{2, 0, 0, 0, 2, 2, math.Sqrt2}, // a slanted one
	} {
		if got := toSegment(c.px, c.py, c.ax, c.ay, c.bx, c.by); math.Abs(got-c.want) > 1e-12 {
			t.Errorf("(%g, %g) from (%g, %g)-(%g, %g): %g, want %g", c.px, c.py, c.ax, c.ay, c.bx, c.by, got, c.want)
		}
	}
}
