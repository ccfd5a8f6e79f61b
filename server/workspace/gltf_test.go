package workspace

import (
	"bytes"
	"path/filepath"
	"slices"
	"testing"

	"go.lsp.dev/uri"

	"curvelint/cmd/lab/designed"
	"curvelint/cmd/lab/designed/write"
	"curvelint/parse/text"
)

// TestGLTFEdited edits numbers that stand still, numbers in whose place channels
// stand, and the data of a glTF: the study that takes over what it can is that of
// a session that opens the text as it is then.
func TestGLTFEdited(t *testing.T) {
	var b bytes.Buffer
	if err := write.GLTF(&b, designed.Bake(6, 80)); err != nil {
		t.Fatal(err)
	}
	s := New()
	defer s.Close()
	u := uri.File(filepath.Join(t.TempDir(), "bake.gltf"))
	d := s.Open(u, 1, bytes.Clone(b.Bytes()))
	mark := []byte(`"translation": [`)
	first := bytes.Index(b.Bytes(), mark) + len(mark)
	second := first + bytes.Index(b.Bytes()[first:], mark) + len(mark)
	digit := func(from int) int { return from + bytes.IndexAny(b.Bytes()[from:], "123456789") }
	for i, at := range []int{digit(first), digit(second), bytes.Index(b.Bytes(), []byte("base64,")) + b.Len()/2} {
		before, err := s.Shot(t.Context(), d)
		if err != nil {
			t.Fatal(err)
		}
		for k := range before.Study.Figures()[0].Points {
			before.Study.Figures()[0].PointTrack(k)
		}
		from, _ := d.Index.Position(at, text.UTF8)
		to := text.Position{Line: from.Line, Column: from.Column + 1}
		d = s.Change(u, int32(i+2), text.UTF8, []Change{{Start: from, End: to, Text: "0"}})
		after, err := s.Shot(t.Context(), d)
		if err != nil {
			t.Fatal(err)
		}
		fresh, err := s.Shot(t.Context(), s.Open(uri.File(filepath.Join(t.TempDir(), "bake.gltf")), 1, bytes.Clone(d.Text())))
		if err != nil {
			t.Fatal(err)
		}
		got, want := after.Study.Figures()[0], fresh.Study.Figures()[0]
		for k := range want.Points {
			x, y := got.PointTrack(k), want.PointTrack(k)
			if !slices.Equal(x.X, y.X) || !slices.Equal(x.Y, y.Y) || !slices.Equal(x.Z, y.Z) || x.Origin != y.Origin {
				t.Errorf("edit %d: the way of point %d differs", i, k)
			}
		}
		if len(after.Notes) != len(fresh.Notes) {
			t.Errorf("edit %d: %d notes, want %d", i, len(after.Notes), len(fresh.Notes))
		}
	}
}
