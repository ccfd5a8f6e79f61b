package scene

import (
	"math"
	"testing"
)

// grid returns n times in seconds, every step-th frame at rate, rounded to so
// many decimals (or to single precision when decimals is negative).
func grid(rate float64, n, step, decimals int) []float64 {
	times := make([]float64, n)
	for i := range times {
		t := float64(i*step) / rate
		if decimals < 0 {
			times[i] = float64(float32(t))
		} else {
			times[i] = math.Round(t*math.Pow10(decimals)) / math.Pow10(decimals)
		}
	}
	return times
}

// addedUp is grid as written by a program that adds single-precision steps.
func addedUp(rate float64, n int) []float64 {
	times := make([]float64, n)
	var t float32
	for i := range times {
		times[i] = float64(t)
		t += float32(1 / rate)
	}
	return times
}

func TestInferRate(t *testing.T) {
	film := 24000.0 / 1001
	ntsc := 30000.0 / 1001
	for _, test := range []struct {
		name    string
		columns [][]float64
		want    float64
		known   bool
	}{
		{"nothing", nil, 24, false},
		{"one key at zero", [][]float64{{0}}, 24, false},
		{"not finite", [][]float64{{math.NaN(), math.Inf(1)}}, 24, false},
		{"24 single precision", [][]float64{grid(24, 200, 1, -1)}, 24, true},
		{"24 added up", [][]float64{addedUp(24, 1500)}, 24, true},
		{"30 added up", [][]float64{addedUp(30, 1500)}, 30, true},
		{"24, 6 decimals", [][]float64{grid(24, 200, 1, 6)}, 24, true},
		{"24, 4 decimals", [][]float64{grid(24, 200, 1, 4)}, 24, true},
		{"24, 3 decimals", [][]float64{grid(24, 200, 1, 3)}, 24, true},
		{"24, 2 decimals", [][]float64{grid(24, 50, 1, 2)}, 24, true},
		{"12 fits 24", [][]float64{grid(12, 50, 1, -1)}, 24, true},
		{"15 fits 30", [][]float64{grid(15, 50, 1, -1)}, 30, true},
		{"25", [][]float64{grid(25, 50, 1, -1)}, 25, true},
		{"25, 2 decimals", [][]float64{grid(25, 50, 1, 2)}, 25, true},
		{"25 sparse", [][]float64{{0, 0.2, 1}}, 25, true},
		{"30", [][]float64{grid(30, 50, 1, -1)}, 30, true},
		{"30, 3 decimals", [][]float64{grid(30, 90, 1, 3)}, 30, true},
		{"film video", [][]float64{grid(film, 90, 1, -1)}, film, true},
		{"film video on twos", [][]float64{grid(film, 90, 2, 6)}, film, true},
		{"30000/1001", [][]float64{grid(ntsc, 120, 1, -1)}, ntsc, true},
		{"30000/1001, 4 decimals", [][]float64{grid(ntsc, 120, 1, 4)}, ntsc, true},
		{"48", [][]float64{grid(48, 50, 1, -1)}, 48, true},
		{"60", [][]float64{grid(60, 50, 1, -1)}, 60, true},
		{"100", [][]float64{grid(100, 50, 1, 2)}, 100, true},
		{"120", [][]float64{grid(120, 50, 1, -1)}, 120, true},
		{"whole seconds", [][]float64{{0, 1, 2, 7}}, 24, true},
		{"tenths", [][]float64{grid(10, 20, 1, 1)}, 30, true},
		{"18 is no standard rate", [][]float64{grid(18, 37, 1, -1)}, 72, true},
		{"17 is of no standard rate", [][]float64{grid(17, 50, 1, -1)}, 17, false},
		{"one key off in 25", [][]float64{append(grid(24, 40, 1, -1), 1.7001)}, 24, true},
		{"mixed", [][]float64{grid(24, 40, 1, -1), grid(24, 20, 2, -1), {0, 0.5}}, 24, true},
	} {
		got, known := InferRate(test.columns...)
		if math.Abs(got-test.want) > 1e-4*test.want || known != test.known {
			t.Errorf("%s: %v (known %v), want %v (%v)", test.name, got, known, test.want, test.known)
		}
	}
}

func TestToFrames(t *testing.T) {
	for _, decimals := range []int{-1, 6, 4, 3} {
		for i, frame := range ToFrames(grid(24, 3000, 1, decimals), 24) {
			if frame != float64(i) {
				t.Fatalf("%d decimals: key %d on frame %v", decimals, i, frame)
			}
		}
	}
	// Keys between frames stay there, and no two keys fall on one frame.
	seconds := []float64{0.5, 0.520833333, 1, 1.0000001, 100.0125}
	want := []float64{12, 12.499999992, 24, 24.0000024, 2400.3}
	for i, frame := range ToFrames(seconds, 24) {
		if math.Abs(frame-want[i]) > 1e-9 {
			t.Errorf("key at %v s on frame %v, want %v", seconds[i], frame, want[i])
		}
	}
	if got := ToFrames(nil, 24); len(got) != 0 {
		t.Errorf("frames from nothing: %v", got)
	}
}

func TestTimeline(t *testing.T) {
	var line Timeline
	a := line.Add([]float64{0, 0.5, 1})
	b := line.Add([]float64{0, 0.04, 0.08})
	c := line.Add([]float64{0, 0.5, 1})
	d := line.Add(nil)
	if a != c || a == b || b == d {
		t.Errorf("columns %d %d %d %d", a, b, c, d)
	}
	if rate, known := line.Rate(0); rate != 50 || !known {
		t.Errorf("rate %v %v", rate, known)
	}
	if rate, known := line.Rate(25); rate != 25 || !known {
		t.Errorf("rate %v %v", rate, known)
	}
	if f := line.Frames(b); f[1] != 1 || f[2] != 2 || &f[0] != &line.Frames(b)[0] || line.Seconds(b)[2] != 0.08 {
		t.Errorf("frames %v", f)
	}
	if len(line.Frames(d)) != 0 {
		t.Error("frames from nothing")
	}
}
