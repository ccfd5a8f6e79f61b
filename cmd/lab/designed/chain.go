package designed

import (
	"strconv"

	"gonum.org/v1/gonum/spatial/r3"
)

// Chain holds the indices of a chain that stands alone: a tail, a rope, a
// lantern on a line.
type Chain struct {
	Root  int
	Links []int
	Tip   int
}

// NewChain adds a chain of n links below parent, hanging from height high, each
// link reaching to the next by step.
func NewChain(s *Shot, parent int, root, word string, n Naming, links int, high float64, step r3.Vec) *Chain {
	c := &Chain{Root: s.Add(parent, Part{Name: root, Offset: r3.Vec{Y: high}})}
	up := c.Root
	for i := range links {
		at := step
		if i == 0 {
			at = r3.Vec{}
		}
		up = s.Add(up, Part{Name: n(word+"_"+strconv.Itoa(i+1), Middle), Offset: at})
		c.Links = append(c.Links, up)
	}
	c.Tip = s.Add(up, Part{Name: n(word+"_tip", Middle), Kind: Tip, Offset: step})
	s.Figures = append(s.Figures, Figure{Name: root, Root: c.Root})
	return c
}
