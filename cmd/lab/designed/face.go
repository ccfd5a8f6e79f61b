package designed

import "gonum.org/v1/gonum/spatial/r3"

// Face holds the indices of a face that stands alone: a head on a neck, eyes,
// and either joints or shape weights for everything else.
type Face struct {
	Root, Neck, Head, Tip int
	Eye                   Sides
	// Joints of a jointed face, weights of a shaped one: what is not there is
	// -1.
	Brow, Lid, Corner Sides
	Jaw               int
	Shaped            bool
}

// NewFace adds a face below parent, its parts named in the given habit; scaled by k;
// shaped is true for shape weights (0 to 1) instead of joints.
func NewFace(s *Shot, parent int, root string, n Naming, k float64, shaped bool) *Face {
	f := &Face{Root: s.Add(parent, Part{Name: root}), Shaped: shaped}
	f.Neck = s.Add(f.Root, Part{Name: n("neck", Middle), Offset: r3.Vec{Y: 150 * k}})
	f.Head = s.Add(f.Neck, Part{Name: n("head", Middle), Offset: r3.Vec{Y: 9 * k, Z: k}})
	part := func(word string, side Side, at r3.Vec) int {
		if side == RightSide {
			at.X = -at.X
		}
		p := Part{Name: n(word, side), Offset: r3.Scale(k, at)}
		if shaped && word != "eye" {
			p.Kind, p.Offset = Weight, r3.Vec{}
		}
		return s.Add(f.Head, p)
	}
	for side := LeftSide; side <= RightSide; side++ {
		f.Brow[side] = part("brow", side, bones["brow"])
		f.Lid[side] = part("lid", side, bones["lid"])
		f.Eye[side] = part("eye", side, bones["eye"])
		f.Corner[side] = part("mouth", side, r3.Vec{X: 2.4, Y: 3, Z: 8})
	}
	f.Jaw = part("jaw", Middle, bones["jaw"])
	f.Tip = s.Add(f.Head, Part{Name: n("head_tip", Middle), Kind: Tip, Offset: r3.Scale(k, bones["head_tip"])})
	s.Figures = append(s.Figures, Figure{Name: root, Root: f.Root})
	return f
}

// Set adds a signal to a part of the face, given for a joint in degrees about X;
// a weight gets it as a share of full degrees, kept between 0 and 1 by the
// caller's choice of values.
func (f *Face) Set(s *Shot, part int, full float64, v Signal) {
	if s.Parts[part].Kind == Weight {
		s.Parts[part].Value = Add(s.Parts[part].Value, Times(1/full, v))
		return
	}
	s.Ease(part, X, v)
}
