package diagnostics_test

import (
	"slices"
	"testing"

	"curvelint/cmd/lab/designed"
	"curvelint/cmd/lab/designed/write"
	"curvelint/diagnostics/note"
)

// sitting is an invented deckhand on a rail who swings the shins, the right one
// late seconds after the left one.
func sitting(late float64) *designed.Shot {
	s := designed.NewShot("rail", 5)
	b := designed.NewBody(s, -1, "Mate", designed.Snake, 1)
	for axis := range 3 {
		s.Shift(b.Hips, axis, designed.Drift(designed.Seed(axis+1), 0.6))
	}
	s.Ease(b.Chest, designed.Y, designed.Drift(7, 2))
	s.Ease(b.Head, designed.Y, designed.Drift(8, 2))
	for side := range 2 {
		s.Ease(b.Thigh[side], designed.X, designed.Still(-75))
		s.Ease(b.Shin[side], designed.X, designed.Still(70))
		for _, at := range []float64{1, 3} {
			at += late * float64(side)
			s.Ease(b.Shin[side], designed.X, designed.Swell(at, at+1.2, -40))
			s.Ease(b.Thigh[side], designed.X, designed.Swell(at, at+1.2, -12))
		}
	}
	return s
}

// TestSitting: who sits does not balance on the feet and does not fly when they
// swing.
func TestSitting(t *testing.T) {
	for _, late := range []float64{0, 0.5} {
		_, notes := judge(t, writeShot(t, sitting(late), 24, "rail.usda", write.USDA))
		has := func(check string) bool {
			return slices.ContainsFunc(notes, func(n note.Note) bool { return n.Check == check })
		}
		if has("off-balance") || has("free-fall") {
			t.Errorf("late %g: feet that hang carry nobody: %v", late, notes)
		}
	}
}
