package diagnostics_test

import (
	"io"
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
	return saidAt(t, s, 24, name, w, check)
}

// saidAt is saidOf at a rate of its own.
func saidAt(t *testing.T, s *designed.Shot, rate float64, name string, w func(io.Writer, *designed.Take) error, check string) []note.Note {
	t.Helper()
	f := writeShot(t, s, rate, name, w)
	sc := parse.Parse(f.name, f.text, scene.ReadOptions{})
	var out []note.Note
	for _, n := range (diagnostics.Judge{Config: &config.Config{}}).Scene(t.Context(), sc).Notes {
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
}

// moreTimingCases are pairs like timingCases, of strokes themselves.
var moreTimingCases = []struct {
	name, check string
	make        func(a aboard, flawed bool)
}{
	// A head that pauses between two turns, and one whose body turns on meanwhile.
	{"turned on", "rushed-read", func(a aboard, flawed bool) {
		a.Ease(a.Head, designed.Y, designed.Add(designed.Stroke(designed.MinimumJerk, 1.2, 1.6, 25), designed.Stroke(designed.MinimumJerk, 1.75, 2.15, 25)))
		if !flawed {
			a.Ease(a.Hips, designed.Y, designed.Stroke(designed.MinimumJerk, 1.1, 2.3, -70))
		}
	}},
	// The same head, and one that the body carries up and away.
	{"carried", "rushed-read", func(a aboard, flawed bool) {
		a.Ease(a.Head, designed.Y, designed.Add(designed.Stroke(designed.MinimumJerk, 1.2, 1.6, 25), designed.Stroke(designed.MinimumJerk, 1.75, 2.15, 25)))
		if !flawed {
			a.Shift(a.Hips, designed.Y, designed.Stroke(designed.MinimumJerk, 1.1, 2.3, 60))
		}
	}},
	// A crouch before which the head stirs by a degree and a half, and one that the
	// head leads.
	{"stir", "lost-lead", func(a aboard, flawed bool) {
		at := 2.3
		if !flawed {
			at = 1.85
		}
		a.Shift(a.Hips, designed.Y, designed.Stroke(designed.MinimumJerk, 2, 2.8, -32))
		a.Ease(a.Head, designed.X, designed.Add(designed.Stroke(designed.MinimumJerk, 1.3, 1.6, 1.6), designed.Stroke(designed.MinimumJerk, at, at+0.6, 24)))
	}},
}

// Strokes of one kind are told from those that look like them.
func TestTimingOfStrokes(t *testing.T) {
	for _, c := range moreTimingCases {
		for _, flawed := range []bool{true, false} {
			a := newAboard()
			c.make(a, flawed)
			got := saidAt(t, a.Shot, 25, "strokes.bvh", write.BVH, c.check)
			if flawed != (len(got) > 0) {
				t.Errorf("%s, flawed %v: %s %v", c.name, flawed, c.check, got)
			}
		}
	}
}

// A tail's end that moved a second before its root is not ahead of it.
func TestTailThatMovedBefore(t *testing.T) {
	for _, ahead := range []float64{0.2, 1.1} {
		s := designed.NewShot("tail", 5)
		c := designed.NewChain(s, -1, "root", "tail", designed.Snake, 5, 100, r3.Vec{Z: -15})
		for i, l := range c.Links {
			at := 2.2 + 0.03*float64(i)
			if i == len(c.Links)-1 {
				at = 2.2 - ahead
			}
			s.Ease(l, designed.X, designed.Stroke(designed.MinimumJerk, at, at+0.6, 30))
		}
		if got := saidOf(t, s, "tail.bvh", write.BVH, "late-follow"); (ahead < 0.5) != (len(got) > 0) {
			t.Errorf("the end %g s before: late-follow %v", ahead, got)
		}
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

// A clip on twos that begins and ends in the middle of a motion starts and stops
// nothing.
func TestTwosCutByTheClip(t *testing.T) {
	a := newAboard()
	for i, p := range []int{a.Hips, a.Chest, a.Head, a.Upper[0], a.Upper[1], a.Fore[0]} {
		for axis := range 3 {
			a.Ease(p, axis, designed.Wave(12, 1.9+0.3*float64(i), 0.13*float64(i+axis)))
		}
	}
	for i := range a.Parts {
		for axis := range 3 {
			a.Parts[i].Turn[axis] = designed.Stepped(a.Parts[i].Turn[axis], 12)
		}
	}
	for _, n := range saidOf(t, a.Shot, "cut.bvh", write.BVH, "same-frame") {
		t.Errorf("a clip that begins and ends in motion: %s", n.Message)
	}
}
