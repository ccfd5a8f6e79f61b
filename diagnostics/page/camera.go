package page

import (
	"curvelint/diagnostics/motion"
)

// cameraOf is the shot's camera.
type cameraOf struct {
	Name         string  `json:"name"`
	Aspect       float64 `json:"aspect"` // width over height
	Orthographic bool    `json:"orthographic"`
	// Lens packs, for each frame, or once when nothing changes, the numbers of
	// motion.Lens: twelve of the inverse, scale and the offsets.
	Lens string `json:"lens"`
}

// lensNumbers is how many numbers a frame of the lens has.
const lensNumbers = 15

func (c *stage) camera() *cameraOf {
	v := c.study.View()
	if v == nil {
		return nil
	}
	eye := v.At(c.study.First)
	out := &cameraOf{Name: c.study.Scene.Parts[v.Part()].Name, Aspect: v.Aspect, Orthographic: eye.Lens().Orthographic}
	var list []float32
	still := true
	for i := range c.frames {
		eye := v.At(c.study.Frame(i))
		list = append(list, c.lens(eye.Lens())...)
		for j, k := range list[len(list)-lensNumbers:] {
			still = still && k == list[j]
		}
	}
	if still {
		list = list[:lensNumbers]
	}
	out.Lens = pack(list)
	return out
}

// lens returns the numbers of a lens for positions relative to the origin.
func (c *stage) lens(l motion.Lens) []float32 {
	at := l.Inverse.Point(c.origin)
	l.Inverse[3], l.Inverse[7], l.Inverse[11] = at.X, at.Y, at.Z
	out := make([]float32, 0, lensNumbers)
	for _, v := range l.Inverse {
		out = append(out, float32(v))
	}
	return append(out, float32(l.Scale), float32(l.OffsetX), float32(l.OffsetY))
}
