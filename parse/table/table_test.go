package table

import (
	"fmt"
	"reflect"
	"strings"
	"testing"

	"curvelint/parse/scene"
)

// describe prints parts and channels for comparison.
func describe(s *scene.Scene) (lines []string) {
	for _, p := range s.Parts {
		ops := ""
		for _, op := range p.Ops {
			ops += fmt.Sprintf(" %s:%d%v", op.Name, op.Kind, op.Value)
		}
		lines = append(lines, fmt.Sprintf("%s kind %d reset %v%s", p.Path, p.Kind, p.ResetStack, ops))
	}
	for _, c := range s.Channels {
		lines = append(lines, fmt.Sprintf("%d.%d.%d %s q%d %v at %v", c.Part, c.Op, c.Component, c.Name, c.Quantity, c.Curve.Values, c.Curve.Times))
	}
	return lines
}

func compare(t *testing.T, s *scene.Scene, want ...string) {
	t.Helper()
	if len(s.Problems) > 0 {
		t.Errorf("problems: %v", s.Problems)
	}
	if got := describe(s); !reflect.DeepEqual(got, want) {
		t.Errorf("got:\n%s\nwant:\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
}

// deck is an invented table with every kind of column.
const deck = `# the night ferry, shot 12
# rotation_order = ZXY
# aspect = 1.85
frame,hips.tx,hips.ty,hips/chest.rx,hips/chest.rY,hips/chest.rz,hips.sz,gull.wx,gull.wz,mark.u,mark.v,hips/head.smile,wind
1, 0,90,1,2,3,1,5,6,0.5,0.25,0,7
2.5,"0.5",90.125, ,2,"",1,5,6,0.5,0.25,"1",7

# a comment
4,1,90,1,2,3,2,5,6,0.5,0.75,1,7
`

func TestParse(t *testing.T) {
	s := Parse("deck.csv", []byte(deck), scene.ReadOptions{})
	compare(t, s,
		"/hips kind 0 reset false t:0[0 0 0] s:1[1 1 1]",
		"/hips/chest kind 0 reset false rz:4[0] rx:2[0] rY:3[0]",
		"/gull kind 9 reset true w:0[0 0 0]",
		"/mark kind 10 reset true picture:1[1.85 -1 1] uv:0[0 0 0]",
		"/hips/head kind 0 reset false",
		"/hips/head/smile kind 8 reset false",
		"/wind kind 8 reset false",
		"0.0.0 tx q0 [0 0.5 1] at [1 2.5 4]",
		"0.0.1 ty q0 [90 90.125 90] at [1 2.5 4]",
		"1.1.0 rx q1 [1 1] at [1 4]",
		"1.2.0 rY q1 [2 2 2] at [1 2.5 4]",
		"1.0.0 rz q1 [3 3] at [1 4]",
		"0.1.2 sz q2 [1 1 2] at [1 2.5 4]",
		"2.0.0 wx q0 [5 5 5] at [1 2.5 4]",
		"2.0.2 wz q0 [6 6 6] at [1 2.5 4]",
		"3.1.0 u q0 [0.5 0.5 0.5] at [1 2.5 4]",
		"3.1.1 v q0 [0.25 0.25 0.75] at [1 2.5 4]",
		"5.-1.0 smile q6 [0 1 1] at [1 2.5 4]",
		"6.-1.0 wind q6 [7 7 7] at [1 2.5 4]",
	)
	if s.Format != "table" || s.Rate != 24 || s.RateKnown || s.First != 1 || s.Last != 4 {
		t.Errorf("%s, rate %v (known %v), frames %v to %v", s.Format, s.Rate, s.RateKnown, s.First, s.Last)
	}
	text := func(at scene.Span) string { return deck[at.Start:at.End] }
	for what, got := range map[string][2]string{
		"part":        {text(s.Parts[1].Def), "hips/chest.rx"},
		"name":        {text(s.Parts[1].NameSpan), "chest"},
		"parent":      {text(s.Parts[0].NameSpan), "hips"},
		"channel":     {text(s.Channels[3].Def), "hips/chest.rY"},
		"key":         {text(s.KeySpan(1, 1, 0)), "90.125"},
		"quoted key":  {text(s.KeySpan(0, 1, 0)), "0.5"},
		"after a gap": {text(s.KeySpan(2, 1, 0)), "1"},
		"last key":    {text(s.KeySpan(11, 2, 0)), "7"},
		"rotation":    {text(s.Parts[1].Ops[0].Span), "hips/chest.rz"},
	} {
		if got[0] != got[1] {
			t.Errorf("%s: %q, want %q", what, got[0], got[1])
		}
	}
	if got := s.Channels[1].Curve.Step; got != 0.001 {
		t.Errorf("step %v", got)
	}
}

func TestTime(t *testing.T) {
	src := "time\trope.tx\n0\t1\n0.0416667\t2\n0.0833333\t3\n"
	s := Parse("rope.tsv", []byte(src), scene.ReadOptions{})
	compare(t, s, "/rope kind 0 reset false t:0[0 0 0]", "0.0.0 tx q0 [1 2 3] at [0 1 2]")
	if s.Rate != 24 || !s.RateKnown || s.First != 0 || s.Last != 2 {
		t.Errorf("rate %v (known %v), frames %v to %v", s.Rate, s.RateKnown, s.First, s.Last)
	}
	s = Parse("rope.tsv", []byte(src), scene.ReadOptions{Rate: 48})
	if got := s.Channels[0].Curve.Times; s.Rate != 48 || !s.RateKnown || !reflect.DeepEqual(got, []float64{0, 2, 4}) {
		t.Errorf("at 48: rate %v, keys at %v", s.Rate, got)
	}
}

// TestWriting: ways of writing one and the same table. Quoting, doubled quotes
// and line ends are those of RFC 4180, section 2.
func TestWriting(t *testing.T) {
	for name, src := range map[string]string{
		"plain":               "frame,a.tx,b.ty\n1,2,3\n2,4,5\n",
		"no last line end":    "frame,a.tx,b.ty\n1,2,3\n2,4,5",
		"CR LF":               "frame,a.tx,b.ty\r\n1,2,3\r\n2,4,5\r\n",
		"CR":                  "frame,a.tx,b.ty\r1,2,3\r2,4,5\r",
		"tabs":                "frame\ta.tx\tb.ty\n1\t2\t3\n2\t4\t5\n",
		"semicolons":          "frame;a.tx;b.ty\n1;2;3\n2;4;5\n",
		"mark":                "\uFEFFframe,a.tx,b.ty\n1,2,3\n2,4,5\n",
		"quotes":              "\"frame\",\"a.tx\",\"b.ty\"\n\"1\",\"2\",\"3\"\n\"2\", \" 4\" ,5\n",
		"blanks":              "Frame , a.tx , b.TY\n 1 , 2 , 3 \n 2 ,4 , 5\n",
		"separators at end":   "frame,a.tx,b.ty,\n1,2,3,\n2,4,5,\n",
		"more separators":     "frame,a.tx,b.ty\n1,2,3,,,\n2,4,5,,,\n,,,,\n",
		"blank lines":         "\n\nframe,a.tx,b.ty\n\n1,2,3\n\r\n2,4,5\n\n",
		"comments":            "# one\n\"# two, \",,\nframe,a.tx,b.ty\n1,2,3\n#1,2,3\n2,4,5\n",
		"leading slash":       "frame,/a.tx,/b.ty\n1,2,3\n2,4,5\n",
		"exponents and signs": "frame,a.tx,b.ty\n1e0,+2.0,3e0\n2.00,.4e1,0.5e+1\n",
	} {
		s := Parse("x.csv", []byte(src), scene.ReadOptions{})
		if len(s.Problems) > 0 || len(s.Channels) != 2 || !reflect.DeepEqual(s.Channels[0].Curve.Values, []float64{2, 4}) ||
			!reflect.DeepEqual(s.Channels[1].Curve.Values, []float64{3, 5}) || !reflect.DeepEqual(s.Channels[1].Curve.Times, []float64{1, 2}) {
			t.Errorf("%s: %v\n%s", name, s.Problems, strings.Join(describe(s), "\n"))
		}
	}
}

// TestText: a column of remarks is left out, line ends in quotes do not end a
// row.
func TestText(t *testing.T) {
	src := "frame,note,a.tx\n1,\"slack, then\n2,\"\"taut\"\"\",2\n2,x,3\n3\n"
	s := Parse("x.csv", []byte(src), scene.ReadOptions{})
	if len(s.Problems) != 2 || s.Problems[0].Kind != scene.Unsupported || s.Problems[1].Kind != scene.Syntax {
		t.Errorf("problems %v", s.Problems)
	}
	if len(s.Channels) != 1 || !reflect.DeepEqual(s.Channels[0].Curve.Values, []float64{2, 3}) {
		t.Errorf("%s", strings.Join(describe(s), "\n"))
	}
}

// TestSparse: rows far shorter than a long header take no memory for it.
func TestSparse(t *testing.T) {
	var b strings.Builder
	b.WriteString("frame")
	for i := range 3000 {
		fmt.Fprintf(&b, ",p%d.tx", i)
	}
	for i := range 3000 {
		fmt.Fprintf(&b, "\n%d,%d,%d", i, i, 2*i)
	}
	s := Parse("x.csv", []byte(b.String()+"\n"), scene.ReadOptions{})
	if len(s.Channels) != 3000 || len(s.Problems) != 1 {
		t.Fatalf("%d channels, problems %v", len(s.Channels), s.Problems)
	}
	for c, n := range []int{3000, 3000, 0} {
		if got := s.Channels[c].Curve.Len(); got != n {
			t.Errorf("channel %d has %d keys, want %d", c, got, n)
		}
	}
	if c := s.Channels[1].Curve; c.Values[7] != 14 || c.Times[7] != 7 || b.String()[c.Spans[7]:c.Spans[7]+2] != "14" {
		t.Errorf("key 7: %v at %v", c.Values[7], c.Times[7])
	}
}
