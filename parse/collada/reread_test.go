package collada

import (
	"bytes"
	"fmt"
	"math/rand"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"curvelint/cmd/lab/scenetest"
	"curvelint/parse/scene"
)

var asFound = cmp.Options{cmpopts.EquateNaNs(), cmpopts.EquateEmpty()}

// checkReread applies an edit to a scene and, if it could be re-read, holds it
// against a whole reading. It returns whether it could.
func checkReread(t *testing.T, old *scene.Scene, e scene.Edit) bool {
	t.Helper()
	r, ok := Reread(old, e)
	if !ok {
		return false
	}
	src := old.Files[0].Text
	after := bytes.Join([][]byte{src[:e.Start], e.New, src[e.End:]}, nil)
	want := Parse("a.dae", after, scene.ReadOptions{})
	if d := cmp.Diff(want, r.Scene, asFound); d != "" {
		t.Fatalf("edit %d-%d %q: %s", e.Start, e.End, e.New, d)
	}
	changed := map[scene.ChannelID]bool{}
	for _, id := range r.Changed {
		changed[id] = true
	}
	for i := range want.Channels {
		same := cmp.Equal(want.Channels[i].Curve.Values, old.Channels[i].Curve.Values)
		if same == changed[scene.ChannelID(i)] {
			t.Fatalf("channel %d: same %v, named %v", i, same, !same)
		}
	}
	return true
}

// unchanged holds a scene against what its text says.
func unchanged(t *testing.T, s *scene.Scene) {
	t.Helper()
	if d := cmp.Diff(Parse("a.dae", s.Files[0].Text, scene.ReadOptions{}), s, asFound); d != "" {
		t.Errorf("the old scene changed: %s", d)
	}
}

// edited is a document with vectors, a matrix, an instance and a comment.
func edited() string {
	vector := rope{target: "rope/move", times: "0 1 2", values: "1.5 2 3\n4 5.25 6\n7 8 9", stride: 3}.document()
	matrix := strings.TrimSpace(strings.Repeat("1 0 0 0.5 0 1 0 0 0 0 1 0 0 0 0 1\n", 3))
	vector = strings.Replace(vector, "</animation>", `</animation><animation id="m">
<source id="mv"><float_array id="mva" count="48">`+matrix+`</float_array><technique_common><accessor source="#mva" count="3" stride="16"><param type="float4x4"/></accessor></technique_common></source>
<source id="w"><float_array count="3">10 20.125 <!-- here -->30</float_array><technique_common><accessor count="3"/></technique_common></source>
<source id="both"><float_array id="both-a" count="3">0 1 2</float_array><technique_common><accessor source="#both-a" count="3"/></technique_common></source>
<sampler id="ms"><input semantic="INPUT" source="#t"/><input semantic="OUTPUT" source="#mv"/></sampler><channel source="#ms" target="rope/m"/>
<sampler id="ws"><input semantic="INPUT" source="#t"/><input semantic="OUTPUT" source="#w"/></sampler><channel source="#ws" target="rope/grow.X"/>
<sampler id="bs"><input semantic="INPUT" source="#both"/><input semantic="OUTPUT" source="#both"/></sampler><channel source="#bs" target="rope/grow.Y"/>
</animation>`, 1)
	return strings.Replace(vector, `<node id="rope"`, `<node id="second"><instance_node url="#rope"/></node><node id="rope"`, 1)
}

func TestReread(t *testing.T) {
	src := edited()
	old := Parse("a.dae", []byte(src), scene.ReadOptions{})
	for _, test := range []struct {
		old, new string
		want     bool
	}{
		{"4 5.25 6", "4 5.125 6", true},
		{"4 5.25 6", "4 5 6", true}, // fewer decimals in all
		{"4 5.25 6", "4  5.25\t6", true},
		{"4 5.25 6", "40 50 60", true},
		{"1.5 2 3", "-1.5 2 3", true},
		{"7 8 9<", "7 8 91<", false}, // reaches into the tag
		{"7 8 9", "7 8 91", true},
		{"4 5.25 6", "4 5.25", false},
		{"4 5.25 6", "4 5.25 6 7", false},
		{"4 5.25 6", "4 x 6", false},
		{"4 5.25 6", "4 inf 6", false},
		{"4 5.25 6", "4 <!-- --> 5.25 6", false},
		{"1 0 0 0.5", "1 0 0 0.75", true},
		{"20.125", "20.25", false}, // a comment stands in the array
		{"0 1 2", "0 1 3", false},  // times
		{"grow.X", "grow.Z", false},
		{"6\n7", "6 \n\n7", true},
		{"</float_array>", " </float_array>", false},
	} {
		at := strings.LastIndex(src, test.old)
		e := scene.Edit{Start: at, End: at + len(test.old), New: []byte(test.new)}
		if got := checkReread(t, old, e); got != test.want {
			t.Errorf("%q to %q: re-read %v, want %v", test.old, test.new, got, test.want)
		}
	}
	unchanged(t, old)
}

// TestRereadAnywhere makes random edits of a few bytes at every place.
func TestRereadAnywhere(t *testing.T) {
	pieces := []string{"", "1", " ", "\n", ".5", "-", "7 8", "<", "e3", "&#32;", "\"", "x"}
	rnd := rand.New(rand.NewSource(1))
	for _, src := range []string{
		edited(),
		rope{times: "0 1 2", values: "1.5 2 3", methods: "BEZIER BEZIER BEZIER", inTangents: "1 2 3", outTangents: "1 2 3"}.document(),
		rope{times: "0 1 1 2", values: "1.5 2 3 4.5"}.document(),
		rope{target: "rope/turnX", times: "0 1", values: "0 1 0.5 10  0 1 0 50", stride: 4}.document(),
		rope{target: "rope/move.X", times: "0 1", values: "1 2 3 4 5", stride: 2}.document(),
	} {
		old := Parse("a.dae", []byte(src), scene.ReadOptions{})
		done := 0
		for i := range src {
			end := min(len(src), i+rnd.Intn(3))
			e := scene.Edit{Start: i, End: end, New: []byte(pieces[rnd.Intn(len(pieces))])}
			if checkReread(t, old, e) {
				done++
			}
		}
		unchanged(t, old)
		t.Logf("%d edits of %d bytes re-read", done, len(src))
	}
}

// BenchmarkReread changes one number of a bake; ratio is how many times faster
// that is than reading the whole file.
func BenchmarkReread(b *testing.B) {
	for _, frames := range []int{100, 2000, 20000} {
		src := bake(64, frames, true)
		b.Run(fmt.Sprintf("%dKB", len(src)/1000), func(b *testing.B) {
			old := Parse("a.dae", src, scene.ReadOptions{})
			at := int(old.Channels[100].Curve.Spans[50])
			e := scene.Edit{Start: at, End: at + 1, New: []byte("42")}
			scenetest.BenchReread(b,
				func() bool { _, ok := Reread(old, e); return ok },
				func() { Parse("a.dae", src, scene.ReadOptions{}) })
		})
	}
}

// FuzzReread: a scene that was read again is the same as one read anew.
func FuzzReread(f *testing.F) {
	src := edited()
	at := strings.LastIndex(src, "4 5.25 6")
	f.Add([]byte(src), at, at+1, []byte("12.5"))
	f.Add([]byte(src), at, at+8, []byte("7\n8 9"))
	f.Add(bake(2, 5, true), 1500, 1501, []byte("1"))
	f.Fuzz(func(t *testing.T, src []byte, start, end int, text []byte) {
		if start < 0 || end < start || end > len(src) {
			return
		}
		checkReread(t, Parse("a.dae", src, scene.ReadOptions{}), scene.Edit{Start: start, End: end, New: text})
	})
}
