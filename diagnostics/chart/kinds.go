package chart

import (
	"strings"

	"curvelint/diagnostics/motion"
	"curvelint/parse/scene"
)

// Kind is a kind of chart: its name, and what draws it for a part from one display
// frame to another.
type Kind struct {
	Name string
	Draw func(s *motion.Study, p scene.PartID, first, last float64, o Options) ([]byte, error)
}

// Kinds are the kinds of charts.
var Kinds = []Kind{{"spacing", Spacing}, {"arc", Arc}, {"timeline", Timeline}, {"speed", Speed}, {"keys", Keys}}

// KindOf returns the kind of a name; ok is false when there is none.
func KindOf(name string) (k Kind, ok bool) {
	for _, k := range Kinds {
		if k.Name == name {
			return k, true
		}
	}
	return Kind{}, false
}

// Names lists the kinds for messages: "spacing, arc or speed".
func Names() string {
	var b strings.Builder
	for i, k := range Kinds {
		switch {
		case i == len(Kinds)-1:
			b.WriteString(" or ")
		case i > 0:
			b.WriteString(", ")
		}
		b.WriteString(k.Name)
	}
	return b.String()
}

// Subject returns the part to draw with a kind of chart when a part is spoken of:
// the part itself or, for an arc, the one that carries a point of the same group,
// such as the hand of a forearm; ok is false when there is nothing to draw.
func Subject(s *motion.Study, kind string, p scene.PartID) (subject scene.PartID, ok bool) {
	fig := s.FigureOf(p)
	switch kind {
	case "arc":
		if fig == nil {
			return p, false
		}
		return pointNear(s, fig, p)
	case "timeline":
		return p, fig != nil
	case "keys":
		return p, s.Moves(p) || len(s.Channels(p)) > 0
	}
	return p, trackOf(s, p) != nil
}

// pointNear returns the part that carries the point of p: its own, else one in
// its group, one below it first.
func pointNear(s *motion.Study, fig *motion.Figure, p scene.PartID) (scene.PartID, bool) {
	if fig.PointOn(p) >= 0 {
		return p, true
	}
	group, best := fig.GroupOf(p), scene.NoPart
	for i := range fig.Points {
		q := fig.Points[i].Part
		switch {
		case isBelow(s.Scene, q, p):
			return q, true
		case group != nil && fig.GroupOf(q) == group:
			best = q
		}
	}
	return best, best != scene.NoPart
}

// isBelow reports whether q hangs on p.
func isBelow(sc *scene.Scene, q, p scene.PartID) bool {
	for q != scene.NoPart && q != p {
		q = sc.Parts[q].Parent
	}
	return q == p
}
