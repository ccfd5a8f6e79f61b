package diagnostics

import (
	"math"

	"curvelint/diagnostics/config"
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
	for _, s := range a.strokes(p) {
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
func (a *allowances) strokes(p scene.PartID) []config.Frames {
	var all []config.Frames
	for _, t := range a.study.LocalTracks(p) {
		for _, s := range t.Strokes() {
			all = append(all, config.Frames{First: a.study.Frame(s.First), Last: a.study.Frame(s.Last)})
		}
	}
	return all
}
