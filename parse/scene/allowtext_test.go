package scene

import (
	"math"
	"testing"
)

func TestFindAllow(t *testing.T) {
	nan := math.NaN()
	same := func(a, b float64) bool { return a == b || a != a && b != b }
	for _, test := range []struct {
		comment     string
		check, why  string
		first, last float64
		start, end  uint32
		found, bad  bool
	}{
		{comment: " a rope ", found: false},
		{" curvelint: allow frozen-hold 40-52 because freeze frame for the gag ", "frozen-hold", "freeze frame for the gag", 40, 52, 1, 68, true, false},
		{"curvelint: allow pop 12 because a slap", "pop", "a slap", 12, 12, 0, 38, true, false},
		{"curvelint: allow pop because a slap", "pop", "a slap", nan, nan, 0, 35, true, false},
		{"curvelint: allow pop", "pop", "", nan, nan, 0, 20, true, false},
		{"curvelint: allow pop -5--2.5", "pop", "", -5, -2.5, 0, 28, true, false},
		{"curvelint: allow", "", "", nan, nan, 0, 16, true, true},
		{"curvelint: allow because x", "", "", nan, nan, 0, 26, true, true},
		{"curvelint: alow pop", "", "", nan, nan, 0, 19, true, true},
		{"curvelint: allow pop 9-3 because x", "pop", "", nan, nan, 0, 34, true, true},
		{"curvelint: allow pop nan because x", "pop", "", nan, nan, 0, 34, true, true},
		{"curvelint: allow pop 3 since x", "pop", "", 3, 3, 0, 30, true, true},
	} {
		a, found, err := FindAllow([]byte(test.comment), Span{File: 2, Start: 100})
		if found != test.found || (err != nil) != test.bad {
			t.Errorf("%q: found %v, error %v", test.comment, found, err)
			continue
		}
		if !found {
			continue
		}
		if a.Check != test.check || a.Why != test.why || !same(a.First, test.first) || !same(a.Last, test.last) || a.Part != NoPart {
			t.Errorf("%q: %+v", test.comment, a)
		}
		if want := (Span{2, 100 + test.start, 100 + test.end}); a.Span != want {
			t.Errorf("%q: span %v, want %v", test.comment, a.Span, want)
		}
	}
}
