package natural

import (
	"fmt"
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/cmd/lab/designed"
)

// stretched is the share of its length beyond which a limb would snap.
const stretched = 0.992

// TestLimbsReach keeps every limb bent in every kind of shot.
func TestLimbsReach(t *testing.T) {
	for _, k := range Kinds {
		for seed := range designed.Seed(12) {
			s := Shot(k, Options{Seed: seed, Seconds: 6})
			for i := range s.Limbs {
				l := &s.Limbs[i]
				worst, at := 0.0, 0.0
				for f := 0.0; f < 6; f += 1. / 12 {
					if e := l.Extension(s, f); e > worst {
						worst, at = e, f
					}
				}
				if worst > stretched {
					t.Errorf("%s: %s is stretched to %.3f at %.2f s", s.Name, s.Parts[l.Upper].Name, worst, at)
				}
			}
		}
	}
}

// TestRepeatable makes every kind twice, and with another seed.
func TestRepeatable(t *testing.T) {
	sum := func(k Kind, seed designed.Seed) string {
		take := Shot(k, Options{Seed: seed, Seconds: 3}).Take(24)
		total := 0.0
		for i := range take.Rows {
			for f := range take.Rows[i].Turn {
				total += r3.Norm(take.Rows[i].Move[f]) + float64(i)*take.Rows[i].Turn[f].Real
			}
			for _, v := range take.Rows[i].Value {
				total += v
			}
		}
		return fmt.Sprint(total)
	}
	for _, k := range Kinds {
		first, again := sum(k, 5), sum(k, 5)
		if first != again {
			t.Errorf("%s differs from one run to the next", k)
		}
		if sum(k, 5) == sum(k, 6) {
			t.Errorf("%s is the same for two seeds", k)
		}
	}
}

// TestSmooth looks for jumps: no turn changes its speed by much from one
// hundredth of a second to the next.
func TestSmooth(t *testing.T) {
	for _, k := range Kinds {
		s := Shot(k, Options{Seed: 3, Seconds: 5})
		take := s.Take(200)
		for i := range take.Rows {
			r := &take.Rows[i]
			for f := 2; f < take.N && r.Turn != nil; f++ {
				a := designed.Angle(r.Turn[f-1], r.Turn[f])
				b := designed.Angle(r.Turn[f-2], r.Turn[f-1])
				if math.Abs(a-b) > 0.8 {
					t.Errorf("%s: %s changes from %.2f to %.2f degrees a step at %.3f s", s.Name, s.Path(i), b, a, take.Time(f))
					break
				}
			}
		}
	}
}

// TestWeightsStayInRange keeps shape weights between 0 and 1.
func TestWeightsStayInRange(t *testing.T) {
	for seed := range designed.Seed(10) {
		take := Shot(Shapes, Options{Seed: seed, Seconds: 8}).Take(24)
		for i := range take.Rows {
			for f, v := range take.Rows[i].Value {
				if v < 0 || v > 1 {
					t.Fatalf("seed %d: %s is %.3f at frame %d", seed, take.Shot.Path(i), v, f)
				}
			}
		}
	}
}
