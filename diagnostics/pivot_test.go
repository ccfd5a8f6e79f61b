package diagnostics_test

import (
	"slices"
	"testing"

	"curvelint/cmd/lab/designed"
	"curvelint/cmd/lab/designed/write"
	"curvelint/diagnostics/note"
)

// TestSwingOfOneJoint: a stiff arm that its shoulder swings is a circle about one
// joint; the same circle made by chest and shoulder together is not.
func TestSwingOfOneJoint(t *testing.T) {
	for _, tt := range []struct {
		name            string
		chest, shoulder float64
		want            bool
	}{
		{"shoulder alone", 0, -62, true},
		{"chest and shoulder", -34, -28, false},
	} {
		s := designed.NewShot("swing", 3)
		b := designed.NewBody(s, -1, "Mate", designed.Snake, 1)
		s.Ease(b.Chest, designed.X, designed.Stroke(designed.MinimumJerk, 1, 1.6, tt.chest))
		s.Ease(b.Upper[designed.Left], designed.X, designed.Stroke(designed.MinimumJerk, 1, 1.6, tt.shoulder))
		s.Ease(b.Head, designed.Y, designed.Drift(3, 2))
		_, notes := judge(t, writeShot(t, s, 24, "swing.usda", write.USDA))
		if got := slices.ContainsFunc(notes, func(n note.Note) bool { return n.Check == "pivot-arc" }); got != tt.want {
			t.Errorf("%s: a note of pivot-arc: %t, want %t", tt.name, got, tt.want)
		}
	}
}
