package diagnostics_test

import (
	"io"
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/diagnostics"
	"curvelint/diagnostics/config"
	"curvelint/diagnostics/designed"
	"curvelint/diagnostics/designed/write"
	"curvelint/diagnostics/note"
	"curvelint/parse"
	"curvelint/parse/scene"
)

// aboard is an invented deckhand who stands on the night ferry and breathes.
type aboard struct {
	*designed.Shot
	*designed.Body
}

func newAboard() aboard {
	s := designed.NewShot("aboard", 5)
	b := designed.NewBody(s, -1, "deckhand", designed.Snake, 1)
	s.Ease(b.Chest, designed.X, designed.Breath(1.2, 3.4, 0.1))
	s.Ease(b.Hips, designed.Z, designed.Wave(0.8, 4.3, 0.3))
	return aboard{s, b}
}

// saidOf judges a shot in a format and returns the notes of one check.
func saidOf(t *testing.T, s *designed.Shot, name string, w func(io.Writer, *designed.Take) error, check string) []note.Note {
	t.Helper()
	f := writeShot(t, s, 24, name, w)
	sc := parse.Parse(f.name, f.text, scene.ReadOptions{})
	var out []note.Note
	for _, n := range diagnostics.Run(t.Context(), sc, &config.Config{}).Notes {
		if n.Check == check {
			out = append(out, n)
		}
	}
	return out
}

// timingCases are pairs of scenes: what a check finds, and what looks the same in
// a channel while an audience sees none of it.
var timingCases = []struct {
	name, check string
	write       func(io.Writer, *designed.Take) error
	file        string
	make        func(a aboard, flawed bool)
}{
	// A head that stutters on its neck, and one whose neck makes up for it.
	{"head on a neck", "hitch", write.BVH, "neck.bvh", func(a aboard, flawed bool) {
		stutter := designed.Stroke(designed.Stuttered(designed.MinimumJerk, 0.5, 0.1, 0.1), 1.5, 2.1, 75)
		a.Ease(a.Head, designed.Y, stutter)
		if !flawed {
			a.Ease(a.Neck, designed.Y, designed.Add(designed.Stroke(designed.MinimumJerk, 1.5, 2.1, 75), designed.Times(-1, stutter)))
		}
	}},
	// A hand that swings on and on, and one that does so on an arm which is still
	// on its way.
	{"hand on an arm", "loose-settle", write.BVH, "hand.bvh", func(a aboard, flawed bool) {
		hand, arm := a.Hand[designed.Left], a.Upper[designed.Left]
		a.Ease(hand, designed.Z, designed.Add(designed.Stroke(designed.MinimumJerk, 1.2, 1.5, 40), designed.Settle(1.5, 0.22, 12, 0.92, 5)))
		if !flawed {
			a.Ease(arm, designed.Z, designed.Stroke(designed.MinimumJerk, 1, 3, 140))
		}
	}},
	// A hand that trembles, and one that trembles as little while the arm is flung
	// to and fro.
	{"hand of a flung arm", "busy", write.BVH, "tremble.bvh", func(a aboard, flawed bool) {
		a.Ease(a.Hand[designed.Left], designed.Z, shaken(1, 3, 4, 8))
		if !flawed {
			a.Ease(a.Upper[designed.Left], designed.X, designed.Wave(70, 0.9, 0))
		}
	}},
	// Hips that go evenly, and hips that go with an ease while the body above makes
	// up for some of it.
	{"hips and body", "even-spacing", write.BVH, "hips.bvh", func(a aboard, flawed bool) {
		even := designed.Stroke(designed.Trapezoid(0.2), 1.5, 2.2, 20)
		if flawed {
			a.Shift(a.Hips, designed.X, even)
			return
		}
		eased := designed.Stroke(designed.MinimumJerk, 1.5, 2.2, 20)
		a.Shift(a.Hips, designed.X, eased)
		a.Shift(a.Spine, designed.X, designed.Add(even, designed.Times(-1, eased)))
	}},
	// Brows that rise while the head dives across the picture, and while a camera
	// pans over a quiet head.
	{"a pan", "masked-change", write.USDA, "pan.usda", func(a aboard, flawed bool) {
		for i := range 2 {
			a.Ease(a.Brow[i], designed.X, designed.Stroke(designed.MinimumJerk, 1.7, 1.9, -14))
			a.Ease(a.Brow[i], designed.X, designed.Stroke(designed.MinimumJerk, 3, 3.3, 14))
		}
		c := a.Add(-1, designed.Part{Name: "camera", Kind: designed.Camera, Offset: r3.Vec{Y: 150, Z: 260}, Lens: &designed.Lens{Focal: 35, Width: 20.955, Height: 11.328}})
		a.Focus = c
		if flawed {
			a.Shift(a.Hips, designed.X, designed.Stroke(designed.MinimumJerk, 1.5, 2.1, 120))
		} else {
			a.Ease(c, designed.Y, designed.Stroke(designed.MinimumJerk, 1.5, 2.1, 24))
		}
	}},
	// A body that drifts on as one piece, and one whose arm sways out and back.
	{"a swaying arm", "uniform-drift", write.USDA, "drift.usda", func(a aboard, flawed bool) {
		for i := range a.Parts {
			a.Parts[i].Turn, a.Parts[i].Move = [3]designed.Signal{}, [3]designed.Signal{}
		}
		a.Shift(a.Hips, designed.X, designed.Stroke(designed.MinimumJerk, 0.5, 1.1, 25))
		a.Ease(a.Upper[designed.Left], designed.X, designed.Stroke(designed.MinimumJerk, 0.5, 1.2, -30))
		a.Shift(a.Hips, designed.X, designed.Stroke(designed.MinimumJerk, 4, 4.6, -25))
		a.Shift(a.Hips, designed.Z, func(t float64) float64 { return 1.5 * t })
		if !flawed {
			a.Ease(a.Upper[designed.Left], designed.Z, designed.Wave(0.2, 1.5, 0))
		}
	}},
}

// shaken trembles between the times from and to by amount, perSecond times to
// and fro.
func shaken(from, to, amount, perSecond float64) designed.Signal {
	return func(t float64) float64 {
		if t < from || t > to {
			return 0
		}
		return amount * math.Sin(math.Pi*perSecond*(t-from))
	}
}

// What a channel does counts only where an audience sees it.
func TestTimingAsItIsSeen(t *testing.T) {
	for _, c := range timingCases {
		for _, flawed := range []bool{true, false} {
			a := newAboard()
			c.make(a, flawed)
			got := saidOf(t, a.Shot, c.file, c.write, c.check)
			if flawed && len(got) == 0 {
				t.Errorf("%s: no %s where it is seen", c.name, c.check)
			}
			if !flawed && len(got) > 0 {
				t.Errorf("%s: %s where nothing is seen of it: %s", c.name, c.check, got[0].Message)
			}
		}
	}
}

// A face whose keys stand only where it changes does not make a body that moves
// all the time a blocked one; poses that are held and jump do.
func TestBlockedByItsFaceAlone(t *testing.T) {
	for _, poses := range []bool{true, false} {
		a := newAboard()
		for i := range 2 {
			for n := range 4 {
				at := 0.5 + float64(n)
				change := -13 * float64(1-2*(n%2))
				for _, p := range []int{a.Brow[i], a.Lid[i]} {
					a.Ease(p, designed.X, designed.Stroke(designed.MinimumJerk, at, at+5.0/24, change))
				}
			}
		}
		if poses {
			for i := range a.Parts {
				for axis := range 3 {
					a.Parts[i].Turn[axis] = designed.Stepped(a.Parts[i].Turn[axis], 2)
				}
			}
		}
		got := saidOf(t, a.Shot, "face.usda", write.USDASparse, "still-blocked")
		if poses != (len(got) > 0) {
			t.Errorf("held poses %v: still-blocked %v", poses, got)
		}
	}
}
