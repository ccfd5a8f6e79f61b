package workspace

import (
	"bytes"
	"context"
	"errors"
	"math/rand/v2"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"go.lsp.dev/uri"

	"curvelint/parse/text"
)

func TestFutureComputesOnce(t *testing.T) {
	var f future[int]
	var runs atomic.Int32
	compute := func(context.Context) (int, error) {
		runs.Add(1)
		time.Sleep(10 * time.Millisecond)
		return 7, nil
	}
	var wg sync.WaitGroup
	for range 20 {
		wg.Go(func() {
			if v, err := f.get(t.Context(), t.Context(), "counting", compute); v != 7 || err != nil {
				t.Errorf("%d, %v", v, err)
			}
		})
	}
	wg.Wait()
	if n := runs.Load(); n != 1 {
		t.Errorf("computed %d times", n)
	}
	if v, ok := f.peek(); !ok || v != 7 {
		t.Errorf("peek: %d, %v", v, ok)
	}
}

// TestFutureGivesUp: when the last one who waits goes, the work ends; who comes
// later has it done anew.
func TestFutureGivesUp(t *testing.T) {
	var f future[int]
	ended := make(chan struct{})
	ctx, cancel := context.WithCancel(t.Context())
	started := make(chan struct{})
	go func() {
		<-started
		cancel()
	}()
	_, err := f.get(ctx, t.Context(), "waiting", func(ctx context.Context) (int, error) {
		close(started)
		<-ctx.Done()
		close(ended)
		return 0, ctx.Err()
	})
	if !errors.Is(err, context.Canceled) {
		t.Errorf("error %v", err)
	}
	select {
	case <-ended:
	case <-time.After(5 * time.Second):
		t.Fatal("the work goes on though nobody waits")
	}
	if v, err := f.get(t.Context(), t.Context(), "counting", func(context.Context) (int, error) { return 3, nil }); v != 3 || err != nil {
		t.Errorf("after giving up: %d, %v", v, err)
	}
}

func TestFutureForgetsErrors(t *testing.T) {
	var f future[int]
	if _, err := f.get(t.Context(), t.Context(), "counting", func(context.Context) (int, error) { return 0, errors.New("no") }); err == nil {
		t.Fatal("no error")
	}
	if v, err := f.get(t.Context(), t.Context(), "counting", func(context.Context) (int, error) { return 1, nil }); v != 1 || err != nil {
		t.Errorf("%d, %v", v, err)
	}
}

// TestDifference: the edit between two random texts turns one into the other.
func TestDifference(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	alphabet := []string{"a", "b", "\r\n", "\n", "\u00e9", "\U0001F6A2", strings.Repeat("x", 5000)}
	random := func(n int) []byte {
		var b bytes.Buffer
		for range n {
			b.WriteString(alphabet[r.IntN(len(alphabet))])
		}
		return b.Bytes()
	}
	for range 2000 {
		a := random(r.IntN(8))
		cut := 0
		if len(a) > 0 {
			cut = r.IntN(len(a))
		}
		b := append(append(append([]byte{}, a[:cut]...), random(r.IntN(3))...), a[cut:]...)
		e := difference(a, b)
		// Knowing where to look finds an edit that does the same.
		if n := narrowed(a, b, cut, cut); !bytes.Equal(n.After(a), b) || !bytes.Equal(slices.Concat(a[:n.Start], n.New, a[n.End:]), b) {
			t.Fatalf("%q with %d-%d replaced by %q is not %q", a, n.Start, n.End, n.New, b)
		}
		if e.Start < 0 || e.End < e.Start || e.End > len(a) {
			t.Fatalf("edit %d-%d of %d bytes", e.Start, e.End, len(a))
		}
		got := append(append(append([]byte{}, a[:e.Start]...), e.New...), a[e.End:]...)
		if !bytes.Equal(got, b) {
			t.Fatalf("%q with %d-%d replaced by %q is %q, want %q", a, e.Start, e.End, e.New, got, b)
		}
	}
}

// TestApplyManyCursors: changes from the end to the start, as of several
// cursors, give the same text as one after another.
func TestApplyManyCursors(t *testing.T) {
	src := strings.Repeat("line of the ferry\n", 50)
	var many []Change
	for line := 48; line >= 0; line -= 2 {
		many = append(many, Change{Start: text.Position{Line: line, Column: 5}, End: text.Position{Line: line, Column: 7}, Text: "at\nthe"})
	}
	want := text.NewIndex([]byte(src))
	for i := range many {
		want = Apply(want, text.UTF16, many[i:i+1])
	}
	got := Apply(text.NewIndex([]byte(src)), text.UTF16, many)
	if !bytes.Equal(got.Text(), want.Text()) || got.Lines() != want.Lines() {
		t.Errorf("got %q\nwant %q", got.Text(), want.Text())
	}
	// Out of range and the wrong way round.
	x := Apply(text.NewIndex([]byte("ab\ncd")), text.UTF8, []Change{{Start: text.Position{Line: 9, Column: 9}, End: text.Position{Line: 1, Column: 1}, Text: "X"}})
	if string(x.Text()) != "ab\ncX" {
		t.Errorf("%q", x.Text())
	}
}

// crank is a small shot: invented data.
const crank = "#usda 1.0\n(\n    timeCodesPerSecond = 24\n)\ndef Xform \"crank\"\n{\n    float xformOp:rotateX.timeSamples = {\n        1: 0,\n        12: 30.5,\n        23: 90,\n    }\n    uniform token[] xformOpOrder = [\"xformOp:rotateX\"]\n}\n"

// TestRereadsAndStudiesOnlyWhatChanged: an edit of a number makes a new scene
// from the old one, and its study from the old study.
func TestRereadsAndStudiesOnlyWhatChanged(t *testing.T) {
	s := New()
	defer s.Close()
	u := uri.File(filepath.Join(t.TempDir(), "crank.usda"))
	d := s.Open(u, 1, []byte(crank))
	if _, err := s.Shot(t.Context(), d); err != nil {
		t.Fatal(err)
	}
	line := strings.Count(crank[:strings.Index(crank, "12: 30.5")], "\n")
	d = s.Change(u, 2, text.UTF8, []Change{{Start: text.Position{Line: line, Column: 12}, End: text.Position{Line: line, Column: 16}, Text: "45"}})
	r, err := s.Read(t.Context(), d)
	if err != nil {
		t.Fatal(err)
	}
	if from := r.origin(); from.shot == nil || len(from.changed) != 1 {
		t.Errorf("read anew: studied %v, changed %v", from.shot, from.changed)
	}
	if v := r.Scene.Channels[0].Curve.Values[1]; v != 45 {
		t.Errorf("value %g", v)
	}
	if &r.Scene.Files[0].Text[0] != &d.Text()[0] {
		t.Error("the text is in memory twice")
	}
	if d.previous() != nil {
		t.Error("the version before is kept")
	}
	shot, err := s.Shot(t.Context(), d)
	if err != nil || shot.Study.Scene != r.Scene {
		t.Errorf("study of another scene, %v", err)
	}
}

func TestLookup(t *testing.T) {
	s := New()
	defer s.Close()
	// The keys are not in the order of their times.
	unordered := strings.Replace(crank, "        1: 0,\n        12: 30.5,\n", "        12: 30.5,\n        1: 0,\n", 1)
	for _, src := range []string{crank, unordered} {
		d := s.Open(uri.File(filepath.Join(t.TempDir(), "crank.usda")), 1, []byte(src))
		r, err := s.Read(t.Context(), d)
		if err != nil {
			t.Fatal(err)
		}
		for want, at := range map[float64]int{1: strings.Index(src, " 1: 0") + 4, 12: strings.Index(src, "30.5") + 2, 23: strings.Index(src, "23: ")} {
			p, ok := r.Lookup.KeyAt(0, at)
			if !ok || r.Scene.Channels[p.Channel].Curve.Times[p.Key] != want {
				t.Errorf("offset %d: %+v, want the key on frame %g", at, p, want)
			}
		}
		if _, ok := r.Lookup.KeyAt(0, 3); ok {
			t.Error("a key in the first line")
		}
		if id := r.Lookup.HeaderAt(0, strings.Index(src, "def Xform")+3); id < 0 || r.Scene.Parts[id].Name != "crank" {
			t.Errorf("header of part %d", id)
		}
	}
}
