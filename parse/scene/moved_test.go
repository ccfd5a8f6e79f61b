package scene

import (
	"reflect"
	"testing"
)

func TestMoved(t *testing.T) {
	shared := []uint32{10, 20, 30}
	old := &Scene{
		Files: []*File{{Path: "a", Text: []byte("0123456789012345678901234567890123456789")}, {Path: "b"}},
		Parts: []Part{{Body: Span{0, 5, 40}, Def: Span{1, 30, 31}, Ops: []Op{{Span: Span{0, 25, 28}}}}},
		Channels: []Channel{
			{Def: Span{0, 1, 9}, Block: Span{0, 1, 40}, Curve: Curve{Spans: shared}},
			{Curve: Curve{Spans: shared}},
			{Curve: Curve{Spans: []uint32{30}, File: 1}},
			{Curve: Curve{Spans: shared[:1]}},
		},
		Problems: []Problem{{Span: Span{0, 35, 36}}},
		Allows:   []Allow{{Span: Span{0, 0, 3}}},
	}
	s := Moved(old, Edit{Start: 20, End: 22, New: []byte("abcde")})
	if got := string(s.Files[0].Text); got != "01234567890123456789abcde234567890123456789" {
		t.Errorf("text %q", got)
	}
	for name, pair := range map[string][2]any{
		"body":     {s.Parts[0].Body, Span{0, 5, 43}},
		"def":      {s.Parts[0].Def, Span{1, 30, 31}},
		"op":       {s.Parts[0].Ops[0].Span, Span{0, 28, 31}},
		"block":    {s.Channels[0].Block, Span{0, 1, 43}},
		"keys":     {s.Channels[0].Curve.Spans, []uint32{10, 20, 33}},
		"outside":  {s.Channels[2].Curve.Spans, []uint32{30}},
		"before":   {s.Channels[3].Curve.Spans, []uint32{10}},
		"problem":  {s.Problems[0].Span, Span{0, 38, 39}},
		"allow":    {s.Allows[0].Span, Span{0, 0, 3}},
		"old keys": {shared, []uint32{10, 20, 30}},
		"old op":   {old.Parts[0].Ops[0].Span, Span{0, 25, 28}},
	} {
		if !reflect.DeepEqual(pair[0], pair[1]) {
			t.Errorf("%s: %v, want %v", name, pair[0], pair[1])
		}
	}
	if &s.Channels[0].Curve.Spans[0] != &s.Channels[1].Curve.Spans[0] {
		t.Error("curves no longer share their places")
	}
	if len(old.Files[0].Text) != 40 {
		t.Error("the old scene changed")
	}
}
