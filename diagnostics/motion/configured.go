package motion

import (
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/parse/scene"
)

// claim notes which parts belong to configured figures; a later rule wins, and
// a rule for a part holds for what hangs below it.
func (f *finder) claim() {
	if len(f.s.Options.Figures) == 0 {
		return
	}
	for i := range f.s.Scene.Parts {
		p := &f.s.Scene.Parts[i]
		if p.Parent != scene.NoPart {
			f.claimed[i] = f.claimed[p.Parent]
		}
		for rule, match := range f.s.Options.Figures {
			if match(p.Path) {
				f.claimed[i] = int32(rule) + 1
			}
		}
	}
}

// configured makes the configured figures: the subtrees of one rule are one.
func (f *finder) configured() {
	for rule := range f.s.Options.Figures {
		claim := int32(rule) + 1
		var tops []scene.PartID
		for i := range f.claimed {
			up := f.s.Scene.Parts[i].Parent
			if f.claimed[i] == claim && f.s.animated[i] && (up == scene.NoPart || f.claimed[up] != claim) && !f.s.noBody(scene.PartID(i)) {
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
func (fig *Figure) configuredPoints() {
	for _, r := range fig.study.Options.Points {
		for _, p := range fig.Parts {
			part := &fig.study.Scene.Parts[p]
			if !fig.study.isBone(p) || !r.Match(part.Path) {
				continue
			}
			pt := Point{Name: r.Name, Role: r.Role, Side: fig.labels[p].Side, Part: p,
				Offset: r3.Vec{X: r.Offset[0], Y: r.Offset[1], Z: r.Offset[2]}}
			if pt.Name == "" {
				pt.Name = part.Name
			}
			fig.replace(pt)
		}
	}
}

// replace adds a point in the place of the one of its role and side, or for a
// mere tip of the one on its part.
func (fig *Figure) replace(pt Point) {
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
