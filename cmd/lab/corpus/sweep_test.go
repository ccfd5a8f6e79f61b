package corpus

import "testing"

// A wider threshold finds no fewer flaws, and every scene is counted once for
// every value. The default is one of the values.
func TestSweep(t *testing.T) {
	for _, w := range Sweeps {
		if d := w.Default(); d.Name != w.Setting || w.Values[0] > d.Default || w.Values[len(w.Values)-1] < d.Default {
			t.Errorf("%s: %s is swept from %g to %g, which leaves out its default %g", w.Check, w.Setting, w.Values[0], w.Values[len(w.Values)-1], d.Default)
		}
	}
	w := Sweep{Check: "hitch", Setting: "depth", Values: []float64{0.1, 0.4, 0.6}}
	points, err := w.Run(t.Context(), 2)
	if err != nil {
		t.Fatal(err)
	}
	for i, p := range points {
		if p.Planted != 2 || p.Proper < 2 || p.Found > p.Planted || p.False > p.Proper {
			t.Errorf("at %g: %+v", p.Value, p)
		}
		if i > 0 && p.Found < points[i-1].Found {
			t.Errorf("at %g %d flaws are found, at %g %d", p.Value, p.Found, points[i-1].Value, points[i-1].Found)
		}
	}
}
