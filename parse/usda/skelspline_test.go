package usda

import (
	"errors"
	"math"
	"strings"
	"testing"

	"curvelint/parse/scene"
)

const skeleton = `def SkelRoot "Mate" {
    def Skeleton "rig" {
        rel skel:animationSource = </Mate/anim>
        uniform token[] joints = ["hips", "hips/chest", "hips/chest/head"]
        uniform matrix4d[] restTransforms = [
            ((1,0,0,0),(0,1,0,0),(0,0,1,0),(0,90,0,1)), ((1,0,0,0),(0,1,0,0),(0,0,1,0),(0,40,0,1)), ((1,0,0,0),(0,1,0,0),(0,0,1,0),(0,25,0,1))]
    }
    def SkelAnimation "anim" {
        uniform token[] joints = ["hips", "hips/chest/head"]
        float3[] translations.timeSamples = { 1: [(0, 90, 0), (0, 25, 0)], 5: [(0, 88, 0), (0, 25, 0)] }
        quatf[] rotations.timeSamples = { 1: [(1, 0, 0, 0), (1, 0, 0, 0)], 5: [(1, 0, 0, 0), (0.9238795, 0, 0.3826834, 0)] }
        half3[] scales = [(1, 1, 1), (1, 1, 1)]
        uniform token[] blendShapes = ["smile"]
        float[] blendShapeWeights.timeSamples = { 1: [0], 5: [1] }
    }
}
`

// TestSkeleton: each joint's value in a sample has its own place, joints that
// the animation leaves out keep their rest pose, weights have their names (AOUSD
// Core Specification and the UsdSkel schema).
func TestSkeleton(t *testing.T) {
	s := clean(t, skeleton)
	head := s.Find("/Mate/rig/hips/chest/head")
	chest := s.Find("/Mate/rig/hips/chest")
	if head == scene.NoPart || chest == scene.NoPart {
		for i := range s.Parts {
			t.Log(s.Parts[i].Path)
		}
		t.Fatal("joints are missing")
	}
	if p := s.Parts[s.Find("/Mate/rig")]; !p.Figure || p.Kind != scene.SkeletonRoot {
		t.Errorf("the skeleton is no figure: %+v", p)
	}
	if r := s.Parts[chest].Rest; !s.Parts[chest].HasRest || r[7] != 40 {
		t.Errorf("rest of the chest: %v", r)
	}
	var quats, shifts int
	for i := range s.Channels {
		c := &s.Channels[i]
		if c.Part == chest && c.Curve.Len() > 0 {
			t.Errorf("the chest is animated: %s", c.Name)
		}
		if c.Part != head {
			continue
		}
		switch c.Quantity {
		case scene.Quaternion:
			quats++
			at := s.KeySpan(scene.ChannelID(i), 1, 0)
			if got := spanText(s, at); got != "(0.9238795, 0, 0.3826834, 0)" {
				t.Errorf("the head's rotation at frame 5 sits on %q", got)
			}
			if v := c.Curve.Values[4:8]; math.Abs(v[0]-0.9238795) > 1e-6 || math.Abs(v[2]-0.3826834) > 1e-6 {
				t.Errorf("rotation %v, want the real part first", v)
			}
		case scene.Length:
			shifts++
		}
	}
	if quats != 1 || shifts != 3 {
		t.Errorf("%d rotations and %d translations of the head", quats, shifts)
	}
	for i := range s.Parts {
		if s.Parts[i].Kind == scene.Weight && s.Parts[i].Name == "smile" {
			return
		}
	}
	t.Error("no weight called smile")
}

// TestSplineHandles: the control points of a CSS easing come out as the handles
// of the curve; motion.TestBezierIsCSSEasing holds what they evaluate to (CSS
// Easing Functions Level 1, W3C).
func TestSplineHandles(t *testing.T) {
	s := clean(t, `def Xform "Tug" {
    double xformOp:rotateY.spline = {
        bezier,
        pre: linear,
        post: sloped(2),
        0: 0; post curve (2.5, 0.4),
        10: 10; pre (7.5, 0); post held,
        12: 3 & 4; post none,
        20: 5,
    }
    uniform token[] xformOpOrder = ["xformOp:rotateY"]
}
`)
	c := &s.Channels[0].Curve
	// Linear extrapolation goes on with the slope of the first handle, 0.4.
	if c.Len() != 4 || c.Handles == nil || c.Pre != scene.ExtrapSloped || c.PreSlope != 0.4 || c.Post != scene.ExtrapSloped || c.PostSlope != 2 {
		t.Fatalf("%+v", c)
	}
	h := c.Handles
	// cubic-bezier(0.25, 0.1, 0.25, 1) over ten frames and ten degrees.
	if h.OutT[0] != 2.5 || math.Abs(h.OutV[0]-1) > 1e-12 || h.InT[1] != -7.5 || h.InV[1] != 0 {
		t.Errorf("handles %+v", h)
	}
	for i, want := range []scene.Interp{scene.Bezier, scene.Held, scene.Blank} {
		if got := c.SegmentInterp(i); got != want {
			t.Errorf("segment %d: %v, want %v", i, got, want)
		}
	}
	if c.PreValues == nil || c.PreValues[2] != 3 || c.Values[2] != 4 {
		t.Errorf("dual value: before %v, at %v", c.PreValues, c.Values)
	}
}

// TestLoopedSpline: the inner loop's knots are repeated, and lie where the
// prototype is written.
func TestLoopedSpline(t *testing.T) {
	s := clean(t, `def Xform "Tug" {
    double xformOp:rotateY.spline = { loop: (0, 4, 0, 2, 5), 0: 0; post linear, 2: 7; post linear, 4: 0 }
    uniform token[] xformOpOrder = ["xformOp:rotateY"]
}
`)
	c := &s.Channels[0].Curve
	if c.Len() < 6 {
		t.Fatalf("times %v, values %v", c.Times, c.Values)
	}
	for i, at := range c.Times {
		if at == 6 && (c.Values[i] != 12 || spanText(s, s.KeySpan(0, i, 0)) != "7") {
			t.Errorf("the repeated knot at 6 is %v, on %q", c.Values[i], spanText(s, s.KeySpan(0, i, 0)))
		}
	}
}

func TestOverlongHandlesAreShortened(t *testing.T) {
	s := read(t, `def Xform "Tug" {
    double xformOp:rotateY.spline = { 0: 0; post curve (30, 0), 10: 10; pre (30, 0) }
    uniform token[] xformOpOrder = ["xformOp:rotateY"]
}
`)
	h := s.Channels[0].Curve.Handles
	// Both are divided by w0 + w1 - sqrt(w0 w1) = 3 on the unit interval.
	if h == nil || math.Abs(h.OutT[0]-10) > 1e-9 || math.Abs(h.InT[1]+10) > 1e-9 {
		t.Errorf("handles %+v", h)
	}
	if len(s.Problems) == 0 {
		t.Error("nothing is said of handles that would make time run backwards")
	}
}

// folder opens layers from memory.
func folder(files map[string]string) func(from, name string) (string, []byte, error) {
	return func(_, name string) (string, []byte, error) {
		text, ok := files[strings.TrimPrefix(name, "./")]
		if !ok {
			return name, nil, errors.New("there is no such file")
		}
		return strings.TrimPrefix(name, "./"), []byte("#usda 1.0\n" + text), nil
	}
}

// TestComposition: an animation layer over a rig that a reference brings, with a
// layer offset, a local inherit and a selected variant (strength order of the
// AOUSD Core Specification).
func TestComposition(t *testing.T) {
	files := map[string]string{
		"anim.usda": `over "Tug" {
    over "hips" {
        double3 xformOp:translate.timeSamples = { 1: (0, 1, 0), 11: (0, 2, 0) }
    }
}
`,
		"rig.usda": `(
    defaultPrim = "Rig"
)
def Xform "Rig" {
    def Xform "hips" {
        double3 xformOp:translate = (0, 90, 0)
        uniform token[] xformOpOrder = ["xformOp:translate"]
        def Xform "lantern" (inherits = </_class_lantern>) {
        }
    }
}
`,
	}
	src := `#usda 1.0
(
    subLayers = [@anim.usda@ (offset = 10; scale = 2)]
)
class "_lit" {
    double3 xformOp:scale = (2, 2, 2)
}
def Xform "Tug" (
    prepend references = @rig.usda@
    prepend variantSets = "mood"
    variants = {
        string mood = "calm"
    }
) {
    variantSet "mood" = {
        "calm" {
            def Xform "hat" (inherits = </_lit>) {
                double3 xformOp:translate = (0, 5, 0)
                uniform token[] xformOpOrder = ["xformOp:translate", "xformOp:scale"]
            }
        }
        "storm" {
            def Xform "coat" {
            }
        }
    }
}
`
	s := Parse("shot.usda", []byte(src), scene.ReadOptions{Open: folder(files)})
	for _, p := range s.Problems {
		t.Errorf("%s: %s", p.Kind, p.Message)
	}
	hips := s.Find("/Tug/hips")
	if hips == scene.NoPart || s.Find("/Tug/hat") == scene.NoPart || s.Find("/Tug/coat") != scene.NoPart {
		for i := range s.Parts {
			t.Log(s.Parts[i].Path)
		}
		t.Fatal("parts are not those that the arcs bring")
	}
	for i := range s.Channels {
		c := &s.Channels[i]
		if c.Part != hips || c.Curve.Len() == 0 {
			continue
		}
		// time in the stack = 10 + 2 * time in the layer
		if c.Curve.Times[0] != 12 || c.Curve.Times[1] != 32 {
			t.Errorf("times %v, want 12 and 32", c.Curve.Times)
		}
		if f := s.Files[c.Curve.File].Path; !strings.HasSuffix(f, "anim.usda") {
			t.Errorf("keys lie in %s", f)
		}
	}
	hat := s.Parts[s.Find("/Tug/hat")]
	if len(hat.Ops) != 2 || hat.Ops[1].Value[0] != 2 {
		t.Errorf("the hat does not inherit its scale: %+v", hat.Ops)
	}
}

func TestMissingAndCircularLayers(t *testing.T) {
	files := map[string]string{"a.usda": "(subLayers = [@b.usda@])\n", "b.usda": "(subLayers = [@a.usda@])\n"}
	s := Parse("shot.usda", []byte("#usda 1.0\n(subLayers = [@a.usda@, @nowhere.usda@, @rig.usdc@])\n"), scene.ReadOptions{Open: folder(files)})
	kinds := map[scene.ProblemKind]int{}
	for _, p := range s.Problems {
		kinds[p.Kind]++
		t.Log(p.Kind, p.Message)
	}
	if kinds[scene.MissingFile] == 0 || len(s.Problems) < 3 {
		t.Errorf("problems %v", kinds)
	}
}
