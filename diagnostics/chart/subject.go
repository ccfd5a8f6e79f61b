package chart

import (
	"fmt"
	"slices"
	"strings"

	"curvelint/diagnostics/facts"
	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/motion/track"
	"curvelint/diagnostics/note"
	"curvelint/parse/scene"
)

// trackOf returns the track that a chart of a part follows: the path of the
// point it carries, relative to what carries the figure, else its own motion
// seen from its parent; nil when it does not move.
func trackOf(s *motion.Study, p scene.PartID) *track.Track {
	if fig := s.FigureOf(p); fig != nil {
		if i := fig.PointOn(p); i >= 0 {
			if t := fig.CarriedTrack(i); t != nil && len(t.Strokes()) > 0 {
				return t
			}
		}
	}
	return facts.LeadingTrack(s, p)
}

// matched returns the part of the earlier pass with the same path, or NoPart.
func matched(before *motion.Study, s *motion.Study, p scene.PartID) scene.PartID {
	if before == nil {
		return scene.NoPart
	}
	return before.Scene.Find(s.Scene.Parts[p].Path)
}

// beforeTrack returns the earlier pass of a track, or nil: of the same part,
// the same quality, and seen from the same kind of space.
func beforeTrack(before, s *motion.Study, p scene.PartID, t *track.Track) *track.Track {
	q := matched(before, s, p)
	if q == scene.NoPart {
		return nil
	}
	if b := trackOf(before, q); b != nil && b.Quality == t.Quality && b.Space == t.Space {
		return b
	}
	return nil
}

// still is the error for a part that has no motion to draw.
func still(s *motion.Study, p scene.PartID) error {
	return fmt.Errorf("%s does not move; choose a part that does", s.Scene.Parts[p].Path)
}

// notesOn returns the notes that concern a part in a range of display frames,
// in order: those on it, those with a related place on it, and those on another
// member of its group, since a hand's arc is driven by its elbow.
func notesOn(s *motion.Study, notes []note.Note, p scene.PartID, first, last float64) []note.Note {
	var out []note.Note
	for _, n := range notes {
		if n.HasFrames() && n.Last >= first && n.First <= last && concerns(s, &n, p) {
			out = append(out, n)
		}
	}
	return out
}

func concerns(s *motion.Study, n *note.Note, p scene.PartID) bool {
	path := s.Scene.Parts[p].Path
	if n.Part == path || slices.ContainsFunc(n.Related, func(r note.Related) bool { return r.Part == path }) {
		return true
	}
	fig, q := s.FigureOf(p), s.Scene.Find(n.Part)
	if fig == nil || q == scene.NoPart || q == fig.Root {
		return false
	}
	g := fig.GroupOf(p)
	return g != nil && g == fig.GroupOf(q)
}

// nameOf is what a track is called in a title: its own name, with the part's
// where that says more.
func nameOf(s *motion.Study, p scene.PartID, t *track.Track) string {
	part := s.Scene.Parts[p].Name
	if t.Name == "" || strings.EqualFold(t.Name, part) {
		return part
	}
	if t.Quality == track.Position && t.Space != track.Local {
		return t.Name
	}
	return part + " " + t.Name
}
