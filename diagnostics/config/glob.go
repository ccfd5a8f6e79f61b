package config

import (
	"errors"
	"fmt"
	"strings"
)

// Glob is a pattern for paths of parts and files. Case does not matter.
//
//	/Tug/hips     the part with this path
//	/Tug/*        the parts right below /Tug
//	/Tug/**       /Tug and all below it
//	*brow*        any part whose name contains brow
//	arm/hand      any part called hand below one called arm
//
// Within a name * stands for any characters, ? for one, [abc], [a-z] and [!a-z]
// for one of (none of) several; \ takes the next character as it stands. A
// pattern without a leading / may begin anywhere.
type Glob struct {
	text  string
	names [][]symbol // nil stands for **
}

// symbol is one element of a pattern within a name.
type symbol struct {
	kind  symbolKind
	char  rune
	set   []runeRange
	other bool // the set lists what does not match
}

type symbolKind uint8

const (
	exactly symbolKind = iota
	anyOne
	anyRun
	oneOf
)

type runeRange struct{ low, high rune }

// NewGlob compiles a pattern.
func NewGlob(pattern string) (Glob, error) {
	g := Glob{text: pattern}
	rest, anchored := strings.CutPrefix(pattern, "/")
	if rest == "" {
		return g, errors.New(`expected a pattern such as "/Shot/winch/**" or "*brow*", found ` + fmt.Sprintf("%q", pattern))
	}
	if !anchored {
		g.names = append(g.names, nil)
	}
	for _, name := range splitNames(strings.ToLower(rest)) {
		if name == "**" {
			g.names = append(g.names, nil)
			continue
		}
		symbols, err := compileName(name)
		if err != nil {
			return g, fmt.Errorf("in the pattern %q %w", pattern, err)
		}
		g.names = append(g.names, symbols)
	}
	return g, nil
}

// splitNames cuts a pattern at its slashes, except inside brackets and after a
// backslash.
func splitNames(s string) []string {
	var names []string
	start, inSet := 0, false
	for i := 0; i < len(s); i++ {
		switch {
		case s[i] == '\\':
			i++
		case s[i] == '[':
			inSet = true
		case s[i] == ']':
			inSet = false
		case s[i] == '/' && !inSet:
			names = append(names, s[start:i])
			start = i + 1
		}
	}
	return append(names, s[start:])
}

func compileName(name string) ([]symbol, error) {
	symbols := []symbol{}
	runes := []rune(name)
	if len(runes) == 0 {
		return nil, errors.New("a name is empty; remove the doubled or last /")
	}
	for i := 0; i < len(runes); i++ {
		switch c := runes[i]; c {
		case '*':
			if n := len(symbols); n == 0 || symbols[n-1].kind != anyRun {
				symbols = append(symbols, symbol{kind: anyRun})
			}
		case '?':
			symbols = append(symbols, symbol{kind: anyOne})
		case '[':
			set, n, err := compileSet(runes[i+1:])
			if err != nil {
				return nil, err
			}
			symbols = append(symbols, set)
			i += n
		case '\\':
			if i++; i == len(runes) {
				return nil, errors.New(`the last \ stands before nothing; remove it or write \\`)
			}
			symbols = append(symbols, symbol{char: runes[i]})
		default:
			symbols = append(symbols, symbol{char: c})
		}
	}
	return symbols, nil
}

// compileSet reads what follows a [ up to its ] and returns how many runes that
// are.
func compileSet(runes []rune) (symbol, int, error) {
	s := symbol{kind: oneOf}
	i := 0
	if i < len(runes) && (runes[i] == '!' || runes[i] == '^') {
		s.other = true
		i++
	}
	for first := i; i < len(runes); i++ {
		c := runes[i]
		if c == ']' && i > first {
			return s, i + 1, nil
		}
		high := c
		if i+2 < len(runes) && runes[i+1] == '-' && runes[i+2] != ']' {
			high = runes[i+2]
			i += 2
		}
		if high < c {
			return s, 0, fmt.Errorf("the range %c-%c runs backwards", c, high)
		}
		s.set = append(s.set, runeRange{c, high})
	}
	return s, 0, errors.New("a [ has no ]; close it or write \\[")
}

// String returns the pattern as it was written.
func (g Glob) String() string { return g.text }

// Match reports whether a path matches. The leading / of the path may be
// missing.
func (g Glob) Match(path string) bool {
	if g.names == nil {
		return false
	}
	names := strings.Split(strings.ToLower(strings.TrimPrefix(path, "/")), "/")
	return matchRuns(len(g.names), len(names),
		func(i int) bool { return g.names[i] == nil },
		func(i, j int) bool { return matchName(g.names[i], []rune(names[j])) })
}

func matchName(symbols []symbol, name []rune) bool {
	return matchRuns(len(symbols), len(name),
		func(i int) bool { return symbols[i].kind == anyRun },
		func(i, j int) bool { return symbols[i].matches(name[j]) })
}

// matchRuns matches n pattern elements, some of which (run) stand for any
// number of the m elements of a text, the others (one) for exactly one. Only
// the latest run needs to be tried again, so that time is at most n*m.
func matchRuns(n, m int, run func(i int) bool, one func(i, j int) bool) bool {
	i, j := 0, 0
	lastRun, lastStart := -1, 0
	for j < m {
		switch {
		case i < n && run(i):
			lastRun, lastStart = i, j
			i++
		case i < n && one(i, j):
			i++
			j++
		case lastRun >= 0:
			lastStart++
			i, j = lastRun+1, lastStart
		default:
			return false
		}
	}
	for i < n && run(i) {
		i++
	}
	return i == n
}

func (s *symbol) matches(r rune) bool {
	switch s.kind {
	case exactly:
		return r == s.char
	case anyOne:
		return true
	}
	for _, in := range s.set {
		if in.low <= r && r <= in.high {
			return !s.other
		}
	}
	return s.other
}

// Globs is a list of patterns of which one must match.
type Globs []Glob

// Match reports whether any of the patterns matches the path.
func (g Globs) Match(path string) bool {
	for i := range g {
		if g[i].Match(path) {
			return true
		}
	}
	return false
}

// String returns the patterns, joined by commas.
func (g Globs) String() string {
	texts := make([]string, len(g))
	for i := range g {
		texts[i] = g[i].text
	}
	return strings.Join(texts, ", ")
}

// EscapeGlob returns the pattern that matches exactly the given path.
func EscapeGlob(path string) string {
	return escaper.Replace(path)
}

var escaper = strings.NewReplacer(`\`, `\\`, `*`, `\*`, `?`, `\?`, `[`, `\[`)
