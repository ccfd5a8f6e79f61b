package body

import (
	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/diagnostics/motion/vec"
	"curvelint/parse/scene"
)

// head is what a figure's head joint carries, in its own frame.
type head struct {
	part scene.PartID
	// face is where the parts of the face stand, ends where parts stand that do
	// not move and have no other name: one of them may be the head's end.
	face, ends []r3.Vec
}

// headParts looks at what hangs on the head joint.
func (fig *Anatomy) headParts(part scene.PartID) head {
	s := fig.cast
	h := head{part: part}
	for _, c := range s.Children(part) {
		l, ok := fig.labels[c]
		if !ok {
			continue
		}
		m := s.LocalAt(c, s.First)
		at := m.Origin()
		switch {
		case vec.Length(at) == 0:
		case l.Body == Head && !s.Animated(c):
			h.ends = append(h.ends, at)
		case l.Body.Face() || l.Body == Ears:
			h.face = append(h.face, at)
		}
	}
	return h
}

// end is the head's end: the farthest of those that may be it, if it is farther
// than the face. What is nearer is a jaw that rests.
func (h *head) end() (r3.Vec, bool) {
	end := farthest(h.ends)
	return end, vec.Length(end) > vec.Length(farthest(h.face))
}

// middle is the middle of the face.
func (h *head) middle() (r3.Vec, bool) {
	sum, n := r3.Vec{}, 0
	for _, list := range [2][]r3.Vec{h.face, h.ends} {
		for _, v := range list {
			sum = r3.Add(sum, v)
			n++
		}
	}
	return r3.Scale(1/float64(max(n, 1)), sum), n > 0
}

// headPoint places the head's point away from its pivot: at the end site below
// it, else at the middle of the face, else one parent bone beyond the joint in
// the rest direction.
func (fig *Anatomy) headPoint(part scene.PartID, rest map[scene.PartID]r3.Vec) Point {
	pt := Point{Name: "head", Role: HeadPoint, Part: part}
	h := fig.headParts(part)
	if end, ok := h.end(); ok {
		pt.Offset = end
		return pt
	}
	if middle, ok := h.middle(); ok {
		pt.Offset = middle
		return pt
	}
	s := fig.cast
	if up, ok := rest[s.Scene.Parts[part].Parent]; ok {
		inv := s.WorldAt(part, s.First)
		inv = inv.Inverse()
		pt.Offset = inv.Vector(r3.Sub(rest[part], up))
	}
	return pt
}

// Ball is the head as an audience sees it: a ball in the frame of the head joint.
type Ball struct {
	Part   scene.PartID
	Centre r3.Vec  // in the part's own frame
	Radius float64 // scene units
	// Reach is how far the ball's far side is from the part's pivot, in scene units.
	Reach float64
}

// HeadBall returns the figure's head as a ball; false when it has no head. A head
// with an end reaches from its pivot to it. Of one without, the face tells: its
// middle, the height of the eyes, is half-way from the chin, about where the pivot
// is, to the top (common practice of drawing heads, no source). When there is
// neither, the bone before the head gives its size.
func (fig *Anatomy) HeadBall() (Ball, bool) {
	for _, p := range fig.Points {
		if p.Role == HeadPoint {
			return fig.headBall(p), true
		}
	}
	return Ball{}, false
}

func (fig *Anatomy) headBall(pt Point) Ball {
	m := fig.cast.WorldAt(pt.Part, fig.cast.First)
	scale := m.Scale()
	b := Ball{Part: pt.Part, Centre: pt.Offset, Radius: vec.Length(pt.Offset) * scale / 2}
	h := fig.headParts(pt.Part)
	end, ended := h.end()
	middle, faced := h.middle()
	switch {
	case ended:
		b.Centre = r3.Scale(0.5, end)
		b.Radius = vec.Length(end) * scale / 2
	case faced:
		b.Radius = max(b.Radius, fig.rise(pt.Part, middle))
	case b.Radius == 0:
		b.Radius = fig.boneBefore(pt.Part) / 3
	}
	b.Reach = vec.Length(b.Centre)*scale + b.Radius
	return b
}

// boneBefore is the length of the bone that ends at a part, in scene units.
func (fig *Anatomy) boneBefore(p scene.PartID) float64 {
	s := fig.cast
	up := s.Scene.Parts[p].Parent
	if up == scene.NoPart {
		return 0
	}
	return vec.Distance(s.WorldPosition(p, s.First), s.WorldPosition(up, s.First))
}

// rise is how far an offset from a part goes on in the direction of the bone that
// ends there, in scene units.
func (fig *Anatomy) rise(p scene.PartID, offset r3.Vec) float64 {
	s := fig.cast
	up := s.Scene.Parts[p].Parent
	if up == scene.NoPart {
		return 0
	}
	bone := r3.Sub(s.WorldPosition(p, s.First), s.WorldPosition(up, s.First))
	if vec.Length(bone) == 0 {
		return 0
	}
	m := s.WorldAt(p, s.First)
	return r3.Dot(m.Vector(offset), r3.Unit(bone))
}

// farthest is the one of the points that is farthest from the origin, or the origin.
func farthest(points []r3.Vec) r3.Vec {
	var far r3.Vec
	for _, p := range points {
		if vec.Length(p) > vec.Length(far) {
			far = p
		}
	}
	return far
}
