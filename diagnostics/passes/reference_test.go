package passes_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"curvelint/cmd/lab/scenetest"
	"curvelint/diagnostics/config"
	"curvelint/diagnostics/passes"
)

// tracked writes the path of a point of the polish in the picture as a table, by
// frames later than it is.
func tracked(t *testing.T, p pass, later float64) string {
	t.Helper()
	var b strings.Builder
	b.WriteString("frame,head.u,head.v\n")
	view := p.study.View()
	for _, fig := range p.study.Figures() {
		for i := range fig.Points {
			if fig.Points[i].Name != "head" || p.study.Scene.Parts[fig.Root].Name != "Tug" {
				continue
			}
			k := view.ScreenTrack(fig, i)
			for f := range p.study.N {
				x := int(math.Max(0, float64(f)-later))
				fmt.Fprintf(&b, "%d,%.6f,%.6f\n", 1001+f, 0.5+k.X[x]/view.Aspect, 0.5-k.Y[x])
			}
		}
	}
	return b.String()
}

// A point tracked in the picture of the pass itself, four frames late, says so and
// nothing else.
func TestTrackedPicture(t *testing.T) {
	p := shot(t, "deckhand_polish.usda")
	for _, later := range []float64{0, 4} {
		r := read(t, "track.csv", []byte(tracked(t, p, later)), &config.Config{FPS: 24})
		c := compared(t, p.study, r.study, nil, nil, passes.Options{})
		if !c.Reference || c.ComparedBeats == 0 || len(c.Beats)+len(c.Parts) != 0 || math.Abs(c.Shift-later) > 0.01 {
			t.Errorf("%g later: reference %v, %d beats of %d, shift %g", later, c.Reference, len(c.Beats), c.ComparedBeats, c.Shift)
		}
		c = compared(t, r.study, p.study, nil, nil, passes.Options{})
		if !c.Reference || len(c.Beats) != 0 || math.Abs(c.Shift+later) > 0.01 {
			t.Errorf("%g later, the other way: %d beats, shift %g", later, len(c.Beats), c.Shift)
		}
	}
}

// Against the polish as a reference, the retimed pass's turn of the head arrives two
// frames sooner, as testdata/demo/README.md says, and no other beat differs.
func TestReferenceRetimed(t *testing.T) {
	c := compared(t, shot(t, "deckhand_polish.usda").study, shot(t, "deckhand_retimed.usda").study, nil, nil, passes.Options{Reference: true})
	if c.Shift != 0 || c.ComparedBeats < 10 || len(c.Beats) != 1 {
		t.Fatalf("shift %g, %d of %d beats differ", c.Shift, len(c.Beats), c.ComparedBeats)
	}
	if b := &c.Beats[0]; b.Figure != "/Tug" || b.String() != "arrives 2 frames sooner" || b.First < 1029 || b.Last > 1047 {
		t.Errorf("%g-%g %s: %s %v", b.First, b.Last, b.Figure, b, b.Groups)
	}
}

// Captured walking is no reference for hauling a rope: without a beat in both, no
// shift is told.
func TestReferenceOfAnotherMove(t *testing.T) {
	walk := read(t, "walk.bvh", scenetest.Model(t, "BVH/01_01.bvh"), &config.Config{})
	c := compared(t, walk.study, shot(t, "deckhand_polish.usda").study, nil, nil, passes.Options{})
	if !c.Reference || c.ComparedBeats != 0 || c.Shift != 0 {
		t.Errorf("reference %v, %d beats, shift %g", c.Reference, c.ComparedBeats, c.Shift)
	}
}
