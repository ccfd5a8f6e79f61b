package page

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/motion/body"
	"curvelint/parse/scene"
)

// cast is who plays in one pass, and their motion.
type cast struct {
	First   float64    `json:"first"` // the display frame of index 0
	Rate    float64    `json:"rate"`
	Count   int        `json:"count"` // of frames
	All     int        `json:"all"`   // of frames in the file
	Figures []figureOf `json:"figures"`
	// Parts are the parts drawn, and after them the ends of Points that are no
	// part's origin; each has a column.
	Parts  []partOf  `json:"parts"`
	Points []pointOf `json:"points"`
	// LeftOut is the number of parts that are not drawn because there are too
	// many.
	LeftOut int `json:"leftOut"`
	// Carriers carry figures and move.
	Carriers []carrierOf `json:"carriers"`
	// Weights are the shape weights that change most, OtherWeights the number of
	// the others that change.
	Weights      []weightOf `json:"weights"`
	OtherWeights int        `json:"otherWeights"`
	// Roots, Scale and Steps are columns, see columns.go.
	Roots string `json:"roots"`
	Scale string `json:"scale"`
	Steps string `json:"steps"`
}

type figureOf struct {
	Name string  `json:"name"`
	Path string  `json:"path"`
	Size float64 `json:"size"` // in scene units
	// Machine is true for what is not judged as living.
	Machine bool `json:"machine"`
	// Carrier is the one in Carriers that carries it, -1 for none.
	Carrier int `json:"carrier"`
}

type partOf struct {
	Name   string `json:"name"`
	Path   string `json:"path"`
	Figure int    `json:"figure"`
	// Up is the column of the parent, -1 for none. Stick is true when a line is
	// drawn to it.
	Up    int  `json:"up"`
	Stick bool `json:"stick"`
	// Head is true for a line that stands for a head.
	Head bool   `json:"head"`
	Side string `json:"side"` // left, right or ""
}

// pointOf is a point whose path can be shown.
type pointOf struct {
	Name   string `json:"name"`
	Figure int    `json:"figure"`
	At     int    `json:"at"` // its column
	// Focus is true for the point that the audience should watch.
	Focus bool `json:"focus"`
}

// encode solves where everything is and packs it.
func (c *stage) encode() *cast {
	c.place()
	s := c.study
	out := &cast{First: s.First, Rate: s.Rate, Count: c.frames, All: s.N, LeftOut: c.leftOut,
		Figures: []figureOf{}, Parts: []partOf{}, Points: []pointOf{}}
	carriers, of := c.carriers()
	out.Carriers = carriers
	for i, fig := range c.figures {
		root := &s.Scene.Parts[fig.Root]
		out.Figures = append(out.Figures, figureOf{root.Name, root.Path, finite(fig.Size), c.machine(fig), of[i]})
	}
	below := c.below()
	for _, p := range c.parts {
		out.Parts = append(out.Parts, c.partOf(p, below))
	}
	c.addPoints(out, below)
	out.Weights, out.OtherWeights = c.weights()
	out.Roots, out.Scale, out.Steps = c.columns()
	return out
}

func (c *stage) machine(fig *motion.Figure) bool {
	return c.study.NatureOf(fig.Root) == motion.Mechanical
}

// below counts the drawn children of each column.
func (c *stage) below() []int {
	n := make([]int, len(c.parts))
	for _, p := range c.parts {
		if up, ok := c.column[c.study.Scene.Parts[p].Parent]; ok {
			n[up]++
		}
	}
	return n
}

func (c *stage) partOf(p scene.PartID, below []int) partOf {
	part, fig := &c.study.Scene.Parts[p], c.study.FigureOf(p)
	k := partOf{Name: part.Name, Path: part.Path, Figure: c.figure[c.column[p]], Up: -1, Side: fig.LabelOf(p).Side.String()}
	up, ok := c.column[part.Parent]
	if !ok || p == fig.Root {
		return k
	}
	k.Up = up
	leaf := below[c.column[p]] == 0
	k.Stick = !c.machine(fig) && !(part.Kind == scene.Mesh && leaf) && !ofFace(fig.LabelOf(p).Body) &&
		!c.stands(fig, part.Parent, below) && c.length(p) < longestBone*fig.Size
	own := fig.LabelOf(p).Body
	k.Head = k.Stick && leaf && fig.LabelOf(part.Parent).Body == body.Head && (own == body.Head || own == body.NoBody)
	return k
}

// ofFace reports whether a part is of a face, which has no bones.
func ofFace(b body.Body) bool {
	return b == body.Brows || b == body.Lids || b == body.Eyes || b == body.Mouth
}

// stands reports whether a part only places its figure: a node over whatever
// branches first, not a joint.
func (c *stage) stands(fig *motion.Figure, p scene.PartID, below []int) bool {
	s := c.study
	for at := p; at != scene.NoPart; at = s.Scene.Parts[at].Parent {
		i, ok := c.column[at]
		if !ok || below[i] != 1 || s.Scene.Parts[at].Kind == scene.Joint {
			return false
		}
		if at == fig.Root {
			break
		}
	}
	// In a chain that never branches nothing is a hub.
	for at := p; ; {
		children := s.Children(at)
		if len(children) > 1 {
			return true
		}
		if len(children) == 0 {
			return false
		}
		at = children[0]
	}
}

// longestBone is the share of a figure's size from which on a line is no bone but
// leads to something that stands apart. Common practice, no source.
const longestBone = 0.6

// length is how far a part is from its parent in the first frame.
func (c *stage) length(p scene.PartID) float64 {
	up := c.study.Scene.Parts[p].Parent
	return r3.Norm(r3.Sub(c.at(c.column[p], 0), c.at(c.column[up], 0)))
}

// addPoints adds the tracked points, and a part for the end of each that is no
// part's origin.
func (c *stage) addPoints(out *cast, below []int) {
	ends := map[[2]int]int{}
	for j, e := range c.ends {
		ends[[2]int{e.figure, e.point}] = len(c.parts) + j
		pt, part := &c.figures[e.figure].Points[e.point], &out.Parts[e.part]
		stick := below[e.part] == 0 && !out.Figures[e.figure].Machine
		out.Parts = append(out.Parts, partOf{Name: pt.Name, Path: part.Path, Figure: e.figure, Up: e.part,
			Stick: stick, Head: stick && pt.Role == body.HeadPoint, Side: part.Side})
	}
	for f, fig := range c.figures {
		focus := fig.FocusGroup()
		for i := range fig.Points {
			pt := &fig.Points[i]
			at, ok := c.column[pt.Part]
			if !ok {
				continue
			}
			if j, ok := ends[[2]int{f, i}]; ok {
				at = j
			}
			out.Points = append(out.Points, pointOf{pt.Name, f, at, focus != nil && fig.PointOn(focus.Top()) == i && !c.machine(fig)})
		}
	}
}

func finite(v float64) float64 {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return 0
	}
	return v
}
