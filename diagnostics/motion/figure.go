package motion

import (
	"sync"

	"curvelint/diagnostics/motion/body"
	"curvelint/parse/scene"
)

// Figure is a figure of the scene and how it moves.
type Figure struct {
	*body.Anatomy
	study *Study

	// Groups are those of the anatomy, in its order, with their strokes.
	Groups []*Group

	contactsOnce sync.Once
	contacts     *contacts
	groundOnce   sync.Once
	groundHeight float64

	beatsOnce sync.Once
	beats     []FigureBeat
}

// Study returns the study that the figure belongs to.
func (fig *Figure) Study() *Study { return fig.study }

// Figures returns the figures of the scene, in the order of their roots.
func (s *Study) Figures() []*Figure {
	s.figuresOnce.Do(func() {
		for _, a := range s.cast.Anatomies() {
			fig := &Figure{Anatomy: a, study: s}
			for _, g := range a.Groups {
				fig.Groups = append(fig.Groups, &Group{Group: g, Figure: fig})
			}
			s.figures = append(s.figures, fig)
		}
	})
	return s.figures
}

// FigureOf returns the figure that a part belongs to, or nil.
func (s *Study) FigureOf(p scene.PartID) *Figure {
	if i := s.cast.IndexOf(p); i >= 0 {
		return s.Figures()[i]
	}
	return nil
}

// GroupOf returns the group that a part of the figure belongs to, or nil.
func (fig *Figure) GroupOf(p scene.PartID) *Group {
	if g := fig.Anatomy.GroupOf(p); g != nil {
		return fig.Groups[g.Index]
	}
	return nil
}

// Group returns the group with the given name, or nil.
func (fig *Figure) Group(name string) *Group {
	if g := fig.Anatomy.Group(name); g != nil {
		return fig.Groups[g.Index]
	}
	return nil
}

// FocusGroup is the group the audience should watch: as configured, else the
// head; nil when the figure has neither.
func (fig *Figure) FocusGroup() *Group {
	if f := fig.study.Options.Focus; f != "" {
		return fig.Group(f)
	}
	return fig.Group(body.Head.String())
}

// Nearness weighs how near a part is to the focus of the audience: 1 for the
// focus group and the face, 0.7 for the rest of the trunk and the hands, 0.5
// for everything else.
func (fig *Figure) Nearness(p scene.PartID) float64 {
	if g := fig.GroupOf(p); g != nil && g == fig.FocusGroup() {
		return 1
	}
	switch l := fig.LabelOf(p); {
	case l.Body == body.Head || l.Body.Face():
		return 1
	case l.Body == body.Neck || l.Body == body.Chest || l.Body == body.Hips || l.Place == body.End && l.Body == body.Arm:
		return 0.7
	}
	return 0.5
}
