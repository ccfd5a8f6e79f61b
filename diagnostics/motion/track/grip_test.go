package track

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

// haul builds a rope's end that is pulled from 1 s to 2.5 s and the hand that
// reaches for it before and lets go after. slip is how far the hand slides along
// it on the way; far moves both. Invented data.
func haul(rate, slip, far float64) (hand, rope *Track) {
	pull := func(s float64) r3.Vec {
		u := minimumJerk((s - 1) / 1.5)
		return r3.Vec{X: 0.8 * u, Y: 0.3 * math.Sin(2*u)}
	}
	rope = sampled(rate, 3.5, pull)
	hand = sampled(rate, 3.5, func(s float64) r3.Vec {
		p := pull(s)
		p.X += 0.03 + slip*minimumJerk((s-1)/1.5)
		p.Y += 0.5 * (1 - minimumJerk((s-0.3)/0.6) + minimumJerk((s-2.6)/0.6))
		return p
	})
	for _, k := range []*Track{hand, rope} {
		o := k.At(0)
		for i := range k.X {
			k.Put(i, r3.Sub(k.At(i), o))
		}
		k.Origin = [3]float64{far + 100*o.X, far + 100*o.Y, far + 100*o.Z}
		k.Unit = 100
	}
	return hand, rope
}

func TestGrip(t *testing.T) {
	for _, rate := range rates {
		for _, far := range []float64{0, 1e6} {
			hand, rope := haul(rate, 0, far)
			g := Grips(hand, rope, nil)
			if len(g) != 1 || float64(g[0].First)/rate > 1.05 || float64(g[0].Last)/rate < 2.45 || g[0].Slip > 0.01 {
				t.Fatalf("rate %g: %+v", rate, g)
			}
			hand, rope = haul(rate, 0.05, far)
			if g = Grips(hand, rope, nil); len(g) != 1 || !about(g[0].Slip, 0.05, 0.01) {
				t.Errorf("rate %g: a slip of 0.05: %+v", rate, g)
			}
		}
	}
}

// The unit of a prop is its own box, not the figure's size.
func TestGripOfAnotherUnit(t *testing.T) {
	hand, rope := haul(24, 0.05, 0)
	want := Grips(hand, rope, nil)
	for i := range rope.X {
		rope.Put(i, r3.Scale(4, rope.At(i)))
	}
	rope.Unit /= 4
	if got := Grips(hand, rope, nil); len(got) != 1 || got[0].First != want[0].First || !about(got[0].Slip, want[0].Slip, 1e-9) {
		t.Errorf("got %+v, want %+v", got, want)
	}
}

func TestNoGrip(t *testing.T) {
	hand, rope := haul(24, 0, 0)
	still := sampled(24, 3.5, func(float64) r3.Vec { return r3.Vec{} })
	still.Unit, still.Origin = 100, [3]float64{3, 0, 0}
	passing := sampled(24, 3.5, func(s float64) r3.Vec { return r3.Vec{X: 0.3 * s} })
	passing.Unit = 100
	for name, c := range map[string][2]*Track{
		"a hand beside a thing at rest": {still, still},
		"a hand that passes by":         {passing, still},
		"a thing out of reach":          {hand, along(24, 3.5, func(float64) float64 { return 9 })},
		"nothing":                       {frames(), rope},
	} {
		if g := Grips(c[0], c[1], nil); len(g) != 0 {
			t.Errorf("%s: %+v", name, g)
		}
	}
}

// TestGripOfALooseHand: a hand that gives a little all the time and slides once holds
// on nevertheless: its slide is no reason to say that it does not. One that gives as
// much without sliding, beyond the share, holds nothing. Invented data.
func TestGripOfALooseHand(t *testing.T) {
	for _, tt := range []struct {
		gives, slip float64 // share of the common path; figure sizes
		grips       int
	}{{0.19, 0, 1}, {0.19, 0.05, 1}, {0.4, 0, 0}, {0.4, 0.05, 0}} {
		hand, rope := haul(24, 0, 0)
		common := rope.PathLength(0, rope.Len()-1)
		for i := range hand.X {
			s := float64(i) / 24
			u := minimumJerk((s - 1) / 1.5)
			p := hand.At(i)
			// To and fro four times on the way: eight lengths.
			p.Z += tt.gives * common / 8 * math.Abs(math.Sin(4*math.Pi*u))
			p.X += tt.slip * minimumJerk((s-1.6)/0.3)
			hand.Put(i, p)
		}
		if g := Grips(hand, rope, nil); len(g) != tt.grips {
			t.Errorf("gives %g, slides %g: %+v", tt.gives, tt.slip, g)
		} else if tt.slip > 0 && tt.grips == 1 && !about(g[0].Slip, tt.slip, 0.02) {
			t.Errorf("gives %g: slides %g, want %g", tt.gives, g[0].Slip, tt.slip)
		}
	}
}

// TestBetterGrip: what is firm is preferred to what slips less.
func TestBetterGrip(t *testing.T) {
	firm, loose := Grip{Common: 1, Relative: 0.15, Slip: 0.05}, Grip{Common: 1, Relative: 0.25, Slip: 0.03}
	steady := Grip{Common: 1, Relative: 0.1, Slip: 0.01}
	if !firm.better(loose) || loose.better(firm) || !steady.better(firm) || firm.better(steady) {
		t.Error("a loose grip is preferred to a firm one, or one that slips to one that does not")
	}
}

// A hand that arrives on a crate while another figure carries it slowly along,
// and later lets go of it on the way, reaches and parts; it does not slip. Invented
// data.
func TestReachingForWhatMovesIsNoSlip(t *testing.T) {
	for _, rate := range rates {
		way := func(s float64) r3.Vec { return r3.Vec{X: 0.8 * s} }
		crate := sampled(rate, 5, way)
		hand := sampled(rate, 5, func(s float64) r3.Vec {
			p := way(s)
			p.Y += 0.3 * (1 - minimumJerk(s/1.8) + minimumJerk((s-3.2)/1.8))
			return p
		})
		crate.Unit, hand.Unit = 100, 100
		g := Grips(hand, crate, nil)
		if len(g) != 1 || g[0].Slip > 0.015 || float64(g[0].First)/rate > 1.8 || float64(g[0].Last)/rate < 3.2 {
			t.Errorf("rate %g: %+v", rate, g)
		}
	}
}
