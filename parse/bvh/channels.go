package bvh

import (
	"fmt"
	"math"

	"curvelint/parse/scene"
)

// channels gives the parts their transform stacks and the scene its channels.
func (p *parser) channels(s *scene.Scene, m *motion) {
	times := make([]float64, len(m.rows))
	for r := range times {
		times[r] = firstFrame + float64(r)
	}
	pose := m.firstPose()
	target := make([]int, len(p.columns)) // op of each column
	for id := range p.parts {
		p.stack(scene.PartID(id), m, pose, target)
	}
	s.Channels = make([]scene.Channel, 0, len(p.columns))
	block := span(int(p.motion.Start), len(p.src))
	names := make(map[siblingName]int, len(p.columns))
	for c, col := range p.columns {
		if col.part == scene.NoPart {
			continue
		}
		s.Channels = append(s.Channels, scene.Channel{
			Part: col.part, Op: target[c], Component: col.component(),
			Name: unique(names, col.part, string(p.src[col.span.Start:col.span.End])), Quantity: col.quantity(),
			Curve: m.grid.Curve(c, times), Def: col.span, Block: block,
		})
	}
}

// unique returns a channel's name, numbered when it occurs again in its part (a
// joint may turn about one axis twice, as in Z X Z).
func unique(names map[siblingName]int, part scene.PartID, name string) string {
	key := siblingName{part, name}
	names[key]++
	if n := names[key]; n > 1 {
		return fmt.Sprintf("%s[%d]", name, n)
	}
	return name
}

func (c column) component() int {
	if c.turn {
		return 0
	}
	return c.axis
}

func (c column) quantity() scene.Quantity {
	if c.turn {
		return scene.Angle
	}
	return scene.Length
}

// stack makes the transform stack of a part and notes the op of its columns.
func (p *parser) stack(id scene.PartID, m *motion, pose int, target []int) {
	part, j := &p.parts[id], &p.joints[id]
	part.Rest[3], part.Rest[7], part.Rest[11] = j.offset[0], j.offset[1], j.offset[2]
	offset := scene.Op{Kind: scene.Translate, Name: "OFFSET", Value: j.offset[:], Span: j.offsetSpan}
	position := scene.NoOp
	part.Ops = make([]scene.Op, 0, 2+len(j.columns))
	for _, c := range j.columns {
		if col := p.columns[c]; !col.turn && position == scene.NoOp {
			if part.Parent != scene.NoPart && p.containsOffset(j, m, pose) || j.offset == [3]float64{} {
				offset.Name = "position"
			} else {
				part.Ops = append(part.Ops, offset)
				offset = scene.Op{Kind: scene.Translate, Name: "position", Value: make([]float64, 3)}
			}
			offset.Span = col.span
			position = len(part.Ops)
		}
	}
	part.Ops = append(part.Ops, offset)
	for _, c := range j.columns {
		col := p.columns[c]
		if !col.turn {
			target[c] = position
			continue
		}
		target[c] = len(part.Ops)
		part.Ops = append(part.Ops, scene.Op{
			Kind: scene.RotateX + scene.OpKind(col.axis), Name: string(p.src[col.span.Start:col.span.End]),
			Value: make([]float64, 1), Span: col.span,
		})
	}
}

// containsOffset reports whether the position channels of a joint already hold
// its offset: they lie within 5 % of it in the first pose.
func (p *parser) containsOffset(j *joint, m *motion, pose int) bool {
	var gap, size float64
	for _, c := range j.columns {
		col := p.columns[c]
		v, _, ok := m.grid.At(pose, c)
		if col.turn || !ok {
			continue
		}
		gap += (v - j.offset[col.axis]) * (v - j.offset[col.axis])
		size += j.offset[col.axis] * j.offset[col.axis]
	}
	const share = 0.05
	return math.Sqrt(gap) <= share*math.Sqrt(size)
}

// firstPose returns the first row with a number that is not 0 (many captures
// open with one row of zeros), 0 if there is none.
func (m *motion) firstPose() int {
	if m.grid.Sparse() {
		return 0
	}
	for r := range m.rows {
		for c := range m.grid.Cols {
			if m.grid.Values[c*len(m.rows)+r] != 0 {
				return r
			}
		}
	}
	return 0
}
