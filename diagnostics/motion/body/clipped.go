package body

import "strings"

// clipped are the body words as short names of joints have them: without the vowels
// after the first letter ("thgh", "nck", "shldr"). They count as whole tokens only.
// What several words of different parts are clipped to is none.
var clipped = clipWords(bodyWords)

// cutWords are words cut in other ways, or to two letters; these say less than a whole
// word beside them. Common practice, no source.
var cutWords = map[string]word{
	"pelv": {Hips, 0, 1}, "sp": {Chest, 0, 0}, "nek": {Neck, 0, 2}, "hed": {Head, 0, 2}, "hd": {Head, 0, 0}, "jw": {Mouth, 0, 5}, "clv": {Arm, Root, 3}, "uarm": {Arm, Upper, 3}, "elb": {Arm, Lower, 3}, "shld": {Arm, Upper, 3}, "farm": {Arm, Lower, 4},
	"frarm": {Arm, Lower, 4}, "kn": {Leg, Lower, 0}, "ank": {Leg, End, 4}, "ft": {Leg, End, 0}, "hl": {Leg, Heel, 0}, "ts": {Leg, Toe, 0}, "tl": {Tail, 0, 0}, "rp": {Rope, 0, 0},
}

func clipWords(words map[string]word) map[string]word {
	out := map[string]word{}
	for w, what := range words {
		k := withoutVowels(w)
		if len(w) < 4 || len(k) < 3 || len(k) == len(w) || weakWords[w] {
			continue
		}
		if _, known := words[k]; known {
			continue
		}
		if o, taken := out[k]; taken && (o.body != what.body || o.place != what.place) {
			what = word{}
		}
		what.rank = min(what.rank, 2) // "hnd" is a hind as well
		out[k] = what
	}
	for w, what := range cutWords {
		out[w] = what
	}
	return out
}

// withoutVowels is the word without the vowels after its first letter.
func withoutVowels(w string) string {
	return w[:1] + strings.Map(func(r rune) rune {
		if strings.ContainsRune("aeiou", r) {
			return -1
		}
		return r
	}, w[1:])
}

// matchClipped finds the body word in a token that is clipped.
func matchClipped(tok string) (word, bool) {
	w, ok := clipped[tok]
	return w, ok && w.body != NoBody
}
