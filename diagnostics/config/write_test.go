package config

import (
	"strings"
	"testing"
	"unicode/utf8"
)

func TestAllowTOML(t *testing.T) {
	a := Allow{Check: "frozen-hold", Match: Globs{glob(t, "/Tug/**")}, File: Globs{glob(t, "a.usda"), glob(t, "b*")},
		Frames: Frames{40, 52}, HasFrames: true, Stroke: Frames{38, 39.5}, HasStroke: true, Why: `the "gag"`}
	want := `[[allow]]
check = "frozen-hold"
match = "/Tug/**"
file = ["a.usda", "b*"]
frames = "40-52"
stroke = "38-39.5"
why = "the \"gag\""
`
	if got := a.TOML(); got != want {
		t.Errorf("got\n%s", got)
	}
	if got := a.Comment(); got != `curvelint: allow frozen-hold 40-52 because the "gag"` {
		t.Errorf("comment %s", got)
	}
}

func glob(t *testing.T, s string) Glob {
	t.Helper()
	g, err := NewGlob(s)
	if err != nil {
		t.Fatal(err)
	}
	return g
}

// What is written reads back, whatever stands in names and reasons.
func FuzzAllowTOML(f *testing.F) {
	f.Add("/Tug/[odd]*name", "gag")
	f.Add(`a\b'c"`, "two\nlines\t\x7f")
	f.Fuzz(func(t *testing.T, part, why string) {
		if !utf8.ValidString(part) || !utf8.ValidString(why) || strings.TrimSpace(why) == "" || strings.TrimSpace(part) == "" {
			t.Skip("an allowance names a part and a reason, in UTF-8")
		}
		g, err := NewGlob(EscapeGlob(part))
		if err != nil {
			t.Skip("no name that a pattern can be made of:", err)
		}
		a := Allow{Check: "frozen-hold", Match: Globs{g}, Why: why}
		c := Parse("curvelint.toml", []byte(a.TOML()), testSchema)
		if len(c.Problems) > 0 || len(c.Allows) != 1 {
			t.Fatalf("%s\n%+v", a.TOML(), c.Problems)
		}
		if b := c.Allows[0]; b.Why != why || b.Match.String() != a.Match.String() {
			t.Errorf("read back %+v", b)
		}
	})
}
