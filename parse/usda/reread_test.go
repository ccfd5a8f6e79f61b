package usda

import (
	"bytes"
	"fmt"
	"math/rand"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"curvelint/cmd/lab/scenetest"
	"curvelint/parse/scene"
)

// edited is an invented scene with every kind of channel.
const edited = `#usda 1.0
(
    timeCodesPerSecond = 48
    framesPerSecond = 24
)
def Xform "Deck"
{
    # curvelint: allow pop 7 because a wave
    double3 xformOp:translate.timeSamples = {
        1: (0, 1.5, 2),
        2: (3, 4, 5),
        3: None,
        4: (6, 7, 8.25),
    }
    float3 xformOp:rotateXYZ = (10, 20, 30)
    matrix4d xformOp:transform.timeSamples = { 1: ((1, 0, 0, 0), (0, 1, 0, 0), (0, 0, 1, 0), (2, 3, 4, 1)), 2: ((1, 0, 0, 0), (0, 1, 0, 0), (0, 0, 1, 0), (2, 3, 5, 1)) }
    uniform token[] xformOpOrder = ["xformOp:translate", "xformOp:rotateXYZ", "xformOp:transform", "!invert!xformOp:translate"]
    float brow.timeSamples = { 1: 0, 2: 0.5, 4: 1 }
    def Camera "cam"
    {
        token projection = "orthographic"
        float horizontalAperture.timeSamples = { 1: 20, 3: 30 }
        float focalLength.timeSamples = { 1: 35, 3: 50 }
    }
    def SkelAnimation "anim"
    {
        uniform token[] joints = ["hips", "hips/chest"]
        float3[] translations.timeSamples = { 1: [(0, 1, 2), (3, 4, 5)], 2: [(0, 1, 3), (3, 4, 6)] }
        quatf[] rotations.timeSamples = { 1: [(1, 0, 0, 0), (0, 1, 0, 0)], 2: [(0, 0, 0, 1), (0.5, 0.5, 0.5, 0.5)] }
    }
    float xformOp:rotateX.spline = { 1: 2; post linear, 3: 4 }
}
`

var asFound = cmp.Options{cmpopts.EquateNaNs(), cmpopts.EquateEmpty()}

// checkReread applies an edit and, if the scene could be re-read, holds it
// against a whole reading. It returns whether it could.
func checkReread(t *testing.T, src string, e scene.Edit) bool {
	t.Helper()
	old := Parse("a.usda", []byte(src), scene.ReadOptions{})
	before := Parse("a.usda", []byte(src), scene.ReadOptions{})
	r, ok := Reread(old, e)
	if d := cmp.Diff(before, old, asFound); d != "" {
		t.Fatalf("the old scene changed: %s", d)
	}
	if !ok {
		return false
	}
	after := bytes.Join([][]byte{[]byte(src[:e.Start]), e.New, []byte(src[e.End:])}, nil)
	want := Parse("a.usda", after, scene.ReadOptions{})
	if d := cmp.Diff(want, r.Scene, asFound); d != "" {
		t.Fatalf("edit %d-%d %q: %s", e.Start, e.End, e.New, d)
	}
	changed := map[scene.ChannelID]bool{}
	for _, id := range r.Changed {
		changed[id] = true
	}
	for i := range want.Channels {
		if !changed[scene.ChannelID(i)] && !cmp.Equal(want.Channels[i].Curve.Values, old.Channels[i].Curve.Values) {
			t.Fatalf("channel %d changed and is not named", i)
		}
	}
	return true
}

func TestReread(t *testing.T) {
	for _, test := range []struct {
		old, new string
		want     bool
	}{
		{"(3, 4, 5)", "(30.125, 4, 5)", true},
		{"1: (0, 1.5, 2),", "", true},
		{"4: (6, 7, 8.25),", "4: (6, 7, 8.25),\n        5: (1, 1, 1),", true},
		{"3: None", "3: (1, 2, 3)", true},
		{"(3, 4, 5)", "(3, 4, inf)", true},
		{"(3, 4, 5)", "(3, 4", true},
		{"2: 0.5", "2: 0.75", true},
		{"2: 0.5", "2: 7", false}, // a weight becomes a free number
		{"1: 20, 3: 30", "1: 21, 3: 30", true},
		{"1: 35", "1: 36, 2: 40", true},
		{"(3, 4, 6)]", "(3, 4, 7)]", true},
		{"(3, 4, 6)]", "(3, 4, 7), (1, 2, 3)]", true}, // left out, and reported
		{"(0, 0, 0, 1), (0.5", "(0, 0, 1, 0), (0.5", true},
		{"(2, 3, 5, 1)", "(2, 3, 6, 1)", true},
		{"(10, 20, 30)", "(10, 25, 30)", true},
		{"(10, 20, 30)", "(10, 25)", false},
		{"(10, 20, 30)", "(10, 25, 30) # x", false},
		{"1: 2; post linear", "1: 3; post linear", false},
		{"1: (0, 1.5, 2),", "1: (0, 1.5, 2), # why", false},
		{"(3, 4, 5)", "(3, 4, 5)}", false},
		{"float brow", "float eye", false},
		{"framesPerSecond = 24", "framesPerSecond = 25", false},
	} {
		at := bytes.Index([]byte(edited), []byte(test.old))
		e := scene.Edit{Start: at, End: at + len(test.old), New: []byte(test.new)}
		if got := checkReread(t, edited, e); got != test.want {
			t.Errorf("%q to %q: re-read %v, want %v", test.old, test.new, got, test.want)
		}
	}
}

// TestRereadAnywhere makes random edits of a few bytes at every place.
func TestRereadAnywhere(t *testing.T) {
	pieces := []string{"", "1", "9: (1, 2, 3),", " ", "\n", ",", "(", ")", "None", "-", ".5", "}", "e3", "1: 2,"}
	rnd := rand.New(rand.NewSource(1))
	done := 0
	for i := rnd.Intn(9); i < len(edited); i += 9 {
		end := min(len(edited), i+rnd.Intn(3))
		e := scene.Edit{Start: i, End: end, New: []byte(pieces[rnd.Intn(len(pieces))])}
		if checkReread(t, edited, e) {
			done++
		}
	}
	if done < len(edited)/9/6 {
		t.Errorf("only %d of %d edits could be re-read", done, len(edited))
	}
}

// BenchmarkReread changes one number of a bake, beside reading the whole.
func BenchmarkReread(b *testing.B) {
	for _, frames := range []int{100, 2000} {
		src := bakeNested(64, frames)
		b.Run(fmt.Sprintf("%dKB", len(src)/1000), func(b *testing.B) {
			old := Parse("a.usda", src, scene.ReadOptions{})
			at := bytes.Index(src, []byte("50: (")) + 5
			e := scene.Edit{Start: at, End: at + 1, New: []byte("21")}
			scenetest.BenchReread(b,
				func() bool { _, ok := Reread(old, e); return ok },
				func() { Parse("a.usda", src, scene.ReadOptions{}) })
		})
	}
}
