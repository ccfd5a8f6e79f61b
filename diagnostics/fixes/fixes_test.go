package fixes_test

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"curvelint/diagnostics"
	"curvelint/diagnostics/config"
	"curvelint/diagnostics/fixes"
	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/note"
	"curvelint/parse/scene"
)

func TestMain(m *testing.M) {
	diagnostics.PanicOnBugs(true)
	os.Exit(m.Run())
}

// shot is a scene of the demo with its configuration.
type shot struct {
	name string
	text []byte
	cfg  *config.Config
	res  *diagnostics.Result
}

func demo(t *testing.T, name string) *shot {
	t.Helper()
	dir := filepath.Join("..", "..", "testdata", "demo")
	text, err := os.ReadFile(filepath.Join(dir, name))
	if err != nil {
		t.Fatal(err)
	}
	cfg, err := config.Load(filepath.Join(dir, config.FileName), diagnostics.Schema())
	if err != nil {
		t.Fatal(err)
	}
	return judge(t, name, text, cfg)
}

func judge(t *testing.T, name string, text []byte, cfg *config.Config) *shot {
	t.Helper()
	sc := diagnostics.Read(name, text, cfg, nil)
	return &shot{name, text, cfg, diagnostics.Judge{Config: cfg}.Scene(context.Background(), sc)}
}

// find returns the first note of a check, of a part if one is named.
func (s *shot) find(t *testing.T, check, part string) *note.Note {
	t.Helper()
	for i := range s.res.Notes {
		if n := &s.res.Notes[i]; n.Check == check && strings.HasSuffix(n.Part, part) {
			return n
		}
	}
	t.Fatalf("%s has no %s at %q", s.name, check, part)
	return nil
}

// with returns the shot after a fix.
func (s *shot) with(t *testing.T, f *fixes.Fix) *shot {
	t.Helper()
	for i, e := range f.Edits {
		if i > 0 && e.Span.Start < f.Edits[i-1].Span.End {
			t.Fatalf("%s: edits overlap at %d", f.ID, e.Span.Start)
		}
	}
	return judge(t, s.name, fixes.Apply(s.res.Study.Scene, 0, f.Edits), s.cfg)
}

func (s *shot) brief(least note.Severity) []string {
	var out []string
	for i := range s.res.Notes {
		if n := &s.res.Notes[i]; n.Severity <= least {
			out = append(out, s.briefOf(i))
		}
	}
	return out
}

func (s *shot) briefOf(i int) string {
	n := &s.res.Notes[i]
	return fmt.Sprintf("%s %s %g-%g", n.Check, n.Part, n.First, n.Last)
}

// mended asserts what every fix must do: the note is gone, no warning is new,
// and outside the frames from first to last everything is where it was.
func mended(t *testing.T, before, after *shot, n *note.Note, first, last float64) {
	t.Helper()
	for i := range after.res.Notes {
		m := &after.res.Notes[i]
		if m.Check == n.Check && m.Part == n.Part && m.First <= n.Last && m.Last >= n.First {
			t.Errorf("%s is still there: %s", n.Check, m.Message)
		}
	}
	old := before.brief(note.Warning)
	for _, w := range after.brief(note.Warning) {
		if !slices.Contains(old, w) {
			t.Errorf("new: %s", w)
		}
	}
	unmoved(t, before.res.Study, after.res.Study, first, last)
}

// unmoved asserts that the parts are where they were on all frames but those
// from first to last.
func unmoved(t *testing.T, a, b *motion.Study, first, last float64) {
	t.Helper()
	if a.N != b.N || len(a.Scene.Parts) != len(b.Scene.Parts) {
		t.Fatalf("%d frames and %d parts became %d and %d", a.N, len(a.Scene.Parts), b.N, len(b.Scene.Parts))
	}
	for p := range a.Scene.Parts {
		wa, wb := a.Worlds(scene.PartID(p), 0, a.N), b.Worlds(scene.PartID(p), 0, b.N)
		for i := range wa {
			if f := a.Frame(i); f >= first && f <= last {
				continue
			}
			for k := range wa[i] {
				if d := wa[i][k] - wb[i][k]; d > 1e-9 || d < -1e-9 {
					t.Fatalf("%s moved by %g on frame %g, outside %g-%g", a.Scene.Parts[p].Path, d, a.Frame(i), first, last)
				}
			}
		}
	}
}

func fixOf(t *testing.T, s *shot, n *note.Note, id string) *fixes.Fix {
	t.Helper()
	list := fixes.For(s.res.Study, n)
	for i := range list {
		if list[i].ID == id {
			t.Logf("%s (%d edits) %s", list[i].Title, len(list[i].Edits), list[i].Refused)
			return &list[i]
		}
	}
	t.Fatalf("no fix %s for %s among %d", id, n.Message, len(list))
	return nil
}

func TestDemoFixes(t *testing.T) {
	for _, name := range []string{"deckhand_spline.usda", "deckhand_spline.bvh"} {
		for _, tt := range []struct {
			check, part, fix string
			before, beyond   float64 // frames that the fix may alter around the note
		}{
			{"even-spacing", "head", "ease", 0, 0},
			{"frozen-hold", "", "drift", 0, 0},
			{"pop", "jaw", "smooth", 0, 0},
			{"same-frame", "", "offset-1", 6, 7},
			{"same-frame", "", "offset-2", 8, 10},
			{"same-frame", "", "offset-3", 12, 15},
		} {
			t.Run(name+"/"+tt.fix, func(t *testing.T) {
				s := demo(t, name)
				n := s.find(t, tt.check, tt.part)
				f := fixOf(t, s, n, tt.fix)
				if f.Refused != "" {
					t.Fatalf("refused: %s", f.Refused)
				}
				after := s.with(t, f)
				mended(t, s, after, n, n.First-tt.before, n.Last+tt.beyond)
				for _, w := range after.brief(note.Information) {
					if !slices.Contains(s.brief(note.Information), w) {
						t.Logf("new information: %s", w)
					}
				}
			})
		}
	}
}
