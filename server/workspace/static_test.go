package workspace

import (
	"bytes"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"go.lsp.dev/uri"

	"curvelint/parse/text"
)

// TestStaticValueEdited: a value that stands still is part of the motion of all
// below it; what was studied before does not stand for it, and the scene read
// before stays as it was.
func TestStaticValueEdited(t *testing.T) {
	const arm = "#usda 1.0\n(\n    timeCodesPerSecond = 24\n)\ndef Xform \"arm\"\n{\n    double3 xformOp:translate = (0, 5, 0)\n    uniform token[] xformOpOrder = [\"xformOp:translate\"]\n"
	scene := arm + strings.TrimPrefix(crank, "#usda 1.0\n(\n    timeCodesPerSecond = 24\n)\n") + "}\n"
	for _, value := range []string{"9", "123.5"} {
		s := New()
		defer s.Close()
		u := uri.File(filepath.Join(t.TempDir(), "arm.usda"))
		d := s.Open(u, 1, []byte(scene))
		before, err := s.Shot(t.Context(), d)
		if err != nil {
			t.Fatal(err)
		}
		before.Study.Figures()[0].PointTrack(0)
		line := strings.Count(scene[:strings.Index(scene, "(0, 5")], "\n")
		column := strings.Index(strings.Split(scene, "\n")[line], "5,")
		d = s.Change(u, 2, text.UTF8, []Change{{Start: text.Position{Line: line, Column: column}, End: text.Position{Line: line, Column: column + 1}, Text: value}})
		after, err := s.Shot(t.Context(), d)
		if err != nil {
			t.Fatal(err)
		}
		fresh, err := s.Shot(t.Context(), s.Open(uri.File(filepath.Join(t.TempDir(), "arm.usda")), 1, bytes.Clone(d.Text())))
		if err != nil {
			t.Fatal(err)
		}
		got, want := after.Study.Figures()[0].PointTrack(0), fresh.Study.Figures()[0].PointTrack(0)
		if got.Origin != want.Origin || got.Unit != want.Unit || !slices.Equal(got.Y, want.Y) {
			t.Errorf("a point starts at %v, want %v", got.Origin, want.Origin)
		}
		if got := before.Scene.Parts[0].Ops[0].Value; !slices.Equal(got, []float64{0, 5, 0}) {
			t.Errorf("the scene before the edit has changed: %v", got)
		}
		if got := after.Scene.Parts[0].Ops[0].Value; slices.Equal(got, []float64{0, 5, 0}) {
			t.Errorf("the edit is not in the scene: %v", got)
		}
	}
}
