package passes_test

import (
	"bytes"
	"fmt"
	"math"
	"strings"
	"testing"

	"curvelint/cmd/lab/scenetest"
	"curvelint/diagnostics/config"
	"curvelint/diagnostics/passes"
)

// lines edits the motion lines of a BVH: keep says which stay, interval is their
// frame time.
func lines(src []byte, interval string, keep func([]string) []string) []byte {
	head, body, _ := strings.Cut(strings.ReplaceAll(string(src), "\r", ""), "MOTION\n")
	var rows []string
	for _, l := range strings.Split(body, "\n")[2:] {
		if strings.TrimSpace(l) != "" {
			rows = append(rows, l)
		}
	}
	rows = keep(rows)
	var b bytes.Buffer
	fmt.Fprintf(&b, "%sMOTION\nFrames: %d\nFrame Time: %s\n%s\n", head, len(rows), interval, strings.Join(rows, "\n"))
	return b.Bytes()
}

// Captured motion against itself at a fifth of its frames: nothing changed, though
// rates and strokes differ.
func TestCapturedThinned(t *testing.T) {
	src := scenetest.Model(t, "BVH/01_01.bvh")
	cfg := &config.Config{}
	full := lines(src, "0.0083333", func(r []string) []string { return r[1:] }) // its first pose is no motion
	thin := lines(src, "0.0416667", func(r []string) (out []string) {
		for i := 1; i < len(r); i += 5 {
			out = append(out, r[i])
		}
		return out
	})
	a, b := read(t, "full.bvh", full, cfg), read(t, "thin.bvh", thin, cfg)
	c := compared(t, a.study, b.study, nil, nil, passes.Options{})
	if !c.Empty() || c.Compared < 50 {
		t.Errorf("%d compared, shift %g, beats %d, parts %d, orders %d, holds %d", c.Compared, c.Shift, len(c.Beats), len(c.Parts), len(c.Orders), len(c.Holds))
		for i := range c.Parts {
			for j := range c.Parts[i].Moves {
				t.Logf("%s %s", c.Parts[i].Name, &c.Parts[i].Moves[j])
			}
		}
	}
	// As a reference: no beat differs either.
	c = compared(t, a.study, b.study, nil, nil, passes.Options{Reference: true})
	if c.Shift != 0 || len(c.Beats) != 0 || c.ComparedBeats == 0 {
		t.Errorf("as reference: shift %g, %d of %d beats differ", c.Shift, len(c.Beats), c.ComparedBeats)
	}
	// A second cut off its beginning is a shift of a second.
	cut := read(t, "cut.bvh", lines(thin, "0.0416667", func(r []string) []string { return r[24:] }), cfg)
	c = compared(t, b.study, cut.study, nil, nil, passes.Options{Reference: true})
	if math.Abs(c.Shift+24) > 1 || len(c.Beats) != 0 {
		t.Errorf("cut by 24 frames: shift %g, beats %d", c.Shift, len(c.Beats))
	}
}

// Files of two other writers against themselves.
func TestOtherWriters(t *testing.T) {
	for _, name := range []string{"BVH/Boxing_Toes.bvh", "Collada/box_nested_animation.dae"} {
		p := read(t, name, scenetest.Model(t, name), &config.Config{})
		c := compared(t, p.study, p.study, p.notes, p.notes, passes.Options{})
		if !c.Empty() {
			t.Errorf("%s against itself: %d parts, %d beats", name, len(c.Parts), len(c.Beats))
		}
	}
}
