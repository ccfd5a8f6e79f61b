package words

import "strings"

// longest bounds names in messages: they must stay readable in one line.
const longest = 24

// Shorten leaves out the middle of a name that is too long.
func Shorten(name string) string {
	r := []rune(name)
	if len(r) <= longest {
		return name
	}
	half := (longest - 1) / 2
	return string(r[:half]) + "…" + string(r[len(r)-half:])
}

// plurals are body words that take a verb without s: "hips travel".
var plurals = map[string]bool{
	"hips": true, "lids": true, "brows": true, "eyes": true, "ears": true, "lips": true, "ribs": true, "toes": true,
	"wings": true, "fingers": true, "feet": true, "shoulders": true, "arms": true, "legs": true, "teeth": true,
}

// Does conjugates a verb given in the form for one: Does("hips", "travels") is
// "travel". The first argument is the last word of the name, in lower case.
func Does(word, verb string) string {
	if plurals[word] {
		return strings.TrimSuffix(verb, "s")
	}
	return verb
}
