package write

import (
	"strconv"
	"strings"
	"unicode"

	"curvelint/cmd/lab/designed"
)

// identifiers gives every part of a shot a name that a format's grammar allows:
// bytes it does not allow become '_', a first digit gets one before it, and
// names that would then be equal within their scope get a number.
func identifiers(s *designed.Shot, allowed func(r rune) bool, scope func(part int) int) []string {
	out := make([]string, len(s.Parts))
	used := map[string]bool{}
	for i := range s.Parts {
		name := identifier(s.Parts[i].Name, allowed)
		key := strconv.Itoa(scope(i)) + "/"
		for base, n := name, 2; used[key+name]; n++ {
			name = base + "_" + strconv.Itoa(n)
		}
		used[key+name] = true
		out[i] = name
	}
	return out
}

func identifier(name string, allowed func(r rune) bool) string {
	var b strings.Builder
	for i, r := range name {
		if i == 0 && unicode.IsDigit(r) {
			b.WriteByte('_')
		}
		if !allowed(r) {
			r = '_'
		}
		b.WriteRune(r)
	}
	if b.Len() == 0 {
		return "_"
	}
	return b.String()
}

// siblings is the scope of formats in which only siblings must differ.
func siblings(s *designed.Shot) func(int) int {
	return func(part int) int { return s.Parts[part].Parent }
}

// everywhere is the scope of formats in which all names must differ.
func everywhere(int) int { return 0 }

// usdRune reports whether a rune may stand in a prim's name.
func usdRune(r rune) bool { return r == '_' || unicode.IsLetter(r) || unicode.IsDigit(r) }

// xmlRune reports whether a rune may stand in an XML id (NCName).
func xmlRune(r rune) bool {
	return r == '_' || r == '-' || r == '.' || unicode.IsLetter(r) || unicode.IsDigit(r)
}
