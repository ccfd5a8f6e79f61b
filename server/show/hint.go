package show

import (
	"fmt"
	"strings"

	"curvelint/diagnostics/facts"
	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/motion/track"
	"curvelint/diagnostics/words"
)

// nothing is the share of the largest spacing below which a rest is not worth
// a word.
const nothing = 0.02

// Hint says what the keys of a line are about: their display frame, where the line
// does not say it, and the spacing to the next frame as a bar and a figure, with
// the phase of the move. T is what moves, or nil. The label is "" when there is
// nothing to say.
func Hint(s *motion.Study, t *facts.Stepper, frame float64, needsFrame bool) (label, tip string) {
	if needsFrame {
		label = "frame " + words.Frame(frame)
	}
	if t == nil || frame != s.Frame(s.Index(frame)) {
		return label, ""
	}
	step, ok := t.At(s.Index(frame))
	if !ok || step.Phase == facts.Still && step.Share < nothing {
		return label, ""
	}
	unit := facts.UnitOf(t.Track)
	spacing := words.ShortSpacing(unit, step.Spacing)
	if spacing == words.ShortSpacing(unit, 0) {
		return label, ""
	}
	label = strings.TrimSpace(fmt.Sprintf("%s %c %s", label, bar(step.Share, 1), spacing))
	if step.Phase != facts.Still {
		label += " " + step.Phase.String()
	}
	return label, fmt.Sprintf("%s to the next frame: %s", trackName(s, t.Track), words.Spacing(unit, step.Spacing))
}

// trackName names a track for a person.
func trackName(s *motion.Study, t *track.Track) string {
	if t.Space == track.World {
		return t.Name
	}
	return s.Scene.Parts[t.Part].Name
}
