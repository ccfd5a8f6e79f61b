package scene

import (
	"reflect"
	"testing"
)

func TestRenumber(t *testing.T) {
	shared := []float64{1, 2, 3.5}
	s := &Scene{First: 1, Last: 3.5, Channels: []Channel{
		{Name: "a", Curve: Curve{Times: shared}},
		{Name: "b", Curve: Curve{Times: shared}},
		{Name: "c", Curve: Curve{Times: shared[:2]}},
		{Name: "d"},
	}}
	got := Renumber(s, 1001)
	if got.First != 1001 || got.Last != 1003.5 {
		t.Errorf("range %v to %v, want 1001 to 1003.5", got.First, got.Last)
	}
	want := [][]float64{{1001, 1002, 1003.5}, {1001, 1002, 1003.5}, {1001, 1002}, nil}
	for i, w := range want {
		if !reflect.DeepEqual(got.Channels[i].Curve.Times, w) {
			t.Errorf("times of %s: %v, want %v", got.Channels[i].Name, got.Channels[i].Curve.Times, w)
		}
	}
	if &got.Channels[0].Curve.Times[0] != &got.Channels[1].Curve.Times[0] {
		t.Error("a shared column was copied twice")
	}
	if shared[0] != 1 || s.First != 1 {
		t.Error("the old scene changed")
	}
	if Renumber(s, 1) != s {
		t.Error("a scene that begins at the frame already was copied")
	}
}

func TestProblems(t *testing.T) {
	var p Problems
	if p.List() != nil {
		t.Error("problems from nothing")
	}
	for i := range MaxProblems + 20 {
		p.Add(Syntax, Span{Start: uint32(i)}, "expected a number, found %q", "x")
	}
	list := p.List()
	if len(list) != MaxProblems || list[0].Message != `expected a number, found "x"` {
		t.Fatalf("%d problems, the first %q", len(list), list[0].Message)
	}
	if want := `expected a number, found "x" (and 20 more problems in this file)`; list[MaxProblems-1].Message != want {
		t.Errorf("last problem %q, want %q", list[MaxProblems-1].Message, want)
	}
	p.Count(5)
	if again := p.List(); again[MaxProblems-1].Message != `expected a number, found "x" (and 25 more problems in this file)` {
		t.Errorf("last problem %q", again[MaxProblems-1].Message)
	}
}
