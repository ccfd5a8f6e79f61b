package track

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
	"gonum.org/v1/gonum/stat"

	"curvelint/diagnostics/motion/vec"
)

func TestSpacingOfShortTracks(t *testing.T) {
	for n := range 2 {
		k := frames(make([]float64, n)...)
		if len(k.Spacing()) != 0 || len(k.Speed()) != 0 || len(k.AppendSpacing(nil, 0, n-1, 1)) != 0 {
			t.Errorf("%d frames: spacings where there are none", n)
		}
	}
}

func TestSpacingOnTwos(t *testing.T) {
	k := frames(0, 1, 3, 6, 10, 15)
	for _, c := range []struct {
		step, parity int
		want         []float64
	}{
		{1, 0, []float64{1, 2, 3, 4, 5}},
		{2, 0, []float64{3, 7}},
		{2, 1, []float64{5, 9}},
		{5, 0, []float64{15}},
		{5, 1, nil},
		{0, 0, nil},
		{1, 9, nil},
	} {
		if got := k.AppendSpacing(nil, c.parity, k.Len()-1, c.step); !slices.Equal(got, c.want) {
			t.Errorf("every %d from %d on: %v, want %v", c.step, c.parity, got, c.want)
		}
	}
}

func TestStepFrames(t *testing.T) {
	for _, c := range []struct {
		rate      float64
		ones, two int
	}{{12, 1, 2}, {24, 1, 2}, {25, 1, 2}, {30, 1, 2}, {48, 2, 4}, {60, 3, 6}, {120, 5, 10}} {
		k := &Track{Rate: c.rate}
		if k.StepFrames(1) != c.ones || k.StepFrames(2) != c.two {
			t.Errorf("rate %g: %d and %d frames", c.rate, k.StepFrames(1), k.StepFrames(2))
		}
	}
}

func TestSpeedIsTheSameAtEveryRate(t *testing.T) {
	const seconds = 1.0
	for _, rate := range rates {
		k := along(rate, seconds, minimumJerk)
		// Peak speed 1.875 A/D: Flash and Hogan 1985. Over 1/24 s it is less by a
		// few thousandths.
		if got := slices.Max(k.Speed()); !about(got, 1.875, 0.015) {
			t.Errorf("rate %g: peak speed %g, want 1.875", rate, got)
		}
		c := along(rate, seconds, func(s float64) float64 { return 3 * s })
		for i, v := range c.Speed() {
			if !about(v, 3, 1e-12*rate) {
				t.Fatalf("rate %g: constant speed %g at %d, want 3", rate, v, i)
			}
		}
	}
}

// At 120 frames per second the speed is the mean, as vectors, of what the five
// ways to take every fifth frame show at 24.
func TestSpeedMatchesThinnedTracks(t *testing.T) {
	path := func(s float64) r3.Vec { return r3.Vec{X: math.Sin(3 * s), Y: math.Cos(2 * s), Z: s * s} }
	k := sampled(120, 2, path)
	for i := 4; i < k.Len()-5; i++ {
		var sum r3.Vec
		for d := -2; d <= 2; d++ {
			sum = r3.Add(sum, r3.Sub(k.At(i+d+3), k.At(i+d-2)))
		}
		if want := vec.Length(sum) / 5 * 24; !about(k.Speed()[i], want, 1e-12) {
			t.Fatalf("spacing %d: %g, want %g", i, k.Speed()[i], want)
		}
	}
}

// Jitter of one size in every frame shows no faster at a higher rate.
func TestJitterDoesNotGrowWithRate(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 5))
	mean := map[float64]float64{}
	for _, rate := range rates {
		k := along(rate, 60, func(float64) float64 { return 0.001 * r.NormFloat64() })
		mean[rate] = meanOf(k.Speed())
		if mean[rate] > 1.05*mean[24] {
			t.Errorf("rate %g: mean speed %g, at 24 %g", rate, mean[rate], mean[24])
		}
	}
}

func TestSpeedWithoutRate(t *testing.T) {
	for _, rate := range []float64{0, -24, math.Inf(1), math.NaN()} {
		k := frames(0, 1, 2)
		k.Rate = rate
		if got := k.Speed(); !slices.Equal(got, []float64{0, 0}) {
			t.Errorf("rate %g: speed %v", rate, got)
		}
		if k.Strokes(); len(k.Rests()) != 1 {
			t.Errorf("rate %g: rests %v", rate, k.Rests())
		}
	}
}

// On twos the speed is that of the change over two frames, without ripple.
func TestSpeedOnTwos(t *testing.T) {
	k := frames(0, 0, 1, 1, 2, 2, 3, 3, 4, 4, 5, 5, 6, 6, 7, 7)
	if k.Stepping() != 2 {
		t.Fatal("not found to be on twos")
	}
	for i, v := range k.Speed()[1:14] {
		if !about(v, 12, 1e-12) {
			t.Errorf("spacing %d: speed %g, want 12", i+1, v)
		}
	}
}

func TestPercentileIsGonums(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for n := 1; n < 200; n++ {
		x := make([]float64, n)
		for i := range x {
			x[i] = math.Floor(r.Float64()*float64(n)) / 4 // with repeats
		}
		sorted := slices.Sorted(slices.Values(x))
		for _, p := range []float64{0, 0.05, 0.25, 0.5, 0.95, 1} {
			want := stat.Quantile(p, stat.Empirical, sorted, nil)
			if got := Percentile(x, p); got != want {
				t.Fatalf("n %d p %g: %g, gonum says %g", n, p, got, want)
			}
		}
	}
	if Percentile(nil, 0.5) != 0 {
		t.Error("percentile of nothing is not 0")
	}
}

// The percentile of the elements above a limit is that of them alone, whatever
// the few elements that are looked at first say.
func TestHighPercentile(t *testing.T) {
	r := rand.New(rand.NewPCG(6, 2))
	var memory []float64
	for n := range 700 {
		x := make([]float64, n)
		for i := range x {
			if x[i] = r.Float64(); i%max(n/64, 1) == 0 {
				x[i] *= float64(n % 5) // those looked at are unlike the rest
			}
			if n%3 == 0 {
				x[i] = math.Floor(4 * x[i])
			}
		}
		for _, least := range []float64{0, 0.3, 0.9, 5} {
			var above []float64
			for _, v := range x {
				if v > least {
					above = append(above, v)
				}
			}
			var got float64
			if memory, got = highPercentile(memory, x, least, 0.95); got != Percentile(above, 0.95) {
				t.Fatalf("%d elements over %g: %g, want %g", n, least, got, Percentile(above, 0.95))
			}
		}
	}
}

// An order that makes the middle of three a poor pivot again and again must not
// cost the square of its length: found by asking for it.
func TestPercentileOfSawtooth(t *testing.T) {
	x := make([]float64, 1<<17)
	for i := range x {
		x[i] = float64(i % 7 * (len(x) - i))
	}
	want := stat.Quantile(0.95, stat.Empirical, slices.Sorted(slices.Values(x)), nil)
	if got := Percentile(x, 0.95); got != want {
		t.Errorf("got %g, want %g", got, want)
	}
}

func BenchmarkSpeed(b *testing.B) {
	for _, rate := range []float64{24, 120} {
		k := along(rate, 10000/rate, func(s float64) float64 { return math.Sin(3 * s) })
		b.Run(map[float64]string{24: "24", 120: "120"}[rate], func(b *testing.B) {
			for b.Loop() {
				c := Track{X: k.X, Y: k.Y, Z: k.Z, Rate: rate}
				c.Speed()
			}
		})
	}
}
