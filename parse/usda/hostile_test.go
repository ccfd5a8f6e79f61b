package usda

import (
	"os"
	"strings"
	"testing"

	"curvelint/cmd/lab/scenetest"
	"curvelint/parse/scene"
)

// small is a small file that is read whole.
const small = "#usda 1.0\n(\n    startTimeCode = 1\n)\ndef Xform \"Tug\" (doc = \"x\") {\n    double3 xformOp:translate.timeSamples = { 1: (1, 2, 3), 2: None }\n    uniform token[] xformOpOrder = [\"xformOp:translate\"]\n}\n"

// TestDeepNesting: ten thousand open blocks are a problem, not a crash.
func TestDeepNesting(t *testing.T) {
	for _, piece := range []string{"def \"a\" {\n", "(", "[", "customData = { dictionary d = {"} {
		src := "#usda 1.0\n" + strings.Repeat(piece, 10_000)
		s := Parse("deep.usda", []byte(src), scene.ReadOptions{})
		if err := scenetest.Check(s); err != nil {
			t.Fatal(err)
		}
		if len(s.Problems) == 0 {
			t.Errorf("nothing is said of 10,000 times %q", piece)
		}
	}
}

// TestCutShort: a file that ends anywhere is read as far as it goes.
func TestCutShort(t *testing.T) {
	src, err := os.ReadFile("../../testdata/demo/deckhand_polish.usda")
	if err != nil {
		t.Fatal(err)
	}
	for i := range 200 {
		cut := src[:len(src)*i/200]
		s := Parse("cut.usda", cut, scene.ReadOptions{})
		if err := scenetest.Check(s); err != nil {
			t.Fatalf("after %d of %d bytes: %v", len(cut), len(src), err)
		}
		if len(s.Problems) == 0 {
			t.Fatalf("after %d of %d bytes: nothing is said", len(cut), len(src))
		}
	}
}

// TestCorpusCutShort cuts the layers of the conformance corpus at every byte.
func TestCorpusCutShort(t *testing.T) {
	for _, src := range conformanceLayers(t) {
		for i := 0; i < len(src); i += 3 {
			if err := scenetest.Check(Parse("cut.usda", src[:i], scene.ReadOptions{})); err != nil {
				t.Fatalf("%q: %v", src[:i], err)
			}
		}
	}
}

// TestHostileValues reads texts that claim or hold what no scene can.
func TestHostileValues(t *testing.T) {
	prim := func(body string) string { return "#usda 1.0\ndef Xform \"Tug\" {\n" + body + "\n}\n" }
	moving := "\nuniform token[] xformOpOrder = [\"xformOp:translate\"]"
	for name, src := range map[string]string{
		"not a number":     prim("double3 xformOp:translate.timeSamples = { 1: (nan, inf, -inf), nan: (1, 2, 3), 1e999: (1, 2, 3), 2: (1e999, 0, 0) }" + moving),
		"infinite rates":   "#usda 1.0\n( timeCodesPerSecond = inf; framesPerSecond = nan; startTimeCode = -inf; endTimeCode = inf; metersPerUnit = nan )\n" + small[len("#usda 1.0\n"):],
		"rate of zero":     "#usda 1.0\n( timeCodesPerSecond = 0; framesPerSecond = -1; metersPerUnit = -1 )\ndef \"a\" { }}\n",
		"invalid UTF-8":    prim("string a = \"\xff\xfe\"; double \xc3\x28 = 1"),
		"zero bytes":       prim("double x\x00 = 1"),
		"huge exponents":   prim("double3 xformOp:translate.timeSamples = { 1: (1e-99999999999, 1e99999999999, 0) }" + moving),
		"many digits":      prim("double3 xformOp:translate.timeSamples = { 1: (0." + strings.Repeat("3", 100_000) + ", 1, 1e999) }" + moving),
		"uneven lists":     prim("def SkelAnimation \"a\" { uniform token[] joints = [\"a\", \"b\"]; quatf[] rotations.timeSamples = { 1: [(1, 0, 0, 0)], 2: [], 3: [(1, 0, 0, 0), (1, 0, 0, 0)] } }"),
		"too few weights":  prim("def SkelAnimation \"a\" { uniform token[] blendShapes = [\"a\", \"b\"]; float[] blendShapeWeights.timeSamples = { 1: [1] } }"),
		"too few rests":    prim("def Skeleton \"a\" { uniform token[] joints = [\"a\"]; matrix4d[] restTransforms = [ ] ; matrix4d[] restTransforms = [((1,0,0,0),(0,1,0,0),(0,0,1,0),(0,0,0,1)),((1,0,0,0),(0,1,0,0),(0,0,1,0),(0,0,0,1))] }"),
		"odd ops":          prim("double xformOp:translate = 1; float3[] xformOp:scale = []; uniform token[] xformOpOrder = [\"xformOp:translate\", \"xformOp:scale\", \"xformOp:bend\", \"\", \"!invert!\"]"),
		"knots of nothing": prim("double x.spline = { 1: nan, inf: 2, 3: 4; pre (inf, nan) }"),
	} {
		s := Parse("hostile.usda", []byte(src), scene.ReadOptions{})
		if err := scenetest.Check(s); err != nil {
			t.Errorf("%s: %v", name, err)
		}
		if len(s.Problems) == 0 {
			t.Errorf("%s: nothing is said", name)
		}
	}
}

// FuzzReread holds re-reading against reading the whole.
func FuzzReread(f *testing.F) {
	f.Add(200, 3, []byte("1.5"))
	f.Add(300, 0, []byte("9: (1, 2, 3),"))
	f.Fuzz(func(t *testing.T, start, length int, text []byte) {
		if start < 0 || start > len(edited) || length < 0 || length > len(edited)-start {
			return
		}
		checkReread(t, edited, scene.Edit{Start: start, End: start + length, New: text})
	})
}

func FuzzParse(f *testing.F) {
	f.Add([]byte(small))
	f.Add([]byte(small[:len(small)/2]))
	f.Add([]byte(edited))
	for _, src := range conformanceLayers(f) {
		f.Add(src)
	}
	f.Fuzz(func(t *testing.T, src []byte) {
		if err := scenetest.Check(Parse("fuzz.usda", src, scene.ReadOptions{})); err != nil {
			t.Fatal(err)
		}
	})
}
