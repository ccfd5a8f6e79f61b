package table

import (
	"strings"

	"curvelint/parse/scene"
)

// part is a part of the scene with its columns so far.
type part struct {
	scene.Part
	// columns by role and axis, as 1 + index into parser.columns.
	columns [ignored][3]int32
}

// declare adds the column that a header cell names. A last cell that is empty
// comes from a separator at the end of each line and means nothing.
func (p *parser) declare(c cell) {
	name := c.text(p.src)
	at := span(c.start, c.end)
	col := column{cell: at, part: scene.NoPart, at: -1, role: ignored}
	switch {
	case name == "" && (c.next == len(p.src) || isLineEnd(p.src[c.next])):
	case name == "":
		p.problems.Add(scene.Unsupported, span(c.start, c.start), "column %d has no name and is read over", len(p.columns)+2)
	case c.broken:
		p.syntax(at, "expected a name in the header, found %s; the column is read over", quote(p.src[c.start:c.end]))
	default:
		p.place(name, &col)
	}
	p.columns = append(p.columns, col)
}

// place finds or makes the part that a column belongs to.
func (p *parser) place(name string, col *column) {
	at := col.cell
	path := name
	col.role, col.name = free, name[strings.LastIndexByte(name, '/')+1:]
	if dot := strings.LastIndexByte(name, '.'); dot > strings.LastIndexByte(name, '/') {
		path, col.name = name[:dot], name[dot+1:]
		if col.role, col.axis = channelOf(col.name); col.role == free {
			path += "/" + col.name
		}
	}
	elements := strings.Split(strings.TrimPrefix(path, "/"), "/")
	id, problem := p.find(elements, col.cell)
	if problem != "" {
		p.syntax(at, "%s; column %s is read over", problem, quote([]byte(name)))
		col.role = ignored
		return
	}
	if problem = p.parts[id].take(col, len(p.columns)); problem != "" {
		p.syntax(at, "%s; column %s is read over", problem, quote([]byte(name)))
		col.role = ignored
		return
	}
	col.part = id
}

// find returns the part at a path and makes it and its parents as needed.
func (p *parser) find(elements []string, def scene.Span) (id scene.PartID, problem string) {
	if len(elements) > p.maxDepth {
		return 0, "the parts are nested too deep"
	}
	id = scene.NoPart
	path, from := "", int(def.Start)
	for _, name := range elements {
		if name == "" {
			return 0, "expected a part's name before each / and the channel, such as body/head.tx"
		}
		path += "/" + name
		known, ok := p.byPath[path]
		if !ok {
			if p.pathBudget -= len(path); p.pathBudget < 0 {
				return 0, "the names of nested parts are too long in all"
			}
			known = p.add(id, name, path, def, from)
		}
		id = known
		from = min(from+len(name)+1, int(def.End))
	}
	return id, ""
}

// add makes a new part whose name is written at an offset.
func (p *parser) add(parent scene.PartID, name, path string, def scene.Span, from int) scene.PartID {
	id := scene.PartID(len(p.parts))
	at := def
	if end := min(from+len(name), int(def.End)); string(p.src[from:end]) == name {
		at = span(from, end)
	}
	p.parts = append(p.parts, part{Part: scene.Part{
		ID: id, Parent: parent, Name: name, Path: path, Def: def, NameSpan: at, Body: def,
	}})
	p.byPath[path] = id
	return id
}

// take gives the part its column number n, or says why it cannot have it.
func (t *part) take(col *column, n int) (problem string) {
	slot := &t.columns[col.role][col.axis]
	if *slot != 0 {
		return "this column occurs twice"
	}
	has := func(roles ...role) bool {
		for _, r := range roles {
			if t.columns[r] != [3]int32{} {
				return true
			}
		}
		return false
	}
	others := map[role][]role{
		translate: {world, picture, free}, rotate: {world, picture, free}, scale: {world, picture, free},
		world:   {translate, rotate, scale, picture, free},
		picture: {translate, rotate, scale, world, free},
		free:    {translate, rotate, scale, world, picture},
	}
	if has(others[col.role]...) {
		return "a part has either local columns (tx, rx, sx) or a track (wx or u), or is one free number"
	}
	*slot = int32(n) + 1
	return ""
}

// build fills the scene with the parts and channels.
func (p *parser) build(s *scene.Scene, m *rows) {
	target := make([]int, len(p.columns))
	s.Parts = make([]scene.Part, 0, len(p.parts))
	s.Channels = make([]scene.Channel, 0, m.grid.Cols)
	for i := range p.parts {
		p.stack(&p.parts[i], target)
		s.Parts = append(s.Parts, p.parts[i].Part)
	}
	block := span(p.i, len(p.src))
	for n := range p.columns {
		col := &p.columns[n]
		if col.at < 0 {
			continue
		}
		component := int(col.axis)
		if col.role == rotate || col.role == free {
			component = 0
		}
		s.Channels = append(s.Channels, scene.Channel{
			Part: col.part, Op: target[n], Component: component, Name: col.name, Quantity: col.quantity(),
			Curve: m.grid.Curve(int(col.at), m.frames), Def: col.cell, Block: block,
		})
	}
}

func (c *column) quantity() scene.Quantity {
	switch c.role {
	case rotate:
		return scene.Angle
	case scale:
		return scene.Factor
	case free:
		return scene.Number
	}
	return scene.Length
}

// stack makes the transform stack of a part and notes the op of its columns.
func (p *parser) stack(t *part, target []int) {
	for _, n := range t.columns[free] {
		if n != 0 {
			t.Kind = scene.Scalar
			target[n-1] = scene.NoOp
		}
	}
	p.op(t, translate, scene.Translate, "t", 0, target)
	for _, axis := range p.order {
		if n := t.columns[rotate][axis]; n != 0 {
			target[n-1] = len(t.Ops)
			t.Ops = append(t.Ops, scene.Op{
				Kind: scene.RotateX + scene.OpKind(axis), Name: p.columns[n-1].name,
				Value: make([]float64, 1), Span: p.columns[n-1].cell,
			})
		}
	}
	p.op(t, scale, scene.Scale, "s", 1, target)
	if t.columns[world] != [3]int32{} {
		t.Kind, t.ResetStack = scene.WorldTrack, true
		p.op(t, world, scene.Translate, "w", 0, target)
	}
	if t.columns[picture] != [3]int32{} {
		t.Kind, t.ResetStack = scene.PictureTrack, true
		width := p.aspect
		if width == 0 {
			width = 1
		}
		t.Ops = append(t.Ops, scene.Op{Kind: scene.Scale, Name: "picture", Value: []float64{width, -1, 1}, Span: t.Def})
		p.op(t, picture, scene.Translate, "uv", 0, target)
	}
}

// op adds the op of three components that the columns of a role drive.
func (p *parser) op(t *part, r role, kind scene.OpKind, name string, rest float64, target []int) {
	op := scene.Op{Kind: kind, Name: name, Value: []float64{rest, rest, rest}}
	for _, n := range t.columns[r] {
		if n == 0 {
			continue
		}
		target[n-1] = len(t.Ops)
		if op.Span.Empty() {
			op.Span = p.columns[n-1].cell
		}
	}
	if !op.Span.Empty() {
		t.Ops = append(t.Ops, op)
	}
}
