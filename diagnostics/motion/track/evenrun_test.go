package track

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

func TestEvenRuns(t *testing.T) {
	for _, c := range []struct {
		name        string
		s           []float64
		first, size int
	}{
		{"none", nil, 0, 0},
		{"all", []float64{1, 1, 1, 1, 1, 1}, 0, 6},
		{"the middle", []float64{0.2, 0.6, 1, 1.02, 0.98, 1, 1.03, 0.6, 0.1}, 2, 5},
		{"too few", []float64{1, 1, 1, 1, 2}, 0, 0},
		{"a step", []float64{1, 1, 1, 1, 1, 2, 2, 2, 2, 2, 2}, 5, 6},
		{"rest", make([]float64, 9), 0, 0},
		{"parted by noise", []float64{1, 1, 1, 1, 0.01, 1, 1, 1, 1}, 0, 0},
		{"not a number", []float64{1, 1, 1, math.NaN(), 1, 1, 1, 1, 1, 1}, 4, 6},
		{"beyond all measure", []float64{1, 1, 1, math.Inf(1), 1, 1, 1, 1, 1, 1}, 4, 6},
	} {
		got, ok := LongestEvenRun(c.s, 0.1, 0.05, 5)
		if ok != (c.size > 0) || got.First != c.first || got.Count != c.size {
			t.Errorf("%s: %+v", c.name, got)
		}
	}
	if evenRuns(nil, []float64{1, 1, 1}, -1, 0, 1) != nil {
		t.Error("runs under a negative limit")
	}
	if got := evenRuns(nil, []float64{1, 1, 9, 9}, 0, 0, 1); len(got) != 2 || got[1] != (EvenRun{2, 2, 9, 0}) {
		t.Errorf("exactly even: %+v", got)
	}
}

// The share of a move that is even within 10 %, from the closed forms: a
// constant speed is even throughout; around the peak of 6s(1-s) the speed is
// within 10 % of its mean where 4(s-1/2)^2 <= 0.097, 31 %; of a minimum-jerk
// move over s = 0.5 -+ 0.110, 22 %; of a sine 29 %.
func TestEvenShareOfMoves(t *testing.T) {
	for _, p := range []struct {
		name string
		at   func(s float64) float64
		want float64
	}{
		{"constant", func(s float64) float64 { return s }, 1},
		{"3s^2-2s^3", smoothstep, 0.31},
		{"half cosine", halfCosine, 0.29},
		{"minimum jerk", minimumJerk, 0.22},
	} {
		k := along(120, 4, func(s float64) float64 { return p.at(s / 4) })
		got, ok := LongestEvenRun(k.Spacing(), 0.1, 0, 5)
		if share := float64(got.Count) / 480; !ok || !about(share, p.want, 0.01) {
			t.Errorf("%s: %.3f of it, want %.2f", p.name, share, p.want)
		}
	}
}

// Against every window tried by hand.
func TestEvenRunsAreMaximal(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	for range 300 {
		s := make([]float64, 3+r.IntN(40))
		x := 1.0
		for i := range s {
			x = max(0, x+0.06*(r.Float64()-0.5))
			if r.IntN(15) == 0 {
				x = r.Float64()
			}
			s[i] = x
		}
		var want []EvenRun
		for a := range s {
			for n := len(s) - a; n >= 3; n-- {
				w := s[a : a+n]
				if slices.Min(w) > 0 && Evenness(w) <= 0.1 {
					if m := len(want); m == 0 || want[m-1].First+want[m-1].Count < a+n {
						want = append(want, EvenRun{a, n, meanOf(w), Evenness(w)})
					}
					break
				}
			}
		}
		got := evenRuns(nil, s, 0.1, 0, 3)
		same := slices.EqualFunc(got, want, func(a, b EvenRun) bool {
			return a.First == b.First && a.Count == b.Count && about(a.Mean, b.Mean, 1e-9) && about(a.Evenness, b.Evenness, 1e-9)
		})
		if !same {
			t.Fatalf("%v\n got %+v\nwant %+v", s, got, want)
		}
	}
}

func BenchmarkEvenRuns(b *testing.B) {
	k := along(24, 10000.0/24, func(s float64) float64 { return s + 0.04*math.Sin(3*s) })
	s := k.Spacing()
	var runs []EvenRun
	for b.Loop() {
		runs = evenRuns(runs[:0], s, 0.1, 0, 5)
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(len(s)), "ns/spacing")
}
