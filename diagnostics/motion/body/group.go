package body

import (
	"strings"

	"curvelint/parse/scene"
)

// Group is a named set of parts that an audience sees as one thing: the brows,
// the left arm, the fingers of a hand.
type Group struct {
	// Index is the group's place among those of its figure.
	Index int
	Name  string
	Label Label
	// Parts are in topological order.
	Parts []scene.PartID
	// Configured is true for a group from the configuration.
	Configured bool
}

// Top returns the highest part of the group.
func (g *Group) Top() scene.PartID { return g.Parts[0] }

// GroupOf returns the group that a part of the figure belongs to, or nil.
func (fig *Anatomy) GroupOf(p scene.PartID) *Group { return fig.groupOf[p] }

// Group returns the group with the given name, or nil.
func (fig *Anatomy) Group(name string) *Group {
	for _, g := range fig.Groups {
		if g.Name == name {
			return g
		}
	}
	return nil
}

// makeGroups sorts the figure's parts into groups.
func (fig *Anatomy) makeGroups() {
	fig.groupOf = map[scene.PartID]*Group{}
	byName := map[string]*Group{}
	for _, p := range fig.Parts {
		name, configured := fig.groupName(p)
		if name == "" {
			continue
		}
		g := byName[name]
		if g == nil {
			g = &Group{Index: len(fig.Groups), Name: name, Label: fig.labels[p], Configured: configured}
			byName[name] = g
			fig.Groups = append(fig.Groups, g)
		}
		g.Parts = append(g.Parts, p)
		fig.groupOf[p] = g
	}
}

// groupName names the group of a part: as configured, else from its label, else
// its own name without side and number. Parts that do not move and have no
// label belong to none.
func (fig *Anatomy) groupName(p scene.PartID) (name string, configured bool) {
	part := &fig.cast.Scene.Parts[p]
	for _, r := range fig.cast.rules.Groups {
		if r.Match(part.Path) {
			return r.Name, true
		}
	}
	l := fig.labels[p]
	if l.Body != NoBody && l.Body != Features {
		return l.GroupName(), false
	}
	if !fig.cast.Changes(p) {
		return "", false
	}
	if fig.pairs != nil {
		return fig.pairName(p), false
	}
	var words []string
	for _, t := range tokens(part.Name) {
		if _, side := sideWords[t]; !side {
			words = append(words, t)
		}
	}
	if len(words) == 0 {
		return part.Name, false
	}
	return strings.Join(words, " "), false
}

// pairName names the group of a part of a figure whose names say nothing: a
// mirror pair is one group, any other part one of its own.
func (fig *Anatomy) pairName(p scene.PartID) string {
	parts := fig.cast.Scene.Parts
	other, ok := fig.pairs[p]
	if !ok {
		return parts[p].Name
	}
	return parts[min(p, other)].Name + " and " + parts[max(p, other)].Name
}

// GroupName is the plain name of the group that a label belongs to. Left and
// right of lids, brows, eyes, ears and mouth corners are one group; left and
// right limbs are two; one hand's fingers are one.
func (l Label) GroupName() string {
	switch l.Body {
	case Arm, Leg, Wing, Fingers:
		name := l.Body.String()
		switch l.Pair {
		case 'f':
			name = "front " + name
		case 'h':
			name = "hind " + name
		}
		if l.Side != Middle {
			name = l.Side.String() + " " + name
		}
		return name
	}
	return l.Body.String()
}

// Face reports whether the body part is one of the face.
func (b Body) Face() bool {
	switch b {
	case Brows, Lids, Eyes, Mouth, Features:
		return true
	}
	return false
}
