package kit

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"curvelint/diagnostics/motion"
)

// PointName is what a person calls a tracked point.
func PointName(c *Context, fig *motion.Figure, i int) string {
	p := fig.Points[i]
	switch p.Role {
	case motion.RootPoint:
		return c.Name(p.Part)
	case motion.TipPoint, motion.LonePoint:
		return c.Name(p.Part)
	}
	return p.Name
}

func FrameNumber(f float64) string {
	return strconv.FormatFloat(math.Round(f*100)/100, 'f', -1, 64)
}

// longestName bounds names in messages: they must stay readable in one line.
const longestName = 24

// shorten leaves out the middle of a name that is too long.
func shorten(name string) string {
	r := []rune(name)
	if len(r) <= longestName {
		return name
	}
	half := (longestName - 1) / 2
	return string(r[:half]) + "…" + string(r[len(r)-half:])
}

// Percent writes a share as a whole percentage, at least 1 when it is not 0.
func Percent(share float64) string {
	p := math.Round(share * 100)
	if p == 0 && share > 0.0005 {
		p = 1
	}
	return strconv.FormatFloat(p, 'f', 0, 64) + " %"
}

// Share writes a driver's share: above 1 it works against a counter-move.
func Share(v float64) string {
	if v > 1.05 {
		return "against a counter-move"
	}
	return Percent(min(v, 1))
}

// Amount writes a length of a quality with its unit.
func Amount(q motion.Quality, v float64) string {
	switch q {
	case motion.Rotation:
		return strconv.FormatFloat(v, 'f', 1, 64) + " degrees"
	case motion.Value:
		return Percent(v) + " of its range"
	}
	return strconv.FormatFloat(v, 'f', 3, 64) + " figure"
}

// Unit names the unit of a quality in measures.
func Unit(q motion.Quality) string {
	switch q {
	case motion.Rotation:
		return "degrees"
	case motion.Value:
		return "range"
	}
	return "figure"
}

// plurals are body words that take a verb without s: "hips travel".
var plurals = map[string]bool{
	"hips": true, "lids": true, "brows": true, "eyes": true, "ears": true, "lips": true, "ribs": true, "toes": true,
	"wings": true, "fingers": true, "feet": true, "shoulders": true, "arms": true, "legs": true, "teeth": true,
}

// Does conjugates a verb given in the form for one: does("hips", "travels") is
// "travel".
func Does(name, verb string) string {
	words := motion.Words(name)
	if len(words) > 0 && plurals[words[len(words)-1]] {
		return strings.TrimSuffix(verb, "s")
	}
	return verb
}

// DegreesPerRadian is 180/pi.
const DegreesPerRadian = 57.29577951308232

func Frames(n int) string {
	if n == 1 {
		return "1 frame"
	}
	return fmt.Sprintf("%d frames", n)
}
