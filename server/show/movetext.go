package show

import (
	"fmt"
	"math"
	"strconv"

	"curvelint/diagnostics/facts"
	"curvelint/diagnostics/motion"
)

// frames writes a range of frame indices as display frames.
func frames(s *motion.Study, a, b int) string {
	return Number(s.Frame(a)) + "-" + Number(s.Frame(b))
}

// moveText writes a move in one line.
func moveText(s *motion.Study, m *facts.Move) string {
	text := fmt.Sprintf("%s: %s, peak at frame %s, ease in %s, ease out %s frames",
		frames(s, m.First, m.Last), amount(m.Track.Quality, m.Length), Number(s.Frame(m.Peak)), number1(m.EaseIn), number1(m.EaseOut))
	if m.Track.Quality == motion.Position {
		text += fmt.Sprintf(", arc depth %.2f", m.ArcDepth)
	}
	return text
}

// briefMove writes a move in one line for a glance: amounts to three digits, eases in
// whole frames.
func briefMove(s *motion.Study, m *facts.Move) string {
	text := fmt.Sprintf("%s: %s, peak at frame %s, ease in %.0f, out %.0f frames",
		frames(s, m.First, m.Last), briefly(m.Track.Quality, m.Length), Number(s.Frame(m.Peak)), m.EaseIn, m.EaseOut)
	if m.Track.Quality == motion.Position {
		text += fmt.Sprintf(", arc depth %.2f", m.ArcDepth)
	}
	return text
}

// runText writes how something mechanical runs: nobody asks for its eases, its arcs
// or whom it follows.
func runText(s *motion.Study, m *facts.Move) string {
	text := "mechanical, runs " + frames(s, m.First, m.Last) + ": " + briefly(m.Track.Quality, m.Length)
	if m.Even() {
		return text + ", evenly"
	}
	return text + ", fastest at frame " + Number(s.Frame(m.Peak))
}

// briefly writes a length of a track in its unit, to three digits.
func briefly(q motion.Quality, v float64) string {
	if q != motion.Rotation {
		v *= 100
	}
	digits := 2
	for limit := 10.0; digits > 0 && math.Abs(v) >= limit; limit *= 10 {
		digits--
	}
	power := math.Pow(10, float64(digits))
	return strconv.FormatFloat(math.Round(v*power)/power, 'f', -1, 64) + Unit(q)
}
