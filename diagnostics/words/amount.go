package words

import "strings"

// Unit is what an amount is measured in, as at note.Measure.
type Unit string

// The units of what a person reads.
const (
	FigureSize    Unit = "figure"  // figure sizes
	Degrees       Unit = "degrees" // of a turn
	OwnRange      Unit = "range"   // shares of what a weight goes through in the clip
	PictureHeight Unit = "pictures"
)

// Of is the unit after its number: " % of figure size", " degrees". A speed,
// "figure/s", is " % of figure size a second".
func (u Unit) Of() string {
	base, speed := strings.CutSuffix(string(u), "/s")
	text := " " + base
	switch Unit(base) {
	case FigureSize:
		text = " % of figure size"
	case OwnRange:
		text = " % of its range"
	case PictureHeight:
		text = " % of picture height"
	case "":
		text = ""
	}
	if speed {
		text += " a second"
	}
	return text
}

// Shown is a value as people count the unit: in percent of what is a whole.
func (u Unit) Shown(v float64) float64 {
	switch Unit(strings.TrimSuffix(string(u), "/s")) {
	case FigureSize, OwnRange, PictureHeight:
		return 100 * v
	}
	return v
}

// Amount writes an amount for a glance, with one decimal, two below 1: "2.1 % of
// figure size", "12.5 degrees".
func Amount(u Unit, v float64) string {
	shown := u.Shown(v)
	decimals := 1
	if shown < 1 && shown > -1 {
		decimals = 2
	}
	return Rounded(shown, decimals) + u.Of()
}

// Exact writes an amount as it may be retyped, with two decimals: "2.13 % of
// figure size".
func Exact(u Unit, v float64) string { return Rounded(u.Shown(v), 2) + u.Of() }

// Bare writes what Exact does without the unit.
func Bare(u Unit, v float64) string { return Rounded(u.Shown(v), 2) }

// Leaves says how long a move takes to its speed: "leaves over 3 frames".
func Leaves(frames float64) string { return "leaves over " + some(frames) }

// Arrives says how long a move takes to its end: "arrives over 5 frames".
func Arrives(frames float64) string { return "arrives over " + some(frames) }

func some(frames float64) string {
	n := Rounded(frames, 1)
	if n == "1" {
		return "1 frame"
	}
	return n + " frames"
}
