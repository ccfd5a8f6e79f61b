package workspace

import (
	"context"
	"path/filepath"
	"strings"
	"testing"

	"go.lsp.dev/uri"

	"curvelint/diagnostics"
	"curvelint/parse/scene"
	"curvelint/parse/text"
)

// edited returns the study of crank, and of crank with another number in it.
func edited(t *testing.T) (before, after *Shot) {
	t.Helper()
	s := New()
	t.Cleanup(s.Close)
	u := uri.File(filepath.Join(t.TempDir(), "crank.usda"))
	before, err := s.Shot(t.Context(), s.Open(u, 1, []byte(crank)))
	if err != nil {
		t.Fatal(err)
	}
	line := strings.Count(crank[:strings.Index(crank, "12: 30.5")], "\n")
	d := s.Change(u, 2, text.UTF8, []Change{{Start: text.Position{Line: line, Column: 12}, End: text.Position{Line: line, Column: 16}, Text: "45"}})
	if after, err = s.Shot(t.Context(), d); err != nil {
		t.Fatal(err)
	}
	return before, after
}

// internal returns the messages of the internal notes of a study.
func internal(s *Shot) (messages []string) {
	for i := range s.Notes {
		if s.Notes[i].Check == string(scene.Internal) {
			messages = append(messages, s.Notes[i].Message)
		}
	}
	return messages
}

// A fault in re-reading an edit is told once, everything else comes from the
// whole text, and the next edit starts from a scene that knows nothing of it.
func TestFaultOfReread(t *testing.T) {
	defer func(f func(*scene.Scene, scene.Edit) (scene.Reread, bool)) { rereadScene = f }(rereadScene)
	_, whole := edited(t)
	rereadScene = func(*scene.Scene, scene.Edit) (scene.Reread, bool) {
		return scene.Reread{Fault: &scene.Problem{Kind: scene.Internal, Message: "reading the edited lines failed"}}, false
	}
	_, after := edited(t)
	if m := internal(after); len(m) != 1 || m[0] != "reading the edited lines failed" {
		t.Errorf("internal notes: %q", m)
	}
	if len(after.Notes) != len(whole.Notes)+1 || after.Scene.Channels[0].Curve.Values[1] != 45 {
		t.Errorf("%d notes, without the fault %d", len(after.Notes), len(whole.Notes))
	}
	if n := len(after.raw.Problems); n != 0 || len(after.Problems()) != 1 {
		t.Errorf("the scene that is read again has %d problems, that which is shown %d", n, len(after.Problems()))
	}
}

// A fault in work on a text is an error and does not end the session.
func TestFaultOfAFuture(t *testing.T) {
	diagnostics.PanicOnBugs(false)
	var f future[int]
	_, err := f.get(t.Context(), t.Context(), "the count", func(context.Context) (int, error) { panic("rope") })
	if err == nil || !strings.Contains(err.Error(), "the count failed by a fault of curvelint itself: rope (fault_test.go:") {
		t.Errorf("error %v", err)
	}
	if v, err := f.get(t.Context(), t.Context(), "the count", func(context.Context) (int, error) { return 1, nil }); v != 1 || err != nil {
		t.Errorf("after the fault: %d, %v", v, err)
	}
}
