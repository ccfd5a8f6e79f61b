package show

import (
	"curvelint/diagnostics/facts"
	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/motion/track"
	"curvelint/diagnostics/words"
)

// frames writes a range of frame indices as display frames.
func frames(s *motion.Study, a, b int) string { return words.Between(s.Frame(a), s.Frame(b)) }

// moveText writes a move in one line.
func moveText(s *motion.Study, m *facts.Move) string {
	text := frames(s, m.First, m.Last) + ": " + words.Amount(facts.UnitOf(m.Track), m.Length) +
		", peak at frame " + words.Frame(s.Frame(m.Peak)) + ", " + words.Leaves(m.Leave) + ", " + words.Arrives(m.Arrive)
	if m.Track.Quality == track.Position {
		text += ", arc depth " + words.Ratio(m.ArcDepth)
	}
	return text
}

// runText writes how something mechanical runs: nobody asks how it leaves and
// arrives, for its arcs or whom it follows.
func runText(s *motion.Study, m *facts.Move) string {
	text := "mechanical, runs " + frames(s, m.First, m.Last) + ": " + words.Amount(facts.UnitOf(m.Track), m.Length)
	if m.Even() {
		return text + ", evenly"
	}
	return text + ", fastest at frame " + words.Frame(s.Frame(m.Peak))
}
