package usda

import (
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"curvelint/cmd/lab/scenetest"
	"curvelint/parse/scene"
)

// opinionOn parses a layer with the files it names and returns the x of the
// translate op of a part.
func opinionOn(t *testing.T, files map[string]string, body, part string) float64 {
	t.Helper()
	s := Parse("shot.usda", []byte("#usda 1.0\n"+body), scene.ReadOptions{Open: folder(files)})
	for _, p := range s.Problems {
		t.Errorf("problem at %q: %s", spanText(s, p.Span), p.Message)
	}
	id := s.Find(part)
	if id == scene.NoPart || len(s.Parts[id].Ops) == 0 {
		t.Fatalf("%s has no op", part)
	}
	return s.Parts[id].Ops[0].Value[0]
}

// at writes a prim's statements that put it at x.
func at(x float64) string {
	return fmt.Sprintf("double3 xformOp:translate = (%g, 0, 0); uniform token[] xformOpOrder = [\"xformOp:translate\"]; ", x)
}

// TestStrength takes the opinions on one prim away from the strongest on: those
// of the layers, inherited, of the variant, referenced, of the payload,
// specialized (order of the AOUSD Core Specification: local, inherits,
// variants, references, payloads, specializes).
func TestStrength(t *testing.T) {
	files := map[string]string{
		"weak.usda": "over \"Tug\" { " + at(2) + "}\n",
		"ref.usda":  "def \"R\" { " + at(5) + "}\n",
		"pay.usda":  "def \"P\" { " + at(6) + "}\n",
		"bare.usda": "def \"R\" { }\n",
	}
	opinions := []string{"local", "sublayer", "inherit", "variant", "reference", "payload", "specialize"}
	for i := range opinions {
		has := func(k int) bool { return k >= i }
		var b strings.Builder
		if has(1) {
			b.WriteString("( subLayers = [@weak.usda@] )\n")
		}
		b.WriteString("class \"C\" { " + at(3) + "}\nclass \"S\" { " + at(7) + "}\ndef Xform \"Tug\" (\n")
		if has(2) {
			b.WriteString("inherits = </C>\n")
		}
		b.WriteString("variants = { string mood = \"calm\" }\n")
		if has(4) {
			b.WriteString("references = @ref.usda@</R>\n")
		} else {
			b.WriteString("references = @bare.usda@</R>\n")
		}
		if has(5) {
			b.WriteString("payload = @pay.usda@</P>\n")
		}
		b.WriteString("specializes = </S>\n) {\n")
		if has(0) {
			b.WriteString(at(1) + "\n")
		}
		if has(3) {
			b.WriteString("variantSet \"mood\" = { \"calm\" { " + at(4) + "} \"wild\" { " + at(9) + "} }\n")
		}
		b.WriteString("}\n")
		if got := opinionOn(t, files, b.String(), "/Tug"); got != float64(i+1) {
			t.Errorf("strongest is %s: got the opinion %v, want %d\n%s", opinions[i], got, i+1, b.String())
		}
	}
}

func TestArcsOfDescendants(t *testing.T) {
	files := map[string]string{
		"rig.usda": "( defaultPrim = \"Rig\" )\ndef \"Rig\" {\n def \"arm\" (references = @hand.usda@</Hand>) { def \"own\" { " + at(1) + "} }\n}\n",
		"hand.usda": "def \"Hand\" (variants = { string grip = \"open\" }) {\n def \"thumb\" { " + at(2) + "}\n" +
			" variantSet \"grip\" = { \"open\" { def \"palm\" { " + at(3) + "} } \"fist\" { def \"palm\" { " + at(4) + "} } }\n}\n",
	}
	body := "def \"Shot\" {\n def \"Tug\" (references = @rig.usda@) {\n over \"arm\" (variants = { string grip = \"fist\" }) { over \"thumb\" { double3 xformOp:translate = (8, 0, 0) } }\n }\n}\n"
	for part, want := range map[string]float64{
		"/Shot/Tug/arm/own": 1, "/Shot/Tug/arm/thumb": 8, "/Shot/Tug/arm/palm": 4, // the stronger selection wins
	} {
		if got := opinionOn(t, files, body, part); got != want {
			t.Errorf("%s: %v, want %v", part, got, want)
		}
	}
}

func TestListsAreEdited(t *testing.T) {
	files := map[string]string{
		"weak.usda": "def \"Tug\" (references = [</A>, </B>]) { }\n",
	}
	classes := "def \"A\" { " + at(1) + "}\ndef \"B\" { " + at(2) + "}\ndef \"C\" { " + at(3) + "}\n"
	for edit, want := range map[string]float64{
		"doc = \"none\"": 1, "prepend references = </C>": 3, "append references = </C>": 1,
		"delete references = </A>": 2, "prepend references = </B>": 2, "references = </C>": 3,
	} {
		body := "( subLayers = [@weak.usda@] )\n" + classes + "over \"Tug\" (" + edit + ") { }\n"
		if got := opinionOn(t, files, body, "/Tug"); got != want {
			t.Errorf("%s: %v, want %v", edit, got, want)
		}
	}
}

func TestTimesOfLayers(t *testing.T) {
	moving := "double xformOp:translateX.timeSamples = { 0: 0, 10: 1 }; uniform token[] xformOpOrder = [\"xformOp:translateX\"]; "
	files := map[string]string{
		"a.usda": "( timeCodesPerSecond = 48 )\ndef \"A\" (references = @b.usda@</B> (offset = 4)) { }\n",
		"b.usda": "( timeCodesPerSecond = 48 )\ndef \"B\" { " + moving + "}\n",
	}
	for _, test := range []struct {
		body string
		want []float64
	}{
		// 48 time codes a second are two for each of the 24 of the shot.
		{"( timeCodesPerSecond = 24 )\ndef \"Tug\" (references = @a.usda@</A> (offset = 100)) { }\n", []float64{102, 107}},
		{"def \"Tug\" (references = @b.usda@</B> (offset = 1; scale = 2)) { }\n", []float64{1, 11}},
	} {
		s := Parse("shot.usda", []byte("#usda 1.0\n"+test.body), scene.ReadOptions{Open: folder(files)})
		var got []float64
		for i := range s.Channels {
			if s.Parts[s.Channels[i].Part].Path == "/Tug" {
				got = s.Channels[i].Curve.Times
			}
		}
		if d := cmp.Diff(test.want, got); d != "" {
			t.Errorf("%s: %s%v", test.body, d, s.Problems)
		}
	}
}

// TestPathsAcrossReferences follows a relationship of a referenced layer.
func TestPathsAcrossReferences(t *testing.T) {
	files := map[string]string{"rig.usda": `def "Rig" {
    def SkelRoot "Root" {
        def Skeleton "Skel" {
            uniform token[] joints = ["hips"]
            rel skel:animationSource = </Rig/Anims/Walk>
        }
    }
    def "Anims" {
        def SkelAnimation "Walk" {
            uniform token[] joints = ["hips"]
            float3[] translations.timeSamples = { 0: [(0, 0, 0)], 9: [(1, 0, 0)] }
        }
    }
}
`}
	body := "def \"Shot\" {\n def \"Tug\" (references = @rig.usda@</Rig>) { }\n def \"Mate\" (references = @rig.usda@</Rig> (offset = 5)) { }\n}\n"
	s := Parse("shot.usda", []byte("#usda 1.0\n"+body), scene.ReadOptions{Open: folder(files)})
	for path, first := range map[string]float64{"/Shot/Tug/Root/Skel/hips": 0, "/Shot/Mate/Root/Skel/hips": 5} {
		c, id := channel(t, s, path, "translate.x")
		if c.Curve.Times[0] != first || s.KeySpan(id, 0, 0).File != 1 {
			t.Errorf("%s: times %v in file %d", path, c.Curve.Times, s.KeySpan(id, 0, 0).File)
		}
	}
}

func TestWhatIsNoPartOfTheScene(t *testing.T) {
	s := clean(t, "class \"C\" { def \"a\" { } }\ndef \"off\" ( active = false ) { def \"b\" { } }\nover \"loose\" { def \"c\" { } }\ndef Material \"m\" { def Shader \"s\" { } }\n")
	var got []string
	for _, p := range s.Parts {
		got = append(got, p.Path)
	}
	if d := cmp.Diff([]string{"/loose", "/loose/c"}, got); d != "" {
		t.Error(d)
	}
}

// TestLayersThatNeverEnd names layers in circles and in ways that grow without
// bound: a problem each, and a scene in bounded time and memory.
func TestLayersThatNeverEnd(t *testing.T) {
	bomb := map[string]string{}
	for i := range 40 {
		bomb[fmt.Sprintf("b%d.usda", i)] = fmt.Sprintf("def \"B\" { def \"x\" (references = @b%d.usda@</B>) { }\n def \"y\" (references = @b%[1]d.usda@</B>) { }\n}\n", i+1)
	}
	bomb["b40.usda"] = "def \"B\" { }\n"
	wide := map[string]string{"w.usda": "def \"W\" { " + strings.Repeat("\n", 1) + "}\n"}
	for name, test := range map[string]struct {
		files map[string]string
		body  string
	}{
		"itself":             {nil, "def \"A\" (references = </A>) { }\n"},
		"its parent":         {nil, "def \"A\" { def \"B\" (references = </A>) { } }\n"},
		"its child":          {nil, "def \"A\" (references = </A/B>) { def \"B\" { } }\n"},
		"each other":         {nil, "def \"A\" (inherits = </B>) { }\ndef \"B\" (inherits = </A>) { }\n"},
		"by another layer":   {map[string]string{"o.usda": "def \"O\" { def \"P\" (references = @o.usda@</O>) { } }\n"}, "def \"A\" (references = @o.usda@</O>) { }\n"},
		"by twos":            {bomb, "def \"A\" (references = @b0.usda@</B>) { }\n"},
		"no default prim":    {wide, "def \"A\" (references = @w.usda@) { }\n"},
		"no such prim":       {wide, "def \"A\" (references = @w.usda@</V>) { }\n"},
		"scale of nothing":   {wide, "def \"A\" (references = @w.usda@</W> (scale = 0)) { }\n"},
		"loops by the score": {nil, "def \"A\" { double x.spline = { loop: (0, 1, 2000000000, 2000000000, 1), 0: 1 } }\n"},
	} {
		s := Parse("shot.usda", []byte("#usda 1.0\n"+test.body), scene.ReadOptions{Open: folder(test.files)})
		if err := scenetest.Check(s); err != nil {
			t.Errorf("%s: %v", name, err)
		}
		if len(s.Problems) == 0 {
			t.Errorf("%s: nothing is said", name)
		}
		if len(s.Parts) > 200_000 {
			t.Errorf("%s: %d parts", name, len(s.Parts))
		}
	}
}
