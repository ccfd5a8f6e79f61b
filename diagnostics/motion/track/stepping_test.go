package track

import (
	"slices"
	"testing"
)

// steps turns a drawing of changes (+) and repeats (.) into what moved.
func steps(s string) []bool {
	moved := make([]bool, len(s))
	for i := range s {
		moved[i] = s[i] == '+'
	}
	return moved
}

func TestSteppingOf(t *testing.T) {
	for _, c := range []struct {
		name, s string
		rate    float64
		want    int
	}{
		{"nothing", "", 24, 1},
		{"still", "........", 24, 1},
		{"ones", "++++++++++++++++", 24, 1},
		{"twos", "+.+.+.+.+.+.+.+.", 24, 2},
		{"twos, the other parity", ".+.+.+.+.+.+.+", 24, 2},
		{"twos that change parity", "+.+.+.+....+.+.+.+.+", 24, 2},
		{"twos with a rest", "+.+.+.+.+..............+.+.+.+", 24, 2},
		{"twos with one on ones", "+.+.+.+++.+.+.+.+.+.+.+", 24, 2},
		{"half and half", "+.+.+.+.+.+++++++.+.+.+", 24, 1},
		{"threes", "+..+..+..+..+..+..+", 24, 1},
		{"too few", "+.+.+.+.+", 24, 1},
		{"six", "+.+.+.+.+.+", 24, 2},
		{"twos at 25", "+.+.+.+.+.+.+.+", 25, 2},
		{"twos at 30", "+.+.+.+.+.+.+.+", 30, 2},
		{"film on ones, shown at 48", "+.+.+.+.+.+.+.+", 48, 1},
		{"twos at 48", "+...+...+...+...+...+...+", 48, 2},
		{"twos at 60", "+....+....+....+....+....+....+", 60, 2},
		{"no rate", "+.+.+.+.+.+", 0, 2},
	} {
		if got := steppingOf(steps(c.s), c.rate); got != c.want {
			t.Errorf("%s: on %d, want %d", c.name, got, c.want)
		}
	}
}

func TestSteppingAsGiven(t *testing.T) {
	k := frames(0, 0, 1, 1, 2, 2, 3, 3, 4, 4, 5, 5, 6, 6, 7, 7)
	k.GivenStep = 1
	if k.Stepping() != 1 {
		t.Error("on twos against what is given")
	}
	k = fromSpacing(1, 1, 1, 1)
	k.GivenStep = 2
	if k.Stepping() != 2 {
		t.Error("on ones against what is given")
	}
}

func TestSteppedStretches(t *testing.T) {
	for _, c := range []struct {
		name, s string
		want    []Stepped
	}{
		{"nothing", "", nil},
		{"ones", "..++++++++..", []Stepped{{2, 10, 1}}},
		{"short", "..++++..", nil},
		{"twos", "..+.+.+..", []Stepped{{2, 7, 2}}},
		{"two changes", "..+.+....", nil},
		{"twos among ones", "++++++++.+.+.+++++++", []Stepped{{0, 8, 1}, {7, 14, 2}, {13, 20, 1}}},
		{"parted by a rest", "+.+.+.+.....+.+.+.+", []Stepped{{0, 7, 2}, {12, 19, 2}}},
		{"threes", "+..+..+..+..+", nil},
	} {
		if got := SteppedStretches(steps(c.s), 24); !slices.Equal(got, c.want) {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
}
