package table

import (
	"fmt"
	"strings"
	"testing"

	"curvelint/cmd/lab/scenetest"
	"curvelint/parse/scene"
)

// TestTruncated cuts a table at 200 places: no number that was cut is used,
// and that a row is not whole is said.
func TestTruncated(t *testing.T) {
	src := sway(60)
	whole := Parse("rope.csv", src, scene.ReadOptions{})
	header := strings.IndexByte(string(src), '\n') + 1
	for i := range 200 {
		n := len(src) * i / 200
		s := Parse("rope.csv", src[:n], scene.ReadOptions{})
		scenetest.Hold(t, s)
		if n < header {
			continue
		}
		fields := strings.Count(string(src[:n][strings.LastIndexByte(string(src[:n]), '\n')+1:]), ",")
		if src[n-1] != '\n' && fields < 3 && len(s.Problems) == 0 {
			t.Errorf("nothing is said of a row cut at %d", n)
		}
		for c := range s.Channels {
			got, want := &s.Channels[c].Curve, &whole.Channels[c].Curve
			for k, v := range got.Values {
				// The last cell of the last row may have lost digits unseen.
				last := c == 2 && k == len(got.Values)-1 && src[n-1] != '\n'
				if (v != want.Values[k] && !last) || got.Times[k] != want.Times[k] {
					t.Fatalf("cut at %d: key %d of channel %d is %v, want %v", n, k, c, v, want.Values[k])
				}
			}
		}
	}
}

// TestHostile: what a table claims costs no more than the file itself.
func TestHostile(t *testing.T) {
	wide := "frame" + strings.Repeat(",", 200000) + "\n"
	var columns, rows strings.Builder
	for i := range 30000 {
		fmt.Fprintf(&columns, ",c%d", i)
		fmt.Fprintf(&rows, "%d,1\n", i)
	}
	long := strings.Repeat("n", 200)
	for name, src := range map[string]string{
		"many columns, short rows": "frame" + columns.String() + "\n" + rows.String(),
		"no names":                 wide,
		"deep path":                "frame," + strings.Repeat("a/", 10000) + "b.tx\n1,2\n",
		"long paths":               "frame," + strings.Repeat(long+"/", 100) + "a.tx" + strings.ReplaceAll(columns.String(), ",", ","+long+"/") + "\n1,2\n",
		"one long number":          "frame,a.tx\n1," + strings.Repeat("1", 1000000) + "\n",
		"open quotes":              "frame,a.tx\n" + strings.Repeat("1,\"\"\"\n", 100000),
		"quotes alone":             "frame,a.tx\n1," + strings.Repeat("\"", 200001),
		"separators":               "frame,a.tx\n1,2" + strings.Repeat(",x", 200000) + "\n",
		"same frame":               "frame,a.tx\n" + strings.Repeat("1,2\n", 100000),
		"zero bytes":               "frame,a.tx\n1," + strings.Repeat("\x00", 100000),
		"no UTF-8":                 "frame,\xff.tx\n1,\xfe\n",
		"huge frames":              "time,a.tx\n-1e308,1\n1e308,2\n",
	} {
		t.Run(name, func(t *testing.T) {
			var s *scene.Scene
			n := scenetest.Allocated(func() { s = Parse("x.csv", []byte(src), scene.ReadOptions{}) })
			scenetest.Hold(t, s)
			if len(s.Problems) == 0 && name != "one long number" {
				t.Error("nothing is said of it")
			}
			if most := uint64(300*len(src) + 1<<20); n > most {
				t.Errorf("%d bytes allocated for a file of %d", n, len(src))
			}
		})
	}
}

// TestWorkers: the number of goroutines changes nothing.
func TestWorkers(t *testing.T) {
	src := string(sway(60000)) + "60001,1,x,3\n60002,1\n"
	want := parse("rope.csv", []byte(src), scene.ReadOptions{}, 1)
	if len(want.Problems) != 2 {
		t.Errorf("problems %v", want.Problems)
	}
	got := parse("rope.csv", []byte(src), scene.ReadOptions{}, 3)
	if fmt.Sprint(got.Problems) != fmt.Sprint(want.Problems) || fmt.Sprint(got.Channels) != fmt.Sprint(want.Channels) {
		t.Error("three goroutines read another scene")
	}
}

func seeds(f *testing.F) {
	f.Add([]byte(deck))
	for _, src := range scenetest.Broken(f, "../../testdata/broken/table/*.txtar") {
		f.Add(src)
	}
}

func FuzzParse(f *testing.F) {
	seeds(f)
	f.Fuzz(func(t *testing.T, src []byte) {
		scenetest.Hold(t, Parse("x.csv", src, scene.ReadOptions{MaxDepth: 8}))
	})
}

func FuzzReread(f *testing.F) {
	f.Add(sway(4), 60, 61, []byte("1"))
	f.Add([]byte(deck), 400, 401, []byte("\n"))
	f.Fuzz(func(t *testing.T, src []byte, start, end int, text []byte) {
		if start < 0 || end < start || end > len(src) {
			return
		}
		old := Parse("x.csv", src, scene.ReadOptions{})
		e := scene.Edit{Start: start, End: end, New: text}
		if got, ok := Reread(old, e); ok {
			checkReread(t, old, e, got)
		}
	})
}
