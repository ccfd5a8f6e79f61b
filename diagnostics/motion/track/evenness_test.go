package track

import "testing"

func TestEvenness(t *testing.T) {
	for _, c := range []struct {
		s    []float64
		want float64
	}{{nil, 0}, {[]float64{3}, 0}, {[]float64{0, 0, 0}, 0}, {[]float64{2, 2, 2}, 0}, {[]float64{1, 2, 3}, 1}, {[]float64{0, 4}, 2}} {
		if got := Evenness(c.s); got != c.want {
			t.Errorf("Evenness(%v) = %g, want %g", c.s, got, c.want)
		}
	}
}

// From the NIST Statistical Reference Datasets, NumAcc4: mean 10000000.2.
func TestEvennessOfNumAcc4(t *testing.T) {
	x := numAcc4()
	if got := meanOf(x); !about(got, 10000000.2, 1e-8) {
		t.Errorf("mean %.10f, want 10000000.2", got)
	}
	// (10000000.3 - 10000000.1) / 10000000.2, to the digits the data hold.
	if got := Evenness(x); !about(got, 0.2/10000000.2, 1e-15) {
		t.Errorf("evenness %g", got)
	}
}

func numAcc4() []float64 {
	x := []float64{10000000.2}
	for range 500 {
		x = append(x, 10000000.1, 10000000.3)
	}
	return x
}
