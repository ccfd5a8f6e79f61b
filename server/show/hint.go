package show

import (
	"fmt"
	"strings"

	"curvelint/diagnostics/facts"
	"curvelint/diagnostics/motion"
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
		label = "frame " + Number(frame)
	}
	if t == nil || frame != s.Frame(s.Index(frame)) {
		return label, ""
	}
	step, ok := t.At(s.Index(frame))
	if !ok || step.Phase == facts.Still && step.Share < nothing {
		return label, ""
	}
	q := t.Track.Quality
	if short(q, step.Spacing) == short(q, 0) {
		return label, ""
	}
	label = strings.TrimSpace(fmt.Sprintf("%s %c %s", label, bar(step.Share, 1), short(q, step.Spacing)))
	if step.Phase != facts.Still {
		label += " " + step.Phase.String()
	}
	return label, fmt.Sprintf("%s to the next frame: %s", trackName(s, t.Track), amount(q, step.Spacing))
}

// trackName names a track for a person.
func trackName(s *motion.Study, t *motion.Track) string {
	if t.Space == motion.World {
		return t.Name
	}
	return s.Scene.Parts[t.Part].Name
}

// short writes a spacing in little room.
func short(q motion.Quality, v float64) string {
	switch q {
	case motion.Rotation:
		return fmt.Sprintf("%.2f°", v)
	case motion.Value:
		return fmt.Sprintf("%.1f %%", 100*v)
	}
	return fmt.Sprintf("%.2f %%", 100*v)
}
