package diagnostics_test

import (
	"bytes"
	"slices"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/cmd/lab/designed"
	"curvelint/cmd/lab/designed/write"
	"curvelint/diagnostics"
	"curvelint/diagnostics/config"
	"curvelint/diagnostics/note"
	"curvelint/parse"
	"curvelint/parse/scene"
)

// bosun is the ferry's bosun, who stands on both feet for four seconds; invented
// data.
type bosun struct {
	*designed.Shot
	*designed.Body
}

func newBosun() bosun {
	s := designed.NewShot("bosun", 4)
	b := bosun{s, designed.NewBody(s, -1, "Bosun", designed.Snake, 1)}
	s.Shift(b.Hips, designed.Y, designed.Still(-3))
	for i, out := range [2]float64{1, -1} {
		b.PlantFoot(s, i, b.Root, designed.Place3(r3.Vec{X: 12 * out, Y: 9, Z: 1}, nil, nil, nil), designed.Turn3(nil, designed.Still(8*out), nil))
		s.Ease(b.Upper[i], designed.Z, designed.Still(10*out))
	}
	s.Ease(b.Spine, designed.Y, designed.Drift(1, 0.6))
	return b
}

// notesOfShot returns the notes on a shot.
func notesOfShot(t *testing.T, s *designed.Shot, rate float64) []note.Note {
	t.Helper()
	var b bytes.Buffer
	if err := write.USDA(&b, s.Take(rate)); err != nil {
		t.Fatal(err)
	}
	sc := parse.Parse("a.usda", b.Bytes(), scene.ReadOptions{})
	if len(sc.Problems) > 0 {
		t.Fatal(sc.Problems)
	}
	return diagnostics.Judge{Config: &config.Config{}}.Scene(t.Context(), sc).Notes
}

// wants checks whether a check gives a note.
func wants(t *testing.T, about string, s *designed.Shot, check string, want bool) {
	t.Helper()
	for _, rate := range []float64{24, 48} {
		notes := notesOfShot(t, s, rate)
		if got := slices.ContainsFunc(notes, func(n note.Note) bool { return n.Check == check }); got != want {
			t.Errorf("%s at %g: %s %v, want %v; notes: %v", about, rate, check, got, want, notes)
		}
	}
}

// TestBowOffBalance: half of a person's weight is in the trunk, so that a deep bow
// needs the hips behind the feet.
func TestBowOffBalance(t *testing.T) {
	for hips, want := range map[float64]bool{22: true, -16: false} {
		b := newBosun()
		there := designed.Add(designed.Stroke(designed.MinimumJerk, 0.8, 1.5, 1), designed.Stroke(designed.MinimumJerk, 3, 3.7, -1))
		b.Shift(b.Hips, designed.Z, designed.Times(hips, there))
		b.Shift(b.Hips, designed.Y, designed.Times(-7, there))
		for _, p := range []int{b.Hips, b.Spine, b.Chest} {
			b.Ease(p, designed.X, designed.Times(28, there))
		}
		wants(t, "a bow", b.Shot, "off-balance", want)
	}
}

// TestHoveringGull: what goes up and down on wings, or with stiff legs, is in no
// flight between two landings; the same way with legs that push is a jump.
func TestHoveringGull(t *testing.T) {
	hang := func(height float64) designed.Signal { // at the top, as no jump can
		return designed.Add(designed.Stroke(designed.Even, 1, 1.25, height), designed.Stroke(designed.Even, 1.7, 1.95, -height))
	}
	// Standard gravity, 3rd CGPM 1901.
	falls := func(at float64) float64 { return max(0, 980.665/2*(at-1.2)*(1.75-at)) }
	for _, tt := range []struct {
		about       string
		up          designed.Signal
		wings, legs bool
		want        bool
	}{
		{"a gull", hang(40), true, true, false},
		{"a puppet", hang(40), false, false, false},
		{"a body that jumps and hangs", hang(40), false, true, true},
		{"a low jump that hangs", hang(22), false, true, true},
		{"a jump", falls, false, true, false},
	} {
		b := newBosun()
		b.Limbs = nil
		if tt.wings {
			for i := range 2 {
				w := b.Add(b.Chest, designed.Part{Name: designed.Snake("wing", designed.Side(i)), Offset: r3.Vec{X: 10 - 20*float64(i), Y: 10}})
				b.Ease(w, designed.Z, designed.Wave(30, 0.4, 0))
			}
		}
		b.Shift(b.Root, designed.Y, tt.up)
		if tt.legs {
			for i := range 2 {
				b.Ease(b.Thigh[i], designed.X, designed.Swell(1, 1.95, -40))
				b.Ease(b.Shin[i], designed.X, designed.Swell(1, 1.95, 80))
			}
		}
		wants(t, tt.about, b.Shot, "free-fall", tt.want)
	}
}

// TestFloorOfAGull: what hovers stands on nothing, so that no floor is known for it.
func TestFloorOfAGull(t *testing.T) {
	for wings, want := range map[bool]bool{true: false, false: true} {
		b := newBosun()
		b.Limbs = nil
		if wings {
			for i := range 2 {
				w := b.Add(b.Chest, designed.Part{Name: designed.Snake("wing", designed.Side(i)), Offset: r3.Vec{X: 10 - 20*float64(i), Y: 10}})
				b.Ease(w, designed.Z, designed.Wave(30, 0.4, 0))
			}
		}
		b.Shift(b.Root, designed.Y, designed.Swell(2, 2.25, -8))
		wants(t, "a body that goes down", b.Shot, "sunk-contact", want)
	}
}
