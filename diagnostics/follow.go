package diagnostics

import (
	"math"

	"curvelint/diagnostics/config"
	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/note"
	"curvelint/parse/scene"
)

// follow returns the frames of an allowance, moved with the stroke that it was
// meant for. The part's strokes are searched for one that begins and ends
// within followSeconds of where that one did; the nearest counts. Frames inside
// the stroke keep their share of it, those before or after keep their distance.
func (a *allowances) follow(w *config.Allow, p scene.PartID) config.Frames {
	if !w.HasStroke || p == scene.NoPart {
		return w.Frames
	}
	reach := followSeconds * a.study.Rate
	best, gap := w.Stroke, math.Inf(1)
	for _, s := range strokes(a.study, p) {
		first, last := math.Abs(s.First-w.Stroke.First), math.Abs(s.Last-w.Stroke.Last)
		if first <= reach && last <= reach && first+last < gap {
			best, gap = s, first+last
		}
	}
	return config.Frames{First: moved(w.Frames.First, w.Stroke, best), Last: moved(w.Frames.Last, w.Stroke, best)}
}

// followSeconds is how far a stroke may have moved: six frames at 24. Common
// practice, no source: a retime by more is a new move that wants a new look.
const followSeconds = 0.25

// moved carries a frame from one stroke to where it lies in the other.
func moved(f float64, from, to config.Frames) float64 {
	switch {
	case f <= from.First:
		return f + to.First - from.First
	case f >= from.Last:
		return f + to.Last - from.Last
	}
	return to.First + (f-from.First)/(from.Last-from.First)*(to.Last-to.First)
}

// strokes returns the strokes of everything that the part does, seen from its
// parent.
func strokes(study *motion.Study, p scene.PartID) []config.Frames {
	var all []config.Frames
	for _, t := range study.LocalTracks(p) {
		for _, s := range t.Strokes() {
			all = append(all, config.Frames{First: study.Frame(s.First), Last: study.Frame(s.Last)})
		}
	}
	return all
}

// AllowanceFor returns the allowance that excuses a note: its part, its frames,
// and the stroke that it is about, so that it survives the next export.
func AllowanceFor(study *motion.Study, n *note.Note, why string) (config.Allow, error) {
	path := n.Part
	if path == "" {
		path = "**"
	} else {
		path = config.EscapeGlob(path)
	}
	g, err := config.NewGlob(path)
	if err != nil {
		return config.Allow{}, err
	}
	a := config.Allow{Check: n.Check, Match: config.Globs{g}, Why: why}
	if !n.HasFrames() {
		return a, nil
	}
	a.Frames, a.HasFrames = config.Frames{First: n.First, Last: n.Last}, true
	if n.PartID != scene.NoPart {
		a.Stroke, a.HasStroke = strokeOf(study, n)
	}
	return a, nil
}

// strokeOf returns the stroke that a note is about: the one that shares most
// frames with it, else the last one before it, which a hold follows.
func strokeOf(study *motion.Study, n *note.Note) (config.Frames, bool) {
	var best config.Frames
	most, before := 0.0, math.Inf(-1)
	for _, s := range strokes(study, n.PartID) {
		shared := common(n.First, n.Last, s.First, s.Last)
		if shared <= slack {
			shared = 0 // a hold begins where its stroke ends
		}
		switch {
		case shared > most:
			best, most = s, shared
		case most == 0 && s.Last <= n.First+slack && s.Last > before:
			best, before = s, s.Last
		}
	}
	return best, most > 0 || !math.IsInf(before, -1)
}
