package words

import (
	"strconv"
	"strings"
)

// Count writes a number of things, given in the singular: "1 note", "8 spacings",
// "0 notes".
func Count(n int, thing string) string {
	if n == 1 {
		return "1 " + thing
	}
	return strconv.Itoa(n) + " " + plural(thing)
}

// plural forms the plural of a thing that is counted.
func plural(thing string) string {
	switch {
	case thing == "information":
		return thing // a severity; it is not counted in English
	case thing == "foot":
		return "feet"
	case strings.HasSuffix(thing, "s"), strings.HasSuffix(thing, "ch"), strings.HasSuffix(thing, "x"):
		return thing + "es"
	}
	return thing + "s"
}

// List writes names in a sentence: "brows, eyes and lids".
func List(names []string) string { return ListOf(names, len(names)) }

// ListOf writes at most so many names, 1 and more, and counts the rest: "brows, eyes
// and 3 more".
func ListOf(names []string, most int) string {
	if len(names) == 0 {
		return ""
	}
	if len(names) > most {
		kept := max(1, most-1)
		return strings.Join(names[:kept], ", ") + " and " + strconv.Itoa(len(names)-kept) + " more"
	}
	if len(names) == 1 {
		return names[0]
	}
	return strings.Join(names[:len(names)-1], ", ") + " and " + names[len(names)-1]
}

// Follow writes an order of starts, each name with the frames that it starts after the
// first: "brows, lids +2, eyes +4". Names and frames are of one length.
func Follow(names []string, after []float64) string {
	said := make([]string, len(names))
	for i, name := range names {
		said[i] = name
		if n := Signed(after[i]); n != "0" {
			said[i] += " " + n
		}
	}
	return strings.Join(said, ", ")
}
