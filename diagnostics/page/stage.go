package page

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/motion/solve"
	"curvelint/parse/scene"
)

// stage is what is drawn of a study: which parts, and where they are.
type stage struct {
	study *motion.Study
	// frames is how many frames are drawn, from the first.
	frames int
	// onto is where positions are taken first, to those of a later pass; nil for
	// nowhere. Then origin is taken off, so that single precision suffices far
	// from the world's origin.
	onto   *onto
	origin r3.Vec
	// parts are those drawn, in topological order; column is the place of each
	// in it, and figure that of its figure in figures.
	parts   []scene.PartID
	column  map[scene.PartID]int
	figure  []int
	figures []*motion.Figure
	// root is the column of each figure's highest part drawn, which the places of
	// its others are relative to.
	root []int
	// ends are tracked points that stand away from the origin of their part;
	// their columns follow those of the parts.
	ends    []end
	leftOut int

	// places holds, for each column, axis and frame, the position relative to
	// the root of the figure.
	places []float32
	roots  []float32 // for each figure, frame and axis, relative to origin
}

// end is a tracked point with a column of its own.
type end struct {
	figure, point int
	part          int // the column of the part that carries it
	offset        r3.Vec
}

// maxPlaces bounds how many positions a page holds: beyond it parts far down the
// hierarchy are left out. A page of that many has about 25 MB. maxFrames bounds
// its frames: over an hour at 24 a second.
const (
	maxPlaces = 3_000_000
	maxFrames = 100_000
)

func newStage(s *motion.Study) *stage {
	c := &stage{study: s, frames: min(s.N, maxFrames), column: map[scene.PartID]int{}}
	for _, fig := range s.Figures() {
		for _, p := range fig.Parts {
			if drawn(&s.Scene.Parts[p]) {
				c.parts = append(c.parts, p)
			}
		}
	}
	slices.Sort(c.parts)
	c.limit(max(1, maxPlaces/c.frames))
	c.cast()
	if len(c.parts) > 0 {
		c.origin = s.WorldPosition(c.parts[0], s.First)
	}
	return c
}

// cast numbers what is drawn: columns, figures, and the points with an end.
func (c *stage) cast() {
	at := map[*motion.Figure]int{}
	for i, p := range c.parts {
		c.column[p] = i
		fig := c.study.FigureOf(p)
		f, known := at[fig]
		if !known {
			f = len(c.figures)
			at[fig] = f
			c.figures, c.root = append(c.figures, fig), append(c.root, i)
		}
		c.figure = append(c.figure, f)
	}
	for f, fig := range c.figures {
		for i, pt := range fig.Points {
			if at, ok := c.column[pt.Part]; ok && pt.Offset != (r3.Vec{}) {
				c.ends = append(c.ends, end{f, i, at, pt.Offset})
			}
		}
	}
}

func drawn(p *scene.Part) bool {
	switch p.Kind {
	case scene.CameraPart, scene.LightPart, scene.Weight, scene.Scalar:
		return false
	}
	return true
}

// limit keeps at most n parts, those nearest to the roots of their figures.
func (c *stage) limit(n int) {
	if len(c.parts) <= n {
		return
	}
	c.leftOut = len(c.parts) - n
	depth := make([]int, len(c.study.Scene.Parts))
	for i := range c.study.Scene.Parts {
		if up := c.study.Scene.Parts[i].Parent; up != scene.NoPart {
			depth[i] = depth[up] + 1
		}
	}
	slices.SortStableFunc(c.parts, func(a, b scene.PartID) int { return cmp.Compare(depth[a], depth[b]) })
	c.parts = c.parts[:n]
	slices.Sort(c.parts)
}

// place solves where everything is.
func (c *stage) place() {
	n := c.frames
	c.places = make([]float32, 3*n*(len(c.parts)+len(c.ends)))
	c.roots = make([]float32, 3*n*len(c.figures))
	c.study.EachWorld(c.parts, 0, n, func(first int, worlds [][]solve.Affine) {
		for f, root := range c.root {
			for k := range worlds[root] {
				at := r3.Sub(c.onto.place(worlds[root][k].Origin()), c.origin)
				copy(c.roots[3*(f*n+first+k):], []float32{float32(at.X), float32(at.Y), float32(at.Z)})
			}
		}
		for i := range c.parts {
			root := worlds[c.root[c.figure[i]]]
			for k := range worlds[i] {
				c.put(i, first+k, r3.Sub(worlds[i][k].Origin(), root[k].Origin()))
			}
		}
		for j, e := range c.ends {
			root := worlds[c.root[e.figure]]
			for k := range worlds[e.part] {
				c.put(len(c.parts)+j, first+k, r3.Sub(worlds[e.part][k].Point(e.offset), root[k].Origin()))
			}
		}
	})
}

func (c *stage) put(column, frame int, v r3.Vec) {
	n := c.frames
	v = c.onto.place(v)
	c.places[(3*column)*n+frame] = float32(v.X)
	c.places[(3*column+1)*n+frame] = float32(v.Y)
	c.places[(3*column+2)*n+frame] = float32(v.Z)
}

// at returns where the column of a part is at a frame index, relative to the
// origin.
func (c *stage) at(column, frame int) r3.Vec {
	n := c.frames
	root := c.roots[3*(c.figure[column]*n+frame):]
	p := c.places[3*column*n+frame:]
	return r3.Vec{X: float64(root[0] + p[0]), Y: float64(root[1] + p[n]), Z: float64(root[2] + p[2*n])}
}

// flat reports whether the scene is points tracked in a picture.
func (c *stage) flat() bool {
	return slices.ContainsFunc(c.parts, func(p scene.PartID) bool { return c.study.Scene.Parts[p].Kind == scene.PictureTrack })
}

// floor is the height of the floor over the origin: the configured one, else the
// lowest place of the first living figure that has bones; nil in a picture.
func (c *stage) floor() *float64 {
	up := c.study.Up()
	if c.flat() {
		return nil
	}
	if o := &c.study.Options; o.HasFloor {
		h := finite(o.Floor - r3.Dot(c.origin, up))
		return &h
	}
	for _, fig := range c.figures {
		if len(fig.Parts) < 3 || c.study.NatureOf(fig.Root) == motion.Mechanical {
			continue
		}
		lowest := math.Inf(1)
		for _, p := range fig.Parts {
			i, ok := c.column[p]
			for k := 0; ok && k < c.frames; k++ {
				lowest = min(lowest, r3.Dot(c.at(i, k), up))
			}
		}
		lowest = finite(lowest)
		return &lowest
	}
	return nil
}
