package words

import (
	"strings"
	"unicode"
)

// plurals are body words that take a verb without s: "hips travel". A name that ends
// in s is not enough: "pelvis" and "torus" are one thing.
var plurals = map[string]bool{
	"hips": true, "lids": true, "eyelids": true, "brows": true, "eyebrows": true, "eyes": true, "pupils": true,
	"ears": true, "lips": true, "cheeks": true, "ribs": true, "toes": true, "wings": true, "fingers": true,
	"hands": true, "feet": true, "heels": true, "shoulders": true, "arms": true, "legs": true, "knees": true,
	"elbows": true, "teeth": true,
}

// irregular verbs, from the form for one to the form for many.
var irregular = map[string]string{"is": "are", "was": "were", "has": "have"}

// Does puts a verb, given in the form for one, into the form that goes with a name:
// Does("hips", "travels") is "travel", Does("leftArm", "travels") is "travels".
func Does(name, verb string) string {
	if plurals[lastWord(name)] {
		return Do(verb)
	}
	return verb
}

// Do returns the form for many of a verb given in the form for one: "travels" gives
// "travel", "passes" "pass",
// "carries" "carry", "is" "are".
func Do(verb string) string {
	if many, ok := irregular[verb]; ok {
		return many
	}
	if strings.HasSuffix(verb, "ies") && len(verb) > len("lies") {
		return strings.TrimSuffix(verb, "ies") + "y"
	}
	for _, hiss := range []string{"sses", "shes", "ches", "xes", "oes"} {
		if strings.HasSuffix(verb, hiss) {
			return strings.TrimSuffix(verb, "es")
		}
	}
	return strings.TrimSuffix(verb, "s")
}

// lastWord returns the last word of a part's name in small letters: names are parted
// at punctuation, digits and changes of case, so that "LeftEyes_01" ends in "eyes".
func lastWord(name string) string {
	r := []rune(name)
	end := len(r)
	for end > 0 && !unicode.IsLetter(r[end-1]) {
		end--
	}
	start := end
	for start > 0 && unicode.IsLetter(r[start-1]) {
		start--
		// A capital begins a word, unless capitals stand on both of its sides.
		if unicode.IsUpper(r[start]) && (start == 0 || !unicode.IsUpper(r[start-1]) || start+1 < end && unicode.IsLower(r[start+1])) {
			break
		}
	}
	return strings.ToLower(string(r[start:end]))
}
