package show

import (
	"fmt"
	"path/filepath"
	"strings"

	"curvelint/diagnostics/facts"
	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/passes"
	written "curvelint/diagnostics/passes/write"
	"curvelint/diagnostics/words"
	"curvelint/parse/scene"
)

// Lens says what there is to say over a part, and the display frame where its
// biggest move begins.
func (s *Shot) Lens(id scene.PartID) (title string, first float64) {
	var said []string
	notes := 0
	for i := range s.Notes {
		if s.Notes[i].PartID == id {
			notes++
		}
	}
	if notes > 0 {
		said = append(said, words.Count(notes, "note"))
	}
	first = s.Study.Frame(0)
	if m, ok := facts.Biggest(s.Study, id); ok && s.Study.NatureOf(id) == motion.Mechanical {
		said = append(said, runText(s.Study, &m))
		first = s.Study.Frame(m.First)
	} else if ok {
		said = append(said, "biggest move "+moveText(s.Study, &m))
		if m.Track.Stepping() == 2 {
			said = append(said, "on twos")
		}
		if after, leader, ok := facts.StartIn(s.Study, id, m.Peak); ok && after > 0 {
			said = append(said, fmt.Sprintf("starts %s after %s", words.Count(after, "frame"), leader))
		}
		if lag, ok := facts.LagAt(s.Study, id, m.Peak); ok {
			said = append(said, words.Behind(lag, "its parent"))
		}
		first = s.Study.Frame(m.First)
	}
	if s.Earlier != nil {
		if change := sinceText(s.Earlier, passes.PartChange(s.Earlier, s.part(id).Path)); change != "" {
			said = append(said, change)
		}
	}
	if len(said) == 0 {
		return "still", first
	}
	return strings.Join(said, "; "), first
}

// CompareLens says over the file in a few words what changed since the earlier
// pass, which lies at path.
func (s *Shot) CompareLens(path string) string {
	if s.Earlier == nil {
		return "compare with " + filepath.Base(path)
	}
	_, lines := written.Heading(s.Earlier)
	// The timing and the notes; what changed most stands over its part.
	return "since " + PassName(s.Earlier) + ": " + strings.Join(lines[:min(2, len(lines))], "; ")
}
