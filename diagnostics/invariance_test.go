package diagnostics_test

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"math"
	"path"
	"slices"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/cmd/lab/designed"
	"curvelint/cmd/lab/designed/write"
	"curvelint/diagnostics"
	"curvelint/diagnostics/config"
	"curvelint/diagnostics/note"
	"curvelint/parse"
	"curvelint/parse/scene"
)

// written is a shot as a file.
type written struct {
	name string
	rate float64
	text []byte
}

func writeShot(t *testing.T, s *designed.Shot, rate float64, name string, w func(io.Writer, *designed.Take) error) written {
	t.Helper()
	var b bytes.Buffer
	if err := w(&b, s.Take(rate)); err != nil {
		t.Fatal(err)
	}
	return written{name, rate, b.Bytes()}
}

// demoConfig is the demo's configuration.
func demoConfig(t testing.TB) *config.Config {
	t.Helper()
	cfg, err := config.Load("../testdata/demo/curvelint.toml", diagnostics.Schema())
	if err != nil {
		t.Fatal(err)
	}
	return cfg
}

func judge(t testing.TB, f written) (*scene.Scene, []note.Note) {
	t.Helper()
	sc := parse.Parse(f.name, f.text, scene.ReadOptions{})
	for _, p := range sc.Problems {
		t.Fatalf("%s: %s: %s", f.name, p.Kind, p.Message)
	}
	return sc, diagnostics.Judge{Config: demoConfig(t)}.Scene(context.Background(), sc).Notes
}

// brief says what a note finds: check, severity, the part's name and its time in
// seconds from the first frame.
type brief struct {
	check, part string
	severity    note.Severity
	from, to    float64
}

func briefs(sc *scene.Scene, notes []note.Note, rate float64) []brief {
	var out []brief
	for _, n := range notes {
		out = append(out, brief{n.Check, path.Base(n.Part), n.Severity, (n.First - sc.First) / rate, (n.Last - sc.First) / rate})
	}
	return out
}

// sameNotes demands that both lists hold the same notes, within one frame of
// rounding at the slower rate.
func sameNotes(t *testing.T, name string, got, want []brief, slack float64) {
	t.Helper()
	left := append([]brief(nil), got...)
	for _, w := range want {
		found := -1
		for i, g := range left {
			if g.check == w.check && g.part == w.part && g.severity == w.severity &&
				math.Abs(g.from-w.from) <= slack && math.Abs(g.to-w.to) <= slack {
				found = i
				break
			}
		}
		if found < 0 {
			t.Errorf("%s: no note like %+v among %+v", name, w, left)
			continue
		}
		left = append(left[:found], left[found+1:]...)
	}
	for _, g := range left {
		t.Errorf("%s: one note too many: %+v", name, g)
	}
}

// Notes are free of scale, rate and place: the same shot larger, elsewhere,
// turned, at other rates and in another format gives the same notes.
func TestInvariance(t *testing.T) {
	spline := func() *designed.Shot { return designed.Deckhand(designed.SplinePass) }
	base := writeShot(t, spline(), 24, "shot.usda", write.USDA)
	sc, notes := judge(t, base)
	want := briefs(sc, notes, 24)
	if len(want) < 3 {
		t.Fatalf("only %d notes on the earlier pass", len(want))
	}
	cases := []written{
		writeShot(t, spline().Scaled(100), 24, "scaled.usda", write.USDA),
		writeShot(t, spline().Scaled(0.01), 24, "small.usda", write.USDA),
		writeShot(t, spline().Moved(r3.Vec{X: 10_000 / spline().MetersPerUnit, Z: 5_000}), 24, "moved.usda", write.USDA),
		writeShot(t, spline().TurnedUp(90), 24, "turned.usda", write.USDA),
		writeShot(t, spline().ZUp(), 24, "zup.usda", write.USDA),
		writeShot(t, spline(), 24, "shot.bvh", write.BVH),
		writeShot(t, spline(), 24, "shot.gltf", write.GLTF),
		writeShot(t, spline(), 24, "shot.dae", write.COLLADA),
		writeShot(t, spline(), 24, "shot.x3d", write.X3D),
		writeShot(t, spline(), 24, "shot.x3dv", write.X3DClassic),
		writeShot(t, spline(), 24, "shot.csv", write.Table),
		writeShot(t, spline(), 24, "sparse.usda", write.USDASparse),
	}
	for _, rate := range []float64{25, 30, 60} {
		cases = append(cases, writeShot(t, spline(), rate, fmt.Sprintf("rate%g.usda", rate), write.USDA))
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			sc, notes := judge(t, c)
			want := want
			if f := sc.Format; f != "usda" && f != "collada" {
				// A BVH and a table are shown frame by frame, glTF and X3D take the
				// short way between quaternions: none of them can flip, and none
				// may be said to.
				want = slices.DeleteFunc(slices.Clone(want), func(b brief) bool { return b.check == "angle-flip" })
			}
			// Only the sparse file has keys that were set by themselves; some of its
			// lids' do nothing to within their last digit.
			if c.name == "sparse.usda" {
				notes = slices.DeleteFunc(notes, func(n note.Note) bool { return n.Check == "idle-key" })
			}
			sameNotes(t, c.name, briefs(sc, notes, c.rate), want, 1.0/24+1e-6)
		})
	}
}

// The polished pass is good motion: nothing at warning level, whatever the rate
// and place.
func TestPolishedPassIsQuiet(t *testing.T) {
	for _, pass := range []designed.Pass{designed.PolishPass, designed.RetimedPass} {
		for _, rate := range []float64{24, 25, 30, 60} {
			f := writeShot(t, designed.Deckhand(pass), rate, "polish.usda", write.USDA)
			_, notes := judge(t, f)
			for _, n := range notes {
				if n.Severity <= note.Warning {
					t.Errorf("%s at %g: %s: %s", pass.Name, rate, n.Check, n.Message)
				}
			}
		}
	}
}
