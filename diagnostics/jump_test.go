package diagnostics_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"curvelint/diagnostics"
	"curvelint/diagnostics/checks/paths"
	"curvelint/diagnostics/config"
	"curvelint/parse"
	"curvelint/parse/scene"
)

// crouch is an invented hop as BVH: the body goes forward, turns a bend at once and
// sinks, and with hops flies a parabola afterwards, feet and all. The feet have
// places of their own, so that they stand while the body sinks.
func crouch(hops bool) string {
	var b strings.Builder
	b.WriteString("HIERARCHY\nROOT hips\n{\nOFFSET 0 0 0\nCHANNELS 3 Xposition Yposition Zposition\n")
	b.WriteString("JOINT spine\n{\nOFFSET 0 30 0\nCHANNELS 1 Xrotation\nJOINT head\n{\nOFFSET 0 30 0\nCHANNELS 1 Xrotation\nEnd Site\n{\nOFFSET 0 20 0\n}\n}\n}\n")
	for _, side := range []string{"l", "r"} {
		x := 10
		if side == "r" {
			x = -10
		}
		fmt.Fprintf(&b, "JOINT thigh_%s\n{\nOFFSET %d -5 0\nCHANNELS 1 Xrotation\nJOINT foot_%s\n{\nOFFSET 0 -85 0\nCHANNELS 3 Xposition Yposition Zposition\nEnd Site\n{\nOFFSET 0 -5 10\n}\n}\n}\n", side, x, side)
	}
	b.WriteString("}\nMOTION\nFrames: 96\nFrame Time: 0.0416667\n")
	for f := range 96 {
		// The minimum-jerk way (T. Flash, N. Hogan, J. Neurosci. 5, 1985) along a bent line.
		u := min(1, max(0, float64(f-20)/14))
		s := 60 * (10*u*u*u - 15*u*u*u*u + 6*u*u*u*u*u)
		z, y := s, 0.0
		if s > 12 {
			turned := min(1, (s-12)/6)
			angle := turned * math.Pi / 2
			z = 12 + 4*math.Sin(angle)
			y = -4*(1-math.Cos(angle)) - max(0, s-18)
		}
		air := 0.0
		if t := float64(f-38) / 24; hops && t > 0 && t < 0.7 {
			air = 981 / 2 * t * (0.7 - t)
		}
		fmt.Fprintf(&b, "0 %.4f %.4f 0 0 ", 100+y+air, z)
		for range 2 {
			fmt.Fprintf(&b, "0 0 %.4f %.4f ", -85-y, -z)
		}
		b.WriteString("\n")
	}
	return b.String()
}

// TestArcOfAJump: a path that bends at one end only is a late arc, but not when the
// body gathers for a jump.
func TestArcOfAJump(t *testing.T) {
	for hops, want := range map[bool]bool{false: true, true: false} {
		sc := parse.Parse("hop.bvh", []byte(crouch(hops)), scene.ReadOptions{})
		if len(sc.Problems) > 0 {
			t.Fatal(sc.Problems)
		}
		found := false
		for _, n := range (diagnostics.Judge{Config: &config.Config{}}).Scene(t.Context(), sc).Notes {
			found = found || n.Check == paths.LateArc.ID
		}
		if found != want {
			t.Errorf("hops %v: late arc %v, want %v", hops, found, want)
		}
	}
}
