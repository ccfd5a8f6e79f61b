package passes_test

import (
	"encoding/json"
	"os"
	"testing"

	"curvelint/diagnostics/motion/warp"
)

// testdata/reference/warp.json: the npm package dtw 0.0.3, an implementation that
// has nothing in common with ours.
func TestWarpAgainstPackage(t *testing.T) {
	raw, err := os.ReadFile("../../testdata/reference/warp.json")
	if err != nil {
		t.Fatal(err)
	}
	var table struct {
		Cases []struct {
			A, B []float64
			Band int
			Cost float64
		}
	}
	if err := json.Unmarshal(raw, &table); err != nil || len(table.Cases) != 40 {
		t.Fatal(err, len(table.Cases))
	}
	for i, c := range table.Cases {
		// Whole numbers: the costs are exact.
		if w := warp.Align([][]float64{c.A}, [][]float64{c.B}, c.Band); w.Cost != c.Cost {
			t.Errorf("case %d, band %d: cost %g, want %g", i, c.Band, w.Cost, c.Cost)
		}
	}
}
