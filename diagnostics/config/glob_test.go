package config

import (
	"path"
	"strings"
	"testing"
	"unicode/utf8"
)

func TestGlob(t *testing.T) {
	tests := []struct {
		pattern, path string
		want          bool
	}{
		{"/Tug/hips", "/Tug/hips", true},
		{"/Tug/hips", "/Tug/hips/chest", false},
		{"/Tug/hips", "/Shot/Tug/hips", false},
		{"/Tug/**", "/Tug", true},
		{"/Tug/**", "/Tug/hips/chest", true},
		{"/Tug/**", "/Tugboat/hips", false},
		{"/Tug/*", "/Tug/hips", true},
		{"/Tug/*", "/Tug/hips/chest", false},
		{"/**/hand", "/Tug/arm/hand", true},
		{"/Tug/**/hand/**", "/Tug/hand", true},
		{"/Tug/**/hand/**", "/Tug/arm/hand/thumb/tip", true},
		{"*brow*", "/Tug/head/L_Brow_01", true},
		{"*brow*", "/Tug/brow/lid", false},
		{"brow?", "/Tug/brows", true},
		{"brow?", "/Tug/brow", false},
		{"arm/hand", "/Tug/arm/hand", true},
		{"arm/hand", "/Tug/forearm/hand", false},
		{"[lr]_lid", "/Tug/R_lid", true},
		{"[!lr]_lid", "/Tug/R_lid", false},
		{"joint[0-3]", "/a/joint2", true},
		{"joint[0-3]", "/a/joint4", false},
		{"[]]x", "/a/]x", true},
		{"[a-]x", "/a/-x", true},
		{`\*x`, "/a/*x", true},
		{`\*x`, "/a/bx", false},
		{"**", "/anything/at/all", true},
		{"Schiff*", "/SCHIFFSJUNGE", true},
		{"möwe", "/Shot/MÖWE", true},
		{"*??", "/Shot/ö", false},
	}
	for _, tt := range tests {
		g, err := NewGlob(tt.pattern)
		if err != nil {
			t.Errorf("%q: %v", tt.pattern, err)
		} else if got := g.Match(tt.path); got != tt.want {
			t.Errorf("%q matches %q: %v, want %v", tt.pattern, tt.path, got, tt.want)
		}
	}
}

func TestGlobZeroMatchesNothing(t *testing.T) {
	if (Glob{}).Match("/a") || (Globs{}).Match("/a") {
		t.Error("an empty pattern matches")
	}
}

func TestEscapeGlob(t *testing.T) {
	for _, p := range []string{"/a/b", "/a*/b?", `/a[1]\b`} {
		g, err := NewGlob(EscapeGlob(p))
		if err != nil || !g.Match(p) || g.Match(p+"x") {
			t.Errorf("%q: escaped as %q, %v", p, EscapeGlob(p), err)
		}
	}
}

// Within one name the patterns are those of the standard library's path.Match,
// apart from case and the bracket's negation by "!".
func FuzzGlobAgainstStandardLibrary(f *testing.F) {
	f.Add("a*b?c", "aXbYc")
	f.Add("*[a-c]*", "xbx")
	f.Add("**a", "ba")
	f.Fuzz(func(t *testing.T, pattern, name string) {
		lower := strings.ToLower(pattern + name)
		if lower != pattern+name || strings.ContainsAny(lower, "/!\\[") || pattern == "" || name == "" || pattern == "**" {
			t.Skip("path.Match has no folders, no negation by ! and no folding of case, and nothing to say of nothing")
		}
		if !utf8.ValidString(pattern) || !utf8.ValidString(name) {
			t.Skip("TOML is UTF-8, and bytes in paths that are not count as one character")
		}
		if strings.Contains(pattern, "*") && strings.ContainsFunc(name, func(r rune) bool { return r >= utf8.RuneSelf }) {
			t.Skip("path.Match lets a star end inside a character: its *?? takes one of three bytes")
		}
		want, err := path.Match(pattern, name)
		if err != nil {
			t.Skip("no pattern for path.Match:", err)
		}
		g, err := NewGlob("/" + pattern)
		if err != nil {
			t.Fatal(err)
		}
		if got := g.Match("/" + name); got != want {
			t.Errorf("%q on %q: %v, want %v", pattern, name, got, want)
		}
	})
}

// A pattern of many stars takes time linear in the name for each star.
func BenchmarkGlobManyStars(b *testing.B) {
	g, err := NewGlob("/" + strings.Repeat("a*", 30) + "b")
	if err != nil {
		b.Fatal(err)
	}
	name := "/" + strings.Repeat("a", 1000)
	for b.Loop() {
		g.Match(name)
	}
}
