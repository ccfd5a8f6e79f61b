package corpus

import (
	"context"
	"math"
	"testing"
)

// The whole score takes minutes and is made by the command; this keeps a small
// part of the calibration half from getting worse.
func TestSmallScore(t *testing.T) {
	tally, err := Score(context.Background(), Scope{Seeds: 4})
	if err != nil {
		t.Fatal(err)
	}
	found, wrong, planted := tally.Total()
	if p := float64(found) / float64(found+wrong); p < 0.9 {
		t.Errorf("precision %.2f: %v", p, tally.Wrong)
	}
	if r := float64(found) / float64(planted); r < 0.9 {
		t.Errorf("recall %.2f: %v", r, tally.Missed)
	}
	if w := float64(tally.Warnings) / tally.Units; w > 0.1 {
		t.Errorf("%.2f warnings per 4 s of natural motion", w)
	}
}

func TestWilson(t *testing.T) {
	// 8 of 10: 0.490 to 0.943 (E. B. Wilson, J. Am. Stat. Assoc. 22 (1927)
	// 209-212; recomputed from the formula).
	p, lo, hi := wilson(8, 10)
	if p != 0.8 || math.Abs(lo-0.4902) > 1e-4 || math.Abs(hi-0.9433) > 1e-4 {
		t.Errorf("%g %g %g", p, lo, hi)
	}
}
