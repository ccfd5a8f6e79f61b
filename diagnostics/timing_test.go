package diagnostics_test

import (
	"io"
	"math"
	"path"
	"strings"
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
	{"hand of a flung arm", "jitter", write.BVH, "tremble.bvh", func(a aboard, flawed bool) {
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

// late is hard at its start: fast at once, slower and slower.
func late(x float64) float64 { return 1 - (1-x)*(1-x)*(1-x) }

// moreTimingCases are pairs like timingCases, of strokes themselves.
var moreTimingCases = []struct {
	name, check string
	make        func(a aboard, flawed bool)
}{
	// A head that turns evenly, and one that yaws and tilts a quarter period apart,
	// each with an ease: their angle together grows evenly.
	{"axis", "even-spacing", func(a aboard, flawed bool) {
		if flawed {
			a.Ease(a.Head, designed.Y, designed.Stroke(designed.Trapezoid(0.1), 1.5, 2.1, 20))
			return
		}
		from, to := designed.Stroke(designed.MinimumJerk, 0.4, 1.3, 1), designed.Stroke(designed.MinimumJerk, 3.4, 4.3, -1)
		for axis, phase := range []float64{0, 0.25} {
			w := designed.Wave(16, 1.6, phase)
			a.Ease(a.Head, axis, func(t float64) float64 { return (from(t) + to(t)) * w(t) })
		}
	}},
	// An arm that starts at once between two frames, and one whose first spacing is
	// a quarter of the next.
	{"first spacing", "hard-start", func(a aboard, flawed bool) {
		start := 37.0 / 25
		if !flawed {
			start += 0.75 / 25
		}
		arm := a.Upper[designed.Left]
		a.Ease(arm, designed.X, designed.Add(designed.Stroke(designed.MinimumJerk, 0.8, 1.1, 8), designed.Stroke(late, start, start+0.5, -60)))
	}},
	// An arm that starts at once between two frames, and a move of four frames with
	// an ease that goes over into a slow settle.
	{"short move", "hard-start", func(a aboard, flawed bool) {
		arm := a.Upper[designed.Left]
		if flawed {
			a.Ease(arm, designed.X, designed.Stroke(late, 37.4/25, 50.4/25, -60))
			a.Ease(arm, designed.X, designed.Stroke(designed.MinimumJerk, 0.8, 1.1, 8))
			return
		}
		a.Ease(arm, designed.X, designed.Keyed(designed.Key{T: 37.0 / 25}, designed.Key{T: 38.0 / 25, V: -9.5}, designed.Key{T: 39.0 / 25, V: -32},
			designed.Key{T: 40.0 / 25, V: -53}, designed.Key{T: 41.0 / 25, V: -60}, designed.Key{T: 47.0 / 25, V: -62}))
	}},
	// A head that turns at once, and the short eased turn of four frames of a gull.
	{"short turn", "hard-start", func(a aboard, flawed bool) {
		if flawed {
			a.Ease(a.Head, designed.Y, designed.Stroke(late, 37.4/25, 50.4/25, -50))
			a.Ease(a.Head, designed.Y, designed.Stroke(designed.MinimumJerk, 0.8, 1.1, 8))
			return
		}
		a.Ease(a.Head, designed.Y, designed.Keyed(designed.Key{T: 37.0 / 25}, designed.Key{T: 38.0 / 25, V: 10.5}, designed.Key{T: 39.0 / 25, V: 21},
			designed.Key{T: 40.0 / 25, V: 29}, designed.Key{T: 41.0 / 25, V: 31}, designed.Key{T: 44.0 / 25, V: 31.5}))
	}},
	// An arm that swings on after a move, and one that waves: the forearm swings
	// more than it.
	{"wave", "loose-settle", func(a aboard, flawed bool) {
		arm, fore := a.Upper[designed.Left], a.Fore[designed.Left]
		a.Ease(arm, designed.Z, designed.Add(designed.Stroke(designed.MinimumJerk, 1, 1.4, 60), designed.Settle(1.4, 0.25, 10, 0.92, 5)))
		if !flawed {
			a.Ease(fore, designed.Z, designed.Settle(1.45, 0.25, 22, 0.95, 5))
		}
	}},
	// A head whose move springs back before it ends, and one that is still by then.
	{"spring", "loose-settle", func(a aboard, flawed bool) {
		a.Ease(a.Head, designed.X, designed.Stroke(designed.MinimumJerk, 1.4, 1.8, 22))
		if flawed {
			a.Ease(a.Head, designed.X, func(t float64) float64 {
				u := max(t-1.688, 0)
				return 7 * min(u/0.12, 1) * math.Exp(-0.45*u) * math.Sin(2*math.Pi*2.7*u)
			})
		}
	}},
	// A hand that swings on, and lids that blink a little, several times.
	{"lids", "loose-settle", func(a aboard, flawed bool) {
		p := a.Hand[designed.Left]
		if !flawed {
			p = a.Lid[designed.Left]
		}
		a.Ease(p, designed.X, designed.Add(designed.Stroke(designed.MinimumJerk, 1.2, 1.5, 40), designed.Settle(1.5, 0.22, 12, 0.92, 5)))
	}},
	// An arm that stops at once, and a jaw that closes on a sound.
	{"sound", "hard-stop", func(a aboard, flawed bool) {
		p := a.Jaw
		if flawed {
			p = a.Upper[designed.Left]
		}
		a.Ease(p, designed.X, designed.Stroke(func(x float64) float64 { return x * x * x }, 1.48, 2, -40))
	}},
	// A neck that stutters and one that does not: the head itself does nothing.
	{"neck", "hitch", func(a aboard, flawed bool) {
		p := designed.Profile(designed.MinimumJerk)
		if flawed {
			p = designed.Stuttered(p, 0.5, 0.1, 0.1)
		}
		a.Ease(a.Neck, designed.Y, designed.Stroke(p, 1.5, 2.1, 48))
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

// A jaw that is not called one talks, a head trembles.
func TestUnknownJawTalks(t *testing.T) {
	for _, talks := range []bool{true, false} {
		a := newAboard()
		a.Parts[a.Jaw].Name = "head_low"
		a.Add(a.Jaw, designed.Part{Name: "head_low_tip", Kind: designed.Tip, Offset: r3.Vec{Z: 8}})
		p, size := a.Head, 3.5
		if talks {
			p, size = a.Jaw, 10
		}
		a.Ease(p, designed.X, shaken(1, 3, size, 8))
		if got := saidOf(t, a.Shot, "jaw.bvh", write.BVH, "jitter"); talks == (len(got) > 0) {
			t.Errorf("talks %v: busy %v", talks, got)
		}
	}
}

// A leg that the shift of the hips moves at once, just before its foot lifts, is
// no hard start: the floor pushes it off.
func TestStepOff(t *testing.T) {
	a := newAboard()
	a.Shift(a.Hips, designed.X, designed.Stroke(late, 1.5, 2.1, -12))
	a.Shift(a.Hips, designed.Y, designed.Add(designed.Stroke(late, 1.5, 1.9, -7), designed.Still(-3)))
	lift := designed.Stroke(designed.MinimumJerk, 1.6, 2.1, 16)
	for side := range 2 {
		x := 9 * float64(1-2*side)
		a.PlantFoot(a.Shot, side, a.Root, func(t float64) r3.Vec {
			if side == designed.Left {
				return r3.Vec{X: x, Y: 2 + lift(t), Z: lift(t)}
			}
			return r3.Vec{X: x, Y: 2}
		}, designed.Turn3(nil, nil, nil))
	}
	for _, n := range saidOf(t, a.Shot, "step.bvh", write.BVH, "hard-start") {
		if strings.HasPrefix(path.Base(n.Part), "thigh") || strings.HasPrefix(path.Base(n.Part), "shin") {
			t.Errorf("a leg that steps off: %s", n.Message)
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

// A body on twos whose repeated frames are left out is not blocked.
func TestTwosAreNoBlocking(t *testing.T) {
	a := newAboard()
	a.Ease(a.Upper[designed.Left], designed.Z, designed.Wave(30, 1.3, 0))
	a.Ease(a.Head, designed.Y, designed.Wave(20, 1.7, 0))
	for i := range a.Parts {
		for axis := range 3 {
			a.Parts[i].Turn[axis] = designed.Stepped(a.Parts[i].Turn[axis], 12)
		}
	}
	if got := saidAt(t, a.Shot, 48, "twos.usda", write.USDASparse, "still-blocked"); len(got) > 0 {
		t.Errorf("a body on twos: %s", got[0].Message)
	}
}

// A gull that flies on turns its wings round, and nothing stutters.
func TestWingsOfAFlight(t *testing.T) {
	s := designed.NewShot("gull", 2.5)
	g := designed.NewBird(s, -1, "gull", designed.Snake, 1)
	s.Shift(g.Root, designed.Z, func(t float64) float64 { return 350 * t })
	for i := range 2 {
		out := float64(1 - 2*i)
		s.Ease(g.Wing[i], designed.Z, designed.Wave(20*out, 0.36, 0))
		s.Ease(g.Wing[i], designed.Y, designed.Wave(20*out, 0.36, 0.25))
		s.Ease(g.Mid[i], designed.Z, designed.Wave(10*out, 0.36, -0.13))
	}
	for _, n := range saidAt(t, s, 60, "gull.bvh", write.BVH, "hitch") {
		t.Errorf("wings that beat: %s", n.Message)
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

// A move that starts between two frames shows part of its first spacing: the note
// says what both are, and of a start on a frame what the one is.
func TestHardStartSaysWhichSpacing(t *testing.T) {
	for start, want := range map[float64]string{1.5: "its first spacing is 100 % of the largest", 1.5 + 0.5/24: "its first spacings are 51 % and 100 % of the largest"} {
		a := newAboard()
		a.Ease(a.Head, designed.Y, func(s float64) float64 { return -60 * (1 - math.Pow(1-math.Min(math.Max(s-start, 0), 1), 1.5)) })
		said := saidOf(t, a.Shot, "start.bvh", write.BVH, "hard-start")
		if len(said) != 1 || !strings.Contains(said[0].Message, want) {
			t.Errorf("start at %g s: %v, want %q", start, said, want)
		}
	}
}
