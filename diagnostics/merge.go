package diagnostics

import (
	"slices"

	"curvelint/diagnostics/checks"
	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/note"
	"curvelint/parse/scene"
)

// yields reports whether notes of the check loser give way to those of winner.
func yields(loser, winner string) bool { return yieldsWithin(loser, winner, len(checks.All)) }

// yieldsWithin follows at most the given number of steps, so that checks that
// yield to each other by mistake end the search.
func yieldsWithin(loser, winner string, steps int) bool {
	c := checks.Find(loser)
	if c == nil || steps <= 0 {
		return false
	}
	for _, id := range c.YieldsTo {
		if id == winner || yieldsWithin(id, winner, steps-1) {
			return true
		}
	}
	return false
}

// precedence says which of two notes with one cause stands.
type precedence map[[2]string]bool // loser, winner

func newPrecedence(notes []note.Note) precedence {
	var ids []string
	for i := range notes {
		if !slices.Contains(ids, notes[i].Check) {
			ids = append(ids, notes[i].Check)
		}
	}
	p := precedence{}
	for _, a := range ids {
		for _, b := range ids {
			if a != b && yields(a, b) {
				p[[2]string{a, b}] = true
			}
		}
	}
	return p
}

// merge lets one note stand for each cause. The notes must be in order.
//
// A note gives way to another about the same frames and a related part when
// that one comes from a more specific check, or from the same check and is
// heavier. What gave way still explains others, so that the result does not
// depend on the order in which pairs are looked at.
func merge(study *motion.Study, notes []note.Note) []note.Note {
	p := newPrecedence(notes)
	gone := make([]bool, len(notes))
	for i := range notes {
		if !notes[i].HasFrames() {
			continue
		}
		for j := i + 1; j < len(notes) && notes[j].First <= notes[i].Last+slack; j++ {
			switch {
			case p.explains(study, &notes[i], &notes[j], i < j):
				gone[j] = true
			case p.explains(study, &notes[j], &notes[i], false):
				gone[i] = true
			}
		}
	}
	kept := notes[:0]
	for i := range notes {
		if !gone[i] {
			kept = append(kept, notes[i])
		}
	}
	return kept
}

// slack is the number of frames by which the ranges of two notes with one cause
// may miss each other: one check counts positions, another spacings.
const slack = 1

// explains reports whether a note makes the other superfluous. Earlier says
// that it stands earlier in the order, which decides between equals.
func (p precedence) explains(study *motion.Study, winner, loser *note.Note, earlier bool) bool {
	if winner.Check == loser.Check {
		if winner.Weight < loser.Weight || winner.Weight == loser.Weight && !earlier {
			return false
		}
		same := winner.PartID == loser.PartID && winner.PartID != scene.NoPart
		return (same || slices.Contains(winner.Causes, loser.PartID)) && sameFrames(winner, loser)
	}
	return p[[2]string{loser.Check, winner.Check}] && sameFrames(winner, loser) && related(study, winner, loser)
}

// sameFrames reports whether the winner's frames cover at least a quarter of
// the loser's.
func sameFrames(winner, loser *note.Note) bool {
	shared := common(winner.First-slack, winner.Last+slack, loser.First, loser.Last)
	return shared > 0 && 4*shared >= count(loser.First, loser.Last)
}

// related reports whether the loser is about the winner's part, one that it
// names as explained, or one that hangs below it.
func related(study *motion.Study, winner, loser *note.Note) bool {
	if winner.PartID == scene.NoPart || loser.PartID == scene.NoPart {
		return false
	}
	return study.IsAncestor(winner.PartID, loser.PartID) ||
		slices.Contains(winner.Causes, loser.PartID) || slices.Contains(loser.Causes, winner.PartID)
}
