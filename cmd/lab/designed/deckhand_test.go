package designed

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

var passes = []Pass{SplinePass, PolishPass, RetimedPass}

// Lengths are centimetres, angles degrees.
const (
	exact     = 1e-9
	stretched = 0.98 // a limb nearer to straight would snap
)

// TestLimbsReach keeps arms and legs bent: their goals stay within reach.
func TestLimbsReach(t *testing.T) {
	for _, p := range passes {
		s := Deckhand(p)
		for i := range s.Limbs {
			l := &s.Limbs[i]
			for f := 0.0; f <= deckhandLast; f += 0.5 {
				if e := l.Extension(s, frames24(f)); e > stretched || e < 0.3 {
					t.Errorf("%s: %s is stretched to %.3f at frame %g", s.Name, s.Parts[l.Upper].Name, e, f)
				}
			}
		}
	}
}

// aboardDeck returns the path of a part seen from the deck, one place a frame.
func aboardDeck(take *Take, part string) []r3.Vec {
	w := take.World(take.Shot.Find(part))
	deck := take.World(take.Shot.Find("/Shot/deck"))
	out := make([]r3.Vec, len(w))
	for f := range w {
		out[f] = w[f].From(deck[f]).At
	}
	return out
}

func travel(path []r3.Vec, a, b int) float64 {
	sum := 0.0
	for f := a; f < b; f++ {
		sum += r3.Norm(r3.Sub(path[f+1], path[f]))
	}
	return sum
}

func TestFeetStayPlanted(t *testing.T) {
	for _, rate := range []float64{24, 60} {
		take := Deckhand(PolishPass).Take(rate)
		for _, foot := range []string{"foot_l", "foot_r", "toe_tip_l", "toe_tip_r"} {
			if d := travel(aboardDeck(take, foot), 0, take.N-1); d > exact*float64(take.N) {
				t.Errorf("at %g fps %s travels %g cm over the deck", rate, foot, d)
			}
		}
	}
}

// still reports whether nothing of the figure moves between two frames.
func still(take *Take, figure int, f int) bool {
	root := take.Shot.Parts[figure].Name
	for i := range take.Shot.Parts {
		path := take.Shot.Path(i)
		if i == figure || len(path) <= len(root)+1 || path[1:len(root)+1] != root {
			continue
		}
		r := &take.Rows[i]
		if r3.Norm(r3.Sub(r.Move[f+1], r.Move[f])) > exact || quat.Abs(quat.Sub(r.Turn[f+1], r.Turn[f])) > exact {
			return false
		}
	}
	return true
}

// TestHold finds the dead hold in the earlier pass, and only there, and no
// still step in the polish.
func TestHold(t *testing.T) {
	var hold Label
	s := Deckhand(SplinePass)
	for _, l := range s.Labels {
		if l.Check == "frozen-hold" {
			hold = l
		}
	}
	take := s.Take(24)
	first, last := hold.Frames(take)
	tug := s.Find("/Tug")
	run, longest := 0, 0
	for f := range take.N - 1 {
		if !still(take, tug, f) {
			run = 0
			continue
		}
		run++
		if frame := take.Frame(f); frame >= first && frame < last {
			longest = max(longest, run)
		} else if run > 4 {
			t.Errorf("the earlier pass also stands still at frame %d", frame)
		}
	}
	if longest != last-first {
		t.Errorf("the hold is still for %d steps, labelled %d", longest, last-first)
	}
	polish := Deckhand(PolishPass).Take(24)
	for f := range polish.N - 1 {
		if still(polish, tug, f) {
			t.Errorf("the polish stands still at frame %d", polish.Frame(f))
		}
	}
}

// TestEvenTurn measures the planted turn and the polished one from the deck.
func TestEvenTurn(t *testing.T) {
	spread := func(p Pass) float64 {
		take := Deckhand(p).Take(24)
		path := aboardDeck(take, "head_tip")
		lo, hi, sum := math.Inf(1), 0.0, 0.0
		for f := 35; f < 45; f++ {
			d := r3.Norm(r3.Sub(path[f+1], path[f]))
			lo, hi, sum = min(lo, d), max(hi, d), sum+d
		}
		return (hi - lo) / (sum / 10)
	}
	if e := spread(SplinePass); e > 0.05 {
		t.Errorf("the planted turn has an evenness of %.3f, wanted at most 0.05", e)
	}
	if e := spread(PolishPass); e < 0.5 {
		t.Errorf("the polished turn has an evenness of %.3f, wanted 0.5 and more", e)
	}
}

// TestRetimed finds the look two frames sooner and everything else in place.
func TestRetimed(t *testing.T) {
	polish, retimed := Deckhand(PolishPass).Take(24), Deckhand(RetimedPass).Take(24)
	moved := map[string]bool{}
	for i := range polish.Rows {
		for f := range polish.N {
			a, b := &polish.Rows[i], &retimed.Rows[i]
			if r3.Norm(r3.Sub(a.Move[f], b.Move[f])) > exact || quat.Abs(quat.Sub(a.Turn[f], b.Turn[f])) > exact {
				moved[polish.Shot.Parts[i].Name] = true
				if f < 28 || f > 52 {
					t.Errorf("%s differs at frame %d", polish.Shot.Path(i), f)
					break
				}
			}
		}
	}
	for _, part := range []string{"head", "neck", "brow_l", "lid_r", "eye_l"} {
		if !moved[part] {
			t.Errorf("%s has not moved", part)
		}
	}
	for _, part := range []string{"hips", "spine", "thigh_l", "jaw", "Gull", "deck"} {
		if moved[part] {
			t.Errorf("%s has moved", part)
		}
	}
}

// TestRates takes the shot at 24 and 48: every second frame is the same.
func TestRates(t *testing.T) {
	for _, p := range []Pass{PolishPass} {
		a, b := Deckhand(p).Take(24), Deckhand(p).Take(48)
		if b.N != 2*a.N-1 {
			t.Fatalf("%d frames at 48, %d at 24", b.N, a.N)
		}
		for i := range a.Rows {
			for f := range a.N {
				if r3.Norm(r3.Sub(a.Rows[i].Move[f], b.Rows[i].Move[2*f])) > exact {
					t.Fatalf("%s differs at frame %d", a.Shot.Path(i), f)
				}
			}
		}
	}
}
