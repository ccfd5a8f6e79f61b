package motion_test

import (
	"bytes"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/cmd/lab/designed"
	"curvelint/cmd/lab/designed/write"
	"curvelint/diagnostics/motion"
	"curvelint/parse"
	"curvelint/parse/scene"
)

// twoActs is a body that turns its head and its chest at 1 and at 4 seconds,
// below a deck that rolls on all the time (nested) or beside it, going along.
func twoActs(nested bool) *designed.Shot {
	s := designed.NewShot("acts", 6)
	deck := s.Add(-1, designed.Part{Name: "Deck"})
	heave, roll := designed.Wave(9, 3.1, 0), designed.Wave(4, 2.7, 0.3)
	s.Shift(deck, designed.Y, heave)
	s.Ease(deck, designed.Z, roll)
	parent := deck
	if !nested {
		parent = -1
	}
	b := designed.NewBody(s, parent, "Mate", designed.Snake, 1)
	if !nested {
		s.Shift(b.Root, designed.Y, heave)
		s.Ease(b.Root, designed.Z, roll)
	}
	for _, at := range []float64{1, 4} {
		s.Ease(b.Head, designed.Y, designed.Stroke(designed.MinimumJerk, at, at+0.5, 20))
		s.Ease(b.Chest, designed.Y, designed.Stroke(designed.MinimumJerk, at+0.1, at+0.7, 10))
	}
	s.Parts[deck].Offset = r3.Vec{Z: -1}
	return s
}

// A deck that rolls on and on joins no beats of the body it carries, whether the
// body hangs below it or is told to go along with it.
func TestBeatsOfACarriedFigure(t *testing.T) {
	for _, nested := range []bool{true, false} {
		var text bytes.Buffer
		if err := write.USDA(&text, twoActs(nested).Take(24)); err != nil {
			t.Fatal(err)
		}
		sc := parse.Parse("acts.usda", text.Bytes(), scene.ReadOptions{})
		var o motion.Options
		if !nested {
			o.Parts = []motion.PartRule{{Match: func(p string) bool { return p == "/Mate" || len(p) > 6 && p[:6] == "/Mate/" }, Carrier: "/Deck"}}
		}
		s := motion.New(sc, o)
		var beats []motion.FigureBeat
		for _, fig := range s.Figures() {
			if fig.Group("head") != nil {
				beats = fig.Beats()
			}
		}
		if len(beats) != 2 {
			t.Errorf("nested %v: %d beats, want 2: %+v", nested, len(beats), beats)
		}
	}
}
