package collada

import (
	"fmt"
	"math"
	"strings"
	"testing"
	"unicode/utf16"

	"curvelint/parse/scene"
	"curvelint/parse/text"
)

// rope is a document with one node and one curve, invented data.
type rope struct {
	asset, node, target      string
	times, values, methods   string
	stride                   int // of the values, 1 if 0
	inTangents, outTangents  string
	tangentStride            int
	libraries, samplerExtras string
}

// document writes the rope as COLLADA.
func (r rope) document() string {
	var b strings.Builder
	count := func(s string) int { return len(strings.Fields(s)) }
	source := func(id, numbers string, stride int) {
		fmt.Fprintf(&b, "<source id=%q><float_array id=\"%s-array\" count=\"%d\">%s</float_array><technique_common><accessor source=\"#%s-array\" count=\"%d\" stride=\"%d\">", id, id, count(numbers), numbers, id, count(numbers)/stride, stride)
		fmt.Fprintf(&b, "%s</accessor></technique_common></source>\n", strings.Repeat("<param name=\"P\" type=\"float\"/>", stride))
	}
	if r.node == "" {
		r.node = `<translate sid="move">1 2 3</translate><rotate sid="turnX">1 0 0 10</rotate><scale sid="grow">1 1 1</scale><matrix sid="m">1 0 0 5 0 1 0 6 0 0 1 7 0 0 0 1</matrix>`
	}
	if r.target == "" {
		r.target = "rope/move.X"
	}
	fmt.Fprintf(&b, "<COLLADA version=\"1.4.1\">%s<library_animations><animation id=\"sway\">\n", r.asset)
	source("t", r.times, 1)
	source("v", r.values, max(r.stride, 1))
	inputs := `<input semantic="INPUT" source="#t"/><input semantic="OUTPUT" source="#v"/>`
	if r.methods != "" {
		fmt.Fprintf(&b, "<source id=\"i\"><Name_array id=\"i-array\" count=\"%d\">%s</Name_array></source>\n", count(r.methods), r.methods)
		inputs += `<input semantic="INTERPOLATION" source="#i"/>`
	}
	if r.inTangents != "" {
		source("ti", r.inTangents, max(r.tangentStride, 1))
		source("to", r.outTangents, max(r.tangentStride, 1))
		inputs += `<input semantic="IN_TANGENT" source="#ti"/><input semantic="OUT_TANGENT" source="#to"/>`
	}
	fmt.Fprintf(&b, "<sampler id=\"s\" %s>%s</sampler><channel source=\"#s\" target=%q/>\n", r.samplerExtras, inputs, r.target)
	fmt.Fprintf(&b, "</animation></library_animations>%s\n<library_visual_scenes><visual_scene id=\"deck\"><node id=\"rope\" name=\"Rope\">%s</node></visual_scene></library_visual_scenes><scene><instance_visual_scene url=\"#deck\"/></scene></COLLADA>", r.libraries, r.node)
	return b.String()
}

// read parses a document that must have no problems.
func read(t *testing.T, src string) *scene.Scene {
	t.Helper()
	s := Parse("rope.dae", []byte(src), scene.ReadOptions{})
	for _, p := range s.Problems {
		t.Errorf("%s at %q: %s", p.Kind, src[p.Span.Start:p.Span.End], p.Message)
	}
	checkSpans(t, s)
	return s
}

// checkSpans holds every key's place against its value.
func checkSpans(t *testing.T, s *scene.Scene) {
	t.Helper()
	src := string(s.Files[0].Text)
	for id := range s.Channels {
		c := &s.Channels[id].Curve
		if len(c.Values) != c.Len()*c.Stride || c.Spans != nil && len(c.Spans) != c.Len()*c.SpanStride {
			t.Fatalf("channel %d: %d keys of %d, %d values, %d spans", id, c.Len(), c.Stride, len(c.Values), len(c.Spans))
		}
		for i := range c.Len() {
			if i > 0 && !(c.Times[i] > c.Times[i-1]) {
				t.Errorf("channel %d: time %v after %v", id, c.Times[i], c.Times[i-1])
			}
			for j := range c.Stride {
				at := s.KeySpan(scene.ChannelID(id), i, j)
				var v float64
				if _, err := fmt.Sscan(src[at.Start:at.End], &v); err != nil || v != c.Values[i*c.Stride+j] && c.Step != 0 {
					t.Errorf("channel %d key %d.%d is %v, written %q", id, i, j, c.Values[i*c.Stride+j], src[at.Start:at.End])
				}
			}
		}
	}
}

func near(a, b []float64) bool {
	if len(a) != len(b) {
		return false
	}
	for i := range a {
		if math.Abs(a[i]-b[i]) > 1e-9 {
			return false
		}
	}
	return true
}

func TestScalar(t *testing.T) {
	s := read(t, rope{times: "0 0.5 1", values: "1 2.25 -3"}.document())
	if s.Format != "collada" || s.Rate != 24 || !s.RateKnown || s.First != 0 || s.Last != 24 || s.MetersPerUnit != 1 || s.Up != scene.AxisY {
		t.Errorf("scene %+v", s)
	}
	if len(s.Parts) != 1 || s.Parts[0].Path != "/Rope" || len(s.Parts[0].Ops) != 4 {
		t.Fatalf("parts %+v", s.Parts)
	}
	c := s.Channels[0]
	if c.Name != "move.X" || c.Op != 0 || c.Component != 0 || c.Quantity != scene.Length || c.Curve.Step != 0.01 {
		t.Errorf("channel %+v", c)
	}
	if !near(c.Curve.Times, []float64{0, 12, 24}) || !near(c.Curve.Values, []float64{1, 2.25, -3}) || c.Curve.Default != scene.Linear || c.Curve.Interp != nil {
		t.Errorf("curve %+v", c.Curve)
	}
	text := string(s.Files[0].Text)
	at := func(p scene.Span) string { return text[p.Start:p.End] }
	if at(c.Def) != `<channel source="#s" target="rope/move.X"/>` || !strings.HasPrefix(at(c.Block), `<animation id="sway">`) || !strings.HasSuffix(at(c.Block), `</animation>`) {
		t.Errorf("declared at %q in %q", at(c.Def), at(c.Block))
	}
	part := s.Parts[0]
	if at(part.NameSpan) != "Rope" || at(part.Def) != `<node id="rope" name="Rope">` || !strings.HasSuffix(at(part.Body), "</node>") {
		t.Errorf("part at %q, %q, %q", at(part.NameSpan), at(part.Def), at(part.Body))
	}
	if op := part.Ops[0]; op.Name != "move" || at(op.Span) != `<translate sid="move">1 2 3</translate>` || !near(op.Value, []float64{1, 2, 3}) {
		t.Errorf("op %+v at %q", op, at(op.Span))
	}
}

func TestAsset(t *testing.T) {
	s := read(t, rope{times: "0 1", values: "0 1", asset: `<asset><unit name="cm" meter="0.01"/><up_axis>Z_UP</up_axis></asset>`}.document())
	if s.MetersPerUnit != 0.01 || s.Up != scene.AxisZ {
		t.Errorf("unit %v, up %v", s.MetersPerUnit, s.Up)
	}
}

// TestTargets gives for each target the channels that it becomes: name, op,
// component, width.
func TestTargets(t *testing.T) {
	many := func(n int) string {
		return strings.TrimSpace(strings.Repeat("1.5 ", n)) + " " + strings.Repeat("2 ", n)
	}
	for _, test := range []struct {
		target string
		stride int
		want   string
	}{
		{"rope/move.X", 1, "move.X 0.0+1"},
		{"rope/move.Z", 1, "move.Z 0.2+1"},
		{"rope/move.z", 1, "move.Z 0.2+1"},
		{"rope/move(1)", 1, "move.Y 0.1+1"},
		{"rope/move", 3, "move.X 0.0+1, move.Y 0.1+1, move.Z 0.2+1"},
		{"rope/grow.Y", 1, "grow.Y 2.1+1"},
		{"rope/turnX.ANGLE", 1, "turnX.ANGLE 1.3+1"},
		{"rope/turnX.X", 1, "turnX.X 1.0+1"},
		{"rope/turnX", 1, "turnX.ANGLE 1.3+1"},
		{"rope/m", 16, "m 3.0+16"},
		// (column)(row), as the npm package three reads it: (3)(0) moves in x,
		// which is element 3 of a matrix written row by row.
		{"rope/m(3)(0)", 1, "m(3)(0) 3.3+1"},
		{"rope/m(0)(2)", 1, "m(0)(2) 3.8+1"},
		{"rope/m(5)", 1, "m(1)(1) 3.5+1"},
	} {
		s := read(t, rope{target: test.target, times: "0 1", values: many(test.stride), stride: test.stride}.document())
		var got []string
		for _, c := range s.Channels {
			got = append(got, fmt.Sprintf("%s %d.%d+%d", c.Name, c.Op, c.Component, c.Curve.Stride))
		}
		if strings.Join(got, ", ") != test.want {
			t.Errorf("%s: %v, want %s", test.target, got, test.want)
		}
	}
}

// An axis that all keys share is no animation.
func TestRotateWhole(t *testing.T) {
	s := read(t, rope{target: "rope/turnX", times: "0 1", values: "0 1 0 10  0 1 0 50", stride: 4}.document())
	if len(s.Channels) != 1 || s.Channels[0].Component != 3 || !near(s.Channels[0].Curve.Values, []float64{10, 50}) {
		t.Fatalf("channels %+v", s.Channels)
	}
	if v := s.Parts[0].Ops[1].Value; !near(v, []float64{0, 1, 0, 10}) {
		t.Errorf("rotation %v", v)
	}
}

func TestVectorSpans(t *testing.T) {
	s := read(t, rope{target: "rope/move", times: "0 1 2", values: "1 2 3\n4 5 6\n7 8 9", stride: 3}.document())
	if !near(s.Channels[1].Curve.Values, []float64{2, 5, 8}) {
		t.Errorf("y %v", s.Channels[1].Curve.Values)
	}
}

// TestInterpolation holds segments and handles against their definitions
// (COLLADA 1.4.1, "Curve Interpolation": BEZIER tangents are control points,
// HERMITE tangents three times the way to them). 24 frames a second.
func TestInterpolation(t *testing.T) {
	for _, test := range []struct {
		name   string
		r      rope
		interp []scene.Interp // nil: all as want
		all    scene.Interp
		h      scene.Handles
	}{
		{name: "held", r: rope{times: "0 1 2", values: "0 3 9", methods: "STEP STEP STEP"}, all: scene.Held},
		{name: "mixed", r: rope{times: "0 1 2", values: "0 3 9", methods: "LINEAR STEP LINEAR"}, interp: []scene.Interp{scene.Linear, scene.Held, scene.Held}},
		{name: "bezier, values only", all: scene.Bezier,
			r: rope{times: "0 1", values: "0 3", methods: "BEZIER BEZIER", inTangents: "0 2.5", outTangents: "1 0"},
			h: scene.Handles{OutV: []float64{1, 0}, InV: []float64{0, -0.5}}},
		{name: "bezier, pairs", all: scene.Bezier,
			r: rope{times: "0 1", values: "0 3", methods: "BEZIER BEZIER", tangentStride: 2, inTangents: "-0.5 0 0.75 2.5", outTangents: "0.5 1 2 3"},
			h: scene.Handles{OutT: []float64{12, 0}, InT: []float64{0, -6}, OutV: []float64{1, 0}, InV: []float64{0, -0.5}}},
		{name: "bezier, pairs at thirds", all: scene.Bezier,
			r: rope{times: "0 1.5", values: "0 3", methods: "BEZIER BEZIER", tangentStride: 2, inTangents: "-0.5 0 1 2.5", outTangents: "0.5 1 2 3"},
			h: scene.Handles{OutV: []float64{1, 0}, InV: []float64{0, -0.5}}},
		{name: "hermite", all: scene.Bezier,
			r: rope{times: "0 1", values: "0 3", methods: "HERMITE HERMITE", inTangents: "0 6", outTangents: "3 0"},
			h: scene.Handles{OutV: []float64{1, 0}, InV: []float64{0, -2}}},
		{name: "hermite, pairs", all: scene.Bezier,
			r: rope{times: "0 1", values: "0 3", methods: "HERMITE HERMITE", tangentStride: 2, inTangents: "0 0 1.5 6", outTangents: "0.75 3 0 0"},
			h: scene.Handles{OutT: []float64{6, 0}, InT: []float64{0, -12}, OutV: []float64{1, 0}, InV: []float64{0, -2}}},
		{name: "cardinal", all: scene.Bezier,
			r: rope{times: "0 1 2", values: "0 3 12", methods: "CARDINAL CARDINAL CARDINAL"},
			// (v[i+1]-v[i-1])/6 inside, (v[1]-v[0])/6 at the ends, in time as well.
			h: scene.Handles{OutT: []float64{4, 8, 0}, InT: []float64{0, -8, -4}, OutV: []float64{0.5, 2, 0}, InV: []float64{0, -2, -1.5}}},
	} {
		s := read(t, test.r.document())
		c := s.Channels[0].Curve
		if test.interp == nil && (c.Interp != nil || c.Default != test.all) || fmt.Sprint(c.Interp) != fmt.Sprint(test.interp) {
			t.Errorf("%s: %v %v", test.name, c.Default, c.Interp)
		}
		if c.Handles == nil {
			if test.h.OutV != nil {
				t.Errorf("%s: no handles", test.name)
			}
			continue
		}
		h := c.Handles
		if !near(h.OutT, test.h.OutT) || !near(h.InT, test.h.InT) || !near(h.OutV, test.h.OutV) || !near(h.InV, test.h.InV) {
			t.Errorf("%s: handles %+v, want %+v", test.name, h, test.h)
		}
	}
}

func TestOverlongHandles(t *testing.T) {
	src := rope{times: "0 1", values: "0 3", methods: "BEZIER BEZIER", tangentStride: 2, inTangents: "0 0 -1 3", outTangents: "2 0 1 3"}.document()
	s := Parse("rope.dae", []byte(src), scene.ReadOptions{})
	if len(s.Problems) != 1 || s.Problems[0].Kind != scene.Unsupported || src[s.Problems[0].Span.Start:s.Problems[0].Span.End] != "0" {
		t.Fatalf("problems %+v", s.Problems)
	}
	// Both handles are twice the segment: 2 + 2 - sqrt(2*2) = 2, so each is
	// halved to the segment's length.
	if h := s.Channels[0].Curve.Handles; !near(h.OutT, []float64{24, 0}) || !near(h.InT, []float64{0, -24}) {
		t.Errorf("handles %+v", h)
	}
}

func TestTwoValuesAtOneTime(t *testing.T) {
	s := read(t, rope{times: "0 1 1 2", values: "0 3 5 6"}.document())
	c := s.Channels[0].Curve
	if !near(c.Times, []float64{0, 24, 48}) || !near(c.Values, []float64{0, 5, 6}) || !near(c.PreValues, []float64{0, 3, 6}) {
		t.Errorf("curve %+v", c)
	}
	// A matrix has no room for two values.
	identity := " 1 0 0 0 0 1 0 0 0 0 1 0 0 0 0 1"
	s = read(t, rope{target: "rope/m", stride: 16, times: "0 1 1", values: strings.Repeat(identity, 3)}.document())
	if c := s.Channels[0].Curve; !near(c.Times, []float64{0, 24 - simultaneous, 24}) {
		t.Errorf("times %v", c.Times)
	}
}

func TestExtrapolation(t *testing.T) {
	s := read(t, rope{times: "0 1", values: "0 3", samplerExtras: `pre_behavior="GRADIENT" post_behavior="CYCLE_RELATIVE"`}.document())
	if c := s.Channels[0].Curve; c.Pre != scene.ExtrapLinear || c.Post != scene.LoopRepeat {
		t.Errorf("curve %+v", c)
	}
}

func TestRateOption(t *testing.T) {
	s := Parse("rope.dae", []byte(rope{times: "0 1", values: "0 3"}.document()), scene.ReadOptions{Rate: 30})
	if s.Rate != 30 || s.Last != 30 {
		t.Errorf("rate %v, last frame %v", s.Rate, s.Last)
	}
}

func TestAllowances(t *testing.T) {
	src := rope{times: "0 1", values: "0 3", node: `<!-- curvelint: allow frozen-hold 4-9 because it is moored --><translate sid="move">0 0 0</translate>`}.document()
	src = strings.Replace(src, `<sampler id`, `<!-- curvelint: allow pop because a gust --><sampler id`, 1)
	s := read(t, src)
	if len(s.Allows) != 2 || s.Allows[0].Check != "pop" || s.Allows[0].Part != 0 || s.Allows[1].Check != "frozen-hold" || s.Allows[1].Last != 9 || s.Allows[1].Part != 0 {
		t.Errorf("allowances %+v", s.Allows)
	}
}

// TestEncodings reads the same document in UTF-8 with a byte-order mark and in
// UTF-16, as parse.Parse hands it on.
func TestEncodings(t *testing.T) {
	src := strings.Replace(rope{times: "0 1", values: "0 3"}.document(), `name="Rope"`, "name=\"Möwe \U0001F600\"", 1)
	wide := []byte{0xFF, 0xFE}
	for _, unit := range utf16.Encode([]rune(src)) {
		wide = append(wide, byte(unit), byte(unit>>8))
	}
	for _, raw := range [][]byte{[]byte("\uFEFF" + src), wide, wide[2:]} {
		decoded, _, err := text.Decode(raw)
		if err != nil {
			t.Fatal(err)
		}
		s := read(t, string(decoded))
		if s.Parts[0].Path != "/Möwe \U0001F600" || len(s.Channels) != 1 {
			t.Errorf("%s, %d channels", s.Parts[0].Path, len(s.Channels))
		}
	}
}
