package pictures

import (
	"fmt"
	"slices"

	"curvelint/diagnostics"
	"curvelint/diagnostics/chart"
	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/note"
	"curvelint/parse/scene"
)

// Drawing is a picture of one note.
type Drawing struct {
	Name string // "03-even-spacing-spacing"
	PNG  []byte
}

// Notes draws the notes of a study that are about frames, so that a person can
// look at each and say whether it is true: the way its check is drawn, and the
// spacing and the arc of its part and of those of its related places.
func Notes(r *diagnostics.Result) []Drawing {
	var out []Drawing
	for i := range r.Notes {
		n := &r.Notes[i]
		if !n.HasFrames() || n.PartID == scene.NoPart {
			continue
		}
		v, ok := views[n.Check]
		if !ok {
			v = view{"timeline", false, 0.5}
		}
		first, last := v.frames(r.Study, n)
		kinds := []string{"spacing", "arc", v.kind}
		slices.Sort(kinds)
		kinds = slices.Compact(kinds)
		for _, p := range partsOf(r.Study.Scene, n) {
			for _, kind := range kinds {
				if png := drawn(r.Study, n, kind, p, first, last); png != nil {
					name := fmt.Sprintf("%02d-%s-%s-%s", i+1, n.Check, kind, r.Study.Scene.Parts[p].Name)
					out = append(out, Drawing{name, png})
				}
			}
		}
	}
	return out
}

// partsOf are the part that a note is on and those of its related places.
func partsOf(sc *scene.Scene, n *note.Note) []scene.PartID {
	parts := []scene.PartID{n.PartID}
	for i := range n.Related {
		if p := sc.Find(n.Related[i].Part); p != scene.NoPart && !slices.Contains(parts, p) {
			parts = append(parts, p)
		}
	}
	return parts
}

// drawn draws one picture of a note; nil when the part shows nothing so.
func drawn(s *motion.Study, n *note.Note, kind string, p scene.PartID, first, last float64) []byte {
	k, _ := chart.KindOf(kind)
	part, ok := chart.Subject(s, kind, p)
	if !ok {
		return nil
	}
	png, err := k.Draw(s, part, first, last, chart.Options{
		Width: width, Height: height, Format: chart.PNG, Density: 1, Notes: []note.Note{*n}, Step: 1})
	if err != nil {
		return nil // a part that does not move has no arc
	}
	return png
}
