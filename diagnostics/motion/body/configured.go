package body

import (
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/parse/scene"
)

// claim notes which parts belong to configured figures; a later rule wins, and
// a rule for a part holds for what hangs below it.
func (f *finder) claim() {
	if len(f.cast.rules.Figures) == 0 {
		return
	}
	for i := range f.cast.Scene.Parts {
		p := &f.cast.Scene.Parts[i]
		if p.Parent != scene.NoPart {
			f.claimed[i] = f.claimed[p.Parent]
		}
		for rule, match := range f.cast.rules.Figures {
			if match(p.Path) {
				f.claimed[i] = int32(rule) + 1
			}
		}
	}
}

// configured makes the configured figures: the subtrees of one rule are one.
func (f *finder) configured() {
	for rule := range f.cast.rules.Figures {
		claim := int32(rule) + 1
		var tops []scene.PartID
		for i := range f.claimed {
			up := f.cast.Scene.Parts[i].Parent
			if f.claimed[i] == claim && f.cast.Animated(scene.PartID(i)) && (up == scene.NoPart || f.claimed[up] != claim) && !f.cast.noBody(scene.PartID(i)) {
				tops = append(tops, scene.PartID(i))
			}
		}
		if len(tops) > 0 {
			f.add(tops[0], tops)
		}
	}
}

// configuredPoints adds the configured points, each in the place of the one
// that would be tracked otherwise.
func (fig *Anatomy) configuredPoints() {
	for _, r := range fig.cast.rules.Points {
		for _, p := range fig.Parts {
			part := &fig.cast.Scene.Parts[p]
			if !fig.cast.isBone(p) || !r.Match(part.Path) {
				continue
			}
			pt := Point{Name: r.Name, Role: r.Role, Side: fig.labels[p].Side, Part: p,
				Offset: r3.Vec{X: r.Offset[0], Y: r.Offset[1], Z: r.Offset[2]}}
			if pt.Name == "" {
				pt.Name = part.Name
			}
			fig.replacePoint(pt)
		}
	}
}

// replacePoint adds a point in the place of the one of its role and side, or for a
// mere tip of the one on its part.
func (fig *Anatomy) replacePoint(pt Point) {
	at := slices.IndexFunc(fig.Points, func(q Point) bool {
		if pt.Role == TipPoint {
			return q.Part == pt.Part && q.Role == TipPoint
		}
		return q.Role == pt.Role && q.Side == pt.Side && fig.labels[q.Part].Pair == fig.labels[pt.Part].Pair
	})
	if at < 0 {
		fig.Points = append(fig.Points, pt)
		return
	}
	fig.Points[at] = pt
}
