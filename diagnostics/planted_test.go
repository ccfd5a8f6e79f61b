package diagnostics_test

import (
	"math"
	"slices"
	"testing"

	"curvelint/cmd/lab/designed"
	"curvelint/cmd/lab/designed/write"
	"curvelint/diagnostics/checks"
	"curvelint/diagnostics/note"
)

// The earlier pass of the demo: every planted flaw of a check that exists is
// found at its part and frames, and nothing else is a warning.
func TestPlantedFlaws(t *testing.T) {
	shot := designed.Deckhand(designed.SplinePass)
	take := shot.Take(24)
	_, notes := judge(t, writeShot(t, shot, 24, "deckhand_spline.usda", write.USDA))
	matched := make([]bool, len(notes))
	for _, l := range shot.Labels {
		if checks.Find(l.Check) == nil || !l.In("usda") {
			continue
		}
		first, last := l.Frames(take)
		found := false
		for i, n := range notes {
			if n.Check == l.Check && (n.Part == l.Part || slices.Contains(l.Also, n.Part)) && overlaps(n, first, last) {
				matched[i], found = true, true
			}
		}
		if !found {
			t.Errorf("%s on %s, frames %d-%d, was not found", l.Check, l.Part, first, last)
		}
	}
	for i, n := range notes {
		if len([]rune(n.Message)) > 140 {
			t.Errorf("a message of more than 140 characters: %s", n.Message)
		}
		if !matched[i] && n.Severity <= note.Warning {
			t.Errorf("a warning nobody planted: %s %s: %s", n.Check, n.Part, n.Message)
		}
	}
}

// overlaps reports whether a note's frames and the planted ones are the same
// stretch: they share most of the shorter one, or are a frame apart.
func overlaps(n note.Note, first, last int) bool {
	common := math.Min(n.Last, float64(last)) - math.Max(n.First, float64(first))
	short := math.Min(n.Last-n.First, float64(last-first))
	return common >= 0.5*short && common >= -1
}
