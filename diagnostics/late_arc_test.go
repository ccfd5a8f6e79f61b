package diagnostics_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/diagnostics"
	"curvelint/diagnostics/checks/paths"
	"curvelint/diagnostics/config"
	"curvelint/diagnostics/note"
	"curvelint/parse"
	"curvelint/parse/scene"
)

// bentWay is a way of the given length, straight but for a bend of 75 degrees in its
// last fifth, gone through between frames 20 and 34 with minimum jerk (T. Flash,
// N. Hogan, J. Neurosci. 5, 1985).
func bentWay(frame, length float64) r3.Vec {
	u := min(1, max(0, (frame-20)/14))
	walked := 10*u*u*u - 15*u*u*u*u + 6*u*u*u*u*u
	var p r3.Vec
	const steps = 400
	for i := range steps {
		at := (float64(i) + 0.5) / steps
		if at > walked {
			break
		}
		angle := 75 * math.Pi / 180 * min(1, max(0, (at-0.8)/0.2))
		p.Y += length / steps * math.Cos(angle)
		p.Z += length / steps * math.Sin(angle)
	}
	return p
}

// winchman is an invented figure as BVH whose right hand goes the way.
func winchman(way func(frame int) r3.Vec) string {
	var b strings.Builder
	b.WriteString("HIERARCHY\nROOT hips\n{\nOFFSET 0 0 0\nCHANNELS 3 Xposition Yposition Zposition\n")
	b.WriteString("JOINT spine\n{\nOFFSET 0 30 0\nCHANNELS 1 Xrotation\nJOINT head\n{\nOFFSET 0 30 0\nCHANNELS 1 Xrotation\nEnd Site\n{\nOFFSET 0 20 0\n}\n}\n")
	b.WriteString("JOINT hand_r\n{\nOFFSET -30 0 40\nCHANNELS 3 Xposition Yposition Zposition\nEnd Site\n{\nOFFSET 0 0 10\n}\n}\n}\n")
	b.WriteString("JOINT thigh_r\n{\nOFFSET -10 -5 0\nCHANNELS 1 Xrotation\nJOINT foot_r\n{\nOFFSET 0 -85 0\nCHANNELS 1 Xrotation\nEnd Site\n{\nOFFSET 0 -5 10\n}\n}\n}\n")
	b.WriteString("}\nMOTION\nFrames: 60\nFrame Time: 0.0416667\n")
	for f := range 60 {
		p := way(f)
		fmt.Fprintf(&b, "0 100 0 0 0 -30 %.4f %.4f 0 0\n", p.Y, 40+p.Z)
	}
	return b.String()
}

// crate is a thing that goes it.
func crate(way func(frame int) r3.Vec) string {
	var b strings.Builder
	b.WriteString("HIERARCHY\nROOT crate\n{\nOFFSET 0 0 0\nCHANNELS 3 Xposition Yposition Zposition\nEnd Site\n{\nOFFSET 0 0 120\n}\n}\nMOTION\nFrames: 60\nFrame Time: 0.0416667\n")
	for f := range 60 {
		p := way(f)
		fmt.Fprintf(&b, "0 %.4f %.4f\n", 100+p.Y, p.Z)
	}
	return b.String()
}

// TestLateArc: the sizes and paths that are judged, and those that are not.
func TestLateArc(t *testing.T) {
	bent := func(length float64) func(int) r3.Vec {
		return func(f int) r3.Vec { return bentWay(float64(f), length) }
	}
	for _, tt := range []struct {
		about, text string
		want        bool
	}{
		{"a hand", winchman(bent(40)), true},
		{"a hand, a short way", winchman(bent(19)), true},
		{"a hand, hardly a way", winchman(bent(10)), false},
		{"a crate that hands carry", crate(bent(40)), false},
		{"a hand that pops where it sets off", winchman(func(f int) r3.Vec {
			u := min(1, max(0, float64(f-20)/14))
			angle := math.Pi / 3 * (10*u*u*u - 15*u*u*u*u + 6*u*u*u*u*u)
			p := r3.Vec{Y: 40 * math.Sin(angle), Z: 40 * (1 - math.Cos(angle))}
			if f == 22 {
				p.Z += 4
			}
			return p
		}), false},
	} {
		sc := parse.Parse("a.bvh", []byte(tt.text), scene.ReadOptions{})
		if len(sc.Problems) > 0 {
			t.Fatal(sc.Problems)
		}
		notes := diagnostics.Judge{Config: &config.Config{}}.Scene(t.Context(), sc).Notes
		if got := slices.ContainsFunc(notes, func(n note.Note) bool { return n.Check == paths.LateArc.ID }); got != tt.want {
			t.Errorf("%s: late arc %v, want %v; notes: %v", tt.about, got, tt.want, notes)
		}
	}
}

// TestHeadThatTurnsAboutItself: a nod of a few degrees on a figurehead's head that turns
// far about the axis through its point goes its arc, which is nearly straight.
func TestHeadThatTurnsAboutItself(t *testing.T) {
	var b strings.Builder
	b.WriteString("HIERARCHY\nROOT neck\n{\nOFFSET 0 0 0\nCHANNELS 1 Xrotation\nJOINT head\n{\nOFFSET 0 10 0\nCHANNELS 1 Yrotation\nEnd Site\n{\nOFFSET 0 22 0\n}\n}\n}\nMOTION\nFrames: 60\nFrame Time: 0.0416667\n")
	for f := range 60 {
		u := min(1, max(0, float64(f-20)/14))
		s := 10*u*u*u - 15*u*u*u*u + 6*u*u*u*u*u
		fmt.Fprintf(&b, "%.4f %.4f\n", 8*s, 60*s)
	}
	sc := parse.Parse("a.bvh", []byte(b.String()), scene.ReadOptions{})
	if len(sc.Problems) > 0 {
		t.Fatal(sc.Problems)
	}
	for _, n := range (diagnostics.Judge{Config: &config.Config{}}).Scene(t.Context(), sc).Notes {
		if n.Check == paths.FlatArc.ID {
			t.Error(n.Message)
		}
	}
}
