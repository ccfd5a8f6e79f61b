package write_test

import (
	"bytes"
	"io"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/cmd/lab/designed"
	"curvelint/cmd/lab/designed/write"
	"curvelint/parse"
	"curvelint/parse/scene"
)

// awkward is a shot whose names need care: namespaces, dots, spaces, quotes,
// markup, a leading digit, names that differ only in what gets replaced.
func awkward() (*designed.Shot, []string) {
	names := []string{"mate:Hips", "arm.l", "arm,l", `the "big" one`, "a<b>&c", "7th", "Ärmel", "under_score", "tab\tbed", "semi;colon"}
	s := designed.NewShot(`awkward "shot" <1>`, 0.5)
	s.Note = "back\\slash and \"quotes\""
	root := s.Add(-1, designed.Part{Name: "Top"})
	for i, n := range names {
		s.Add(root, designed.Part{Name: n, Offset: r3.Vec{X: float64(i + 1)},
			Turn: [3]designed.Signal{designed.Wave(float64(10+i), 1, 0)}})
	}
	s.Figures = []designed.Figure{{Name: "Top", Root: root}}
	return s, names
}

// TestAwkwardNames writes awkward names in every format: the file is well
// formed, and no part is lost.
func TestAwkwardNames(t *testing.T) {
	shot, names := awkward()
	take := shot.Take(24)
	for _, f := range formats {
		var b bytes.Buffer
		if err := f.write(&b, take); err != nil {
			t.Fatal(err)
		}
		sc := parse.Parse(f.name, b.Bytes(), scene.ReadOptions{})
		for _, p := range sc.Problems {
			t.Errorf("%s: %s: %s", f.name, p.Kind, p.Message)
		}
		turning := map[scene.PartID]bool{}
		for i := range sc.Channels {
			turning[sc.Channels[i].Part] = true
		}
		n := 0
		for id := range turning {
			if sc.Parts[id].Parent != scene.NoPart {
				n++
			}
		}
		if n != len(names) {
			t.Errorf("%s: %d parts turn, wrote %d", f.name, n, len(names))
		}
	}
}

// TestNamesAsWritten: formats that allow any name keep it.
func TestNamesAsWritten(t *testing.T) {
	shot, names := awkward()
	for _, f := range []struct {
		name  string
		write func(io.Writer, *designed.Take) error
		not   string // names with one of these are changed
	}{
		{"a.bvh", write.BVH, "\t"},
		{"a.csv", write.Table, ""},
		{"a.dae", write.COLLADA, "\t"},
	} {
		var b bytes.Buffer
		if err := f.write(&b, shot.Take(24)); err != nil {
			t.Fatal(err)
		}
		sc := parse.Parse(f.name, b.Bytes(), scene.ReadOptions{})
		for _, n := range names {
			if f.not != "" && strings.ContainsAny(n, f.not) {
				continue
			}
			if sc.Find("/Top/"+n) == scene.NoPart {
				t.Errorf("%s: no part is called %q", f.name, n)
			}
		}
	}
}
