package usda

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"curvelint/parse/scene"
)

// read parses a layer whose text after the first line is body.
func read(t *testing.T, body string) *scene.Scene {
	t.Helper()
	return Parse("shot.usda", []byte("#usda 1.0\n"+body), scene.ReadOptions{})
}

// clean is read for layers that have nothing wrong.
func clean(t *testing.T, body string) *scene.Scene {
	t.Helper()
	s := read(t, body)
	for _, p := range s.Problems {
		t.Errorf("problem %s at %q: %s", p.Kind, spanText(s, p.Span), p.Message)
	}
	return s
}

func spanText(s *scene.Scene, at scene.Span) string {
	return string(s.Files[at.File].Text[at.Start:at.End])
}

// channel returns the channel of a part by name.
func channel(t *testing.T, s *scene.Scene, part, name string) (*scene.Channel, scene.ChannelID) {
	t.Helper()
	for i := range s.Channels {
		c := &s.Channels[i]
		if s.Parts[c.Part].Path == part && c.Name == name {
			return c, scene.ChannelID(i)
		}
	}
	t.Fatalf("%s has no channel %s", part, name)
	return nil, 0
}

func TestTransformStack(t *testing.T) {
	s := clean(t, `
def Xform "Winch"
{
    double3 xformOp:translate = (1, 2, 3)
    float3 xformOp:rotateXYZ:drum.timeSamples = { 1: (0, 0, 0), 2: (0.5, -1, 90.25) }
    float xformOp:rotateY = 45
    quatf xformOp:orient = (1, 0, 0, 0)
    matrix4d xformOp:transform = ((1, 2, 3, 0), (4, 5, 6, 0), (7, 8, 9, 0), (10, 11, 12, 1))
    double xformOp:scaleX = 2
    double3 xformOp:scale = (9, 9, 9)
    uniform token[] xformOpOrder = ["xformOp:translate", "!resetXformStack!", "xformOp:translate",
        "xformOp:rotateXYZ:drum", "xformOp:rotateY", "xformOp:orient", "xformOp:transform", "xformOp:scaleX",
        "!invert!xformOp:translate", "xformOp:translate:absent"]
}
`)
	part := s.Parts[0]
	if !part.ResetStack {
		t.Error("the stack is not reset")
	}
	var got []string
	for _, op := range part.Ops {
		got = append(got, fmt.Sprint(op.Kind, op.Name, op.Inverse, op.Value))
	}
	want := []string{
		fmt.Sprint(scene.Translate, "xformOp:translate", false, []float64{1, 2, 3}),
		fmt.Sprint(scene.RotateXYZ, "xformOp:rotateXYZ:drum", false, []float64{0, 0, 0}),
		fmt.Sprint(scene.RotateY, "xformOp:rotateY", false, []float64{45}),
		fmt.Sprint(scene.Orient, "xformOp:orient", false, []float64{1, 0, 0, 0}),
		// Rows for row vectors become columns for column vectors.
		fmt.Sprint(scene.Matrix, "xformOp:transform", false, []float64{1, 4, 7, 10, 2, 5, 8, 11, 3, 6, 9, 12, 0, 0, 0, 1}),
		fmt.Sprint(scene.ScaleX, "xformOp:scaleX", false, []float64{2}),
		fmt.Sprint(scene.Translate, "xformOp:translate", true, []float64{1, 2, 3}),
	}
	if d := cmp.Diff(want, got); d != "" {
		t.Error(d)
	}
	c, id := channel(t, s, "/Winch", "rotateXYZ:drum.z")
	if c.Op != 1 || c.Component != 2 || c.Quantity != scene.Angle || !c.Curve.Float32 || c.Curve.Step != 0.01 {
		t.Errorf("channel %+v", c)
	}
	if got := spanText(s, s.KeySpan(id, 1, 0)); got != "90.25" {
		t.Errorf("the key is written at %q", got)
	}
	if got := spanText(s, c.Def); got != "float3 xformOp:rotateXYZ:drum.timeSamples" {
		t.Errorf("the channel is declared at %q", got)
	}
	if got := spanText(s, c.Block); !strings.HasPrefix(got, "{ 1: (0") || !strings.HasSuffix(got, ") }") {
		t.Errorf("the animation is written at %q", got)
	}
}

func TestSamplesWithoutValue(t *testing.T) {
	s := clean(t, `
def Xform "Gull"
{
    double xformOp:translateX.timeSamples = { 4: 7, 1: 2, 2: None, 3: 5, 1: 3 }
    uniform token[] xformOpOrder = ["xformOp:translateX"]
}
`)
	c, _ := channel(t, s, "/Gull", "translateX")
	if d := cmp.Diff([]float64{1, 2, 3, 4}, c.Curve.Times); d != "" {
		t.Error(d)
	}
	if d := cmp.Diff([]float64{3, 2, 5, 7}, c.Curve.Values); d != "" {
		t.Error(d)
	}
	if d := cmp.Diff([]scene.Interp{scene.Held, scene.Blank, scene.Linear, scene.Linear}, c.Curve.Interp); d != "" {
		t.Error(d)
	}
}

func TestBadSamplesAreLeftOut(t *testing.T) {
	s := read(t, `
def Xform "Gull"
{
    double3 xformOp:translate.timeSamples = {
        1: (1, 2, 3),
        2: (1, nan, 3),
        3: (1, 2),
        4: (4, 5, 6),
        5 (4, 5, 6),
        nan: (4, 5, 6),
        6: (7, 8, 9)
        7: (7, 8, 10),
    }
    uniform token[] xformOpOrder = ["xformOp:translate"]
}
`)
	c, _ := channel(t, s, "/Gull", "translate.x")
	if d := cmp.Diff([]float64{1, 4, 6, 7}, c.Curve.Times); d != "" {
		t.Error(d)
	}
	var lines []int
	for _, p := range s.Problems {
		lines = append(lines, 1+strings.Count(string(s.Files[0].Text[:p.Span.Start]), "\n"))
	}
	if d := cmp.Diff([]int{7, 8, 10, 11, 13}, lines); d != "" {
		t.Error(d)
	}
}

func TestLayerFacts(t *testing.T) {
	s := clean(t, `(
    framesPerSecond = 24
    timeCodesPerSecond = 48
    startTimeCode = 2
    endTimeCode = 96
    metersPerUnit = 1
    upAxis = "Z"
    customLayerData = { dictionary view = { string boundCamera = "/Shot/cam" } }
)
def Xform "Shot" {
    def Camera "cam" {
        float focalLength.timeSamples = { 2: 35, 96: 50 }
        float horizontalAperture = 36
    }
}
`)
	if s.Rate != 24 || !s.RateKnown || s.First != 1 || s.Last != 48 || !s.RangeKnown || s.MetersPerUnit != 1 || s.Up != scene.AxisZ {
		t.Errorf("%+v", s)
	}
	if len(s.Cameras) != 1 || s.DefaultCamera != s.Cameras[0].Part {
		t.Fatalf("cameras %+v, default %d", s.Cameras, s.DefaultCamera)
	}
	cam := s.Cameras[0]
	if cam.HorizontalAperture != 36 || cam.VerticalAperture != 15.2908 || cam.FocalLengthChannel == scene.NoChannel {
		t.Errorf("camera %+v", cam)
	}
	if got := s.Channels[cam.FocalLengthChannel].Curve.Times; got[0] != 1 || got[1] != 48 {
		t.Errorf("times %v", got)
	}
}

func TestRateOverride(t *testing.T) {
	src := "#usda 1.0\n%s\ndef Xform \"A\" {\n double xformOp:translateX.timeSamples = { 24: 1, 48: 2 }\n uniform token[] xformOpOrder = [\"xformOp:translateX\"]\n}\n"
	for _, test := range []struct {
		meta string
		rate float64
		want []float64
	}{
		{"", 0, []float64{24, 48}},
		{"", 30, []float64{24, 48}}, // no rate in the file: time codes are frames
		{"( timeCodesPerSecond = 24 )", 30, []float64{30, 60}},
		{"( timeCodesPerSecond = 30 )", 0, []float64{24, 48}},
		{"( timeCodesPerSecond = 1000 )", 0, []float64{24 * 0.024, 48 * 0.024}},
	} {
		s := Parse("a.usda", fmt.Appendf(nil, src, test.meta), scene.ReadOptions{Rate: test.rate})
		got := s.Channels[0].Curve.Times
		for i := range got {
			if math.Abs(got[i]-test.want[i]) > 1e-12 {
				t.Errorf("%s at %v: times %v, want %v", test.meta, test.rate, got, test.want)
			}
		}
	}
}

func TestFreeNumbers(t *testing.T) {
	s := clean(t, `
def Xform "Tug"
{
    custom float brow_raise.timeSamples = { 1: 0, 4: 0.8 }
    float ctl:yaw.timeSamples = { 1: -10, 4: 20 }
    float3 aim.timeSamples = { 1: (0, 0, 0), 4: (5, 0, 1) }
    color3f tint.timeSamples = { 1: (0, 0, 0), 4: (1, 0, 1) }
    token visibility.timeSamples = { 1: "invisible", 4: "inherited" }
    float still = 3
}
`)
	var got []string
	for _, p := range s.Parts[1:] {
		got = append(got, fmt.Sprint(p.Path, " ", p.Kind == scene.Weight, " ", spanText(s, p.NameSpan)))
	}
	want := []string{
		"/Tug/brow_raise true brow_raise", "/Tug/ctl:yaw false ctl:yaw",
		"/Tug/aim.x false aim", "/Tug/aim.y true aim", "/Tug/aim.z true aim",
	}
	if d := cmp.Diff(want, got); d != "" {
		t.Error(d)
	}
}

func TestAllowances(t *testing.T) {
	s := read(t, `
# curvelint: allow still-blocked because first pass
def Xform "Tug"
{
    # curvelint: allow frozen-hold 40-52 because freeze frame for the gag
    double xformOp:translateX.timeSamples = {
        1: 2, /* curvelint: allow pop 7 because a cannon */
    }
    # curvelint: allow
    def Xform "hand" { // curvelint: allow pivot-arc
    }
}
`)
	var got []string
	for _, a := range s.Allows {
		part := "-"
		if a.Part != scene.NoPart {
			part = s.Parts[a.Part].Path
		}
		got = append(got, fmt.Sprintf("%s %s %v %v %q %q", part, a.Check, a.First, a.Last, a.Why, spanText(s, a.Span)))
	}
	want := []string{
		`- still-blocked NaN NaN "first pass" "curvelint: allow still-blocked because first pass"`,
		`/Tug frozen-hold 40 52 "freeze frame for the gag" "curvelint: allow frozen-hold 40-52 because freeze frame for the gag"`,
		`/Tug pop 7 7 "a cannon" "curvelint: allow pop 7 because a cannon"`,
		`/Tug/hand pivot-arc NaN NaN "" "curvelint: allow pivot-arc"`,
	}
	if d := cmp.Diff(want, got); d != "" {
		t.Error(d)
	}
	if len(s.Problems) != 1 || !strings.Contains(s.Problems[0].Message, "allow CHECK because") {
		t.Errorf("problems %v", s.Problems)
	}
}
