package gltf

import (
	"encoding/binary"
	"math"

	"curvelint/parse/scene"
)

// accessor is an accessor: how numbers lie in a buffer view.
type accessor struct {
	span       scene.Span
	view       int // -1: all zeros
	viewSpan   scene.Span
	offset     int
	component  int // the number of its type, 5126 for float
	normalized bool
	count      int
	countSpan  scene.Span
	kind       string
	sparse     *sparse
}

// sparse are the elements of an accessor that differ from its buffer view.
type sparse struct {
	span            scene.Span
	count           int
	indices, values accessor
}

// componentSizes are the component types with their size in bytes.
var componentSizes = map[int]int{5120: 1, 5121: 1, 5122: 2, 5123: 2, 5125: 4, 5126: 4}

// kindWidths are the types of accessors with their number of components.
var kindWidths = map[string]int{"SCALAR": 1, "VEC2": 2, "VEC3": 3, "VEC4": 4, "MAT2": 4, "MAT3": 9, "MAT4": 16}

func (p *parser) accessor() accessor {
	a := accessor{view: -1, count: -1}
	a.span = p.r.object(func(name string, at scene.Span) {
		if p.accessorMember(&a, name) {
			return
		}
		switch name {
		case "count":
			a.countSpan = p.at(func() { a.count = p.r.index("a number of elements") })
		case "type":
			a.kind = p.r.text()
		case "normalized":
			a.normalized = p.r.truth()
		case "sparse":
			a.sparse = p.sparse()
		}
	})
	return a
}

// accessorMember reads a member that accessors and the two halves of a sparse
// one share.
func (p *parser) accessorMember(a *accessor, name string) bool {
	switch name {
	case "bufferView":
		a.viewSpan = p.at(func() { a.view = p.r.index("the number of a buffer view") })
	case "byteOffset":
		a.offset = max(p.r.index("a number of bytes"), 0)
	case "componentType":
		a.component = p.r.index("the number of a component type")
	default:
		return false
	}
	return true
}

func (p *parser) sparse() *sparse {
	s := &sparse{count: -1, indices: accessor{view: -1}, values: accessor{view: -1}}
	half := func(a *accessor) {
		a.span = p.r.object(func(name string, at scene.Span) { p.accessorMember(a, name) })
	}
	s.span = p.r.object(func(name string, at scene.Span) {
		switch name {
		case "count":
			s.count = p.r.index("a number of elements")
		case "indices":
			half(&s.indices)
		case "values":
			half(&s.values)
		}
	})
	return s
}

// lane is where one component goes: its next number to to[pos] or, in single
// precision, to single[pos].
type lane struct {
	to        []float64
	single    []float32
	pos, step int
}

// block is a range of a buffer from which elements are read.
type block struct {
	b         *buffer
	offset    int // of the first element, in the buffer
	stride    int // from element to element
	component int
	scale     float64 // what whole numbers are divided by
}

// locate finds the bytes of an accessor and returns how many of count elements
// of so many bytes are there; ok is false, with a problem, when there is
// nothing to read.
func (p *parser) locate(a *accessor, at scene.Span, count, size int) (bl block, n int, ok bool) {
	if a.view >= len(p.bufferViews) {
		p.missing(a.viewSpan, "buffer view", a.view, len(p.bufferViews))
		return bl, 0, false
	}
	v := &p.bufferViews[a.view]
	if v.compressed {
		p.problems.Once(scene.Unsupported, v.span, "compressed", "this buffer view is compressed, which is not read; the animation in it is left out")
		return bl, 0, false
	}
	if v.buffer < 0 || v.buffer >= len(p.buffers) {
		p.missing(v.bufferSpan, "buffer", v.buffer, len(p.buffers))
		return bl, 0, false
	}
	b := &p.buffers[v.buffer]
	if !p.open(b) {
		return bl, 0, false
	}
	stride := v.stride
	if stride == 0 {
		stride = size
	}
	bl = block{b: b, offset: v.offset + a.offset, stride: stride, component: a.component}
	end := min(v.offset+v.length, b.size)
	n = count
	if room := end - bl.offset; room < size {
		n = 0
	} else if most := (room-size)/stride + 1; most < n {
		n = most
	}
	if n < count && !(b.short && bl.offset+(count-1)*stride+size <= min(v.offset+v.length, b.claimed)) {
		p.problems.Add(scene.PartialExport, at, "expected %s here, found room for %d: the accessor ends at byte %d of its buffer, the buffer view at %d, and the buffer has %d bytes",
			plural(count, "element"), n, bl.offset+(count-1)*stride+size, v.offset+v.length, b.size)
	}
	return bl, n, true
}

// read decodes n elements of so many components, one number after the other,
// into lanes in turn. The number of lanes is a multiple of width or divides it.
func (bl *block) read(n, width int, lanes []lane) error {
	element := width * componentSizes[bl.component]
	var buf [blockSize]byte
	most := max(1, (blockSize-element)/bl.stride+1)
	if most > 3 {
		most -= most % 3 // blocks begin where a group of base64 does
	}
	c := 0
	for i := 0; i < n; i += most {
		m := min(most, n-i)
		if err := bl.b.read(buf[:(m-1)*bl.stride+element], bl.offset+i*bl.stride); err != nil {
			return err
		}
		for j := range m {
			c = bl.element(buf[j*bl.stride:][:element], c, lanes)
		}
	}
	return nil
}

// element decodes one element whose first component goes to lane c, and
// returns the lane behind its last.
func (bl *block) element(src []byte, c int, lanes []lane) int {
	put := func(v float64) {
		l := &lanes[c]
		l.to[l.pos] = v
		l.pos += l.step
		if c++; c == len(lanes) {
			c = 0
		}
	}
	if bl.component == 5126 && lanes[0].single != nil {
		for ; len(src) >= 4; src = src[4:] {
			l := &lanes[c]
			l.single[l.pos] = math.Float32frombits(binary.LittleEndian.Uint32(src))
			l.pos += l.step
			if c++; c == len(lanes) {
				c = 0
			}
		}
		return c
	}
	if bl.component == 5126 {
		for ; len(src) >= 4; src = src[4:] {
			put(float64(math.Float32frombits(binary.LittleEndian.Uint32(src))))
		}
		return c
	}
	size := componentSizes[bl.component]
	for ; len(src) >= size; src = src[size:] {
		put(bl.whole(src))
	}
	return c
}

// whole decodes a whole number (glTF 2.0, 3.6.2.2 and 3.11: where it stands for
// a share it is divided by the largest one).
func (bl *block) whole(src []byte) float64 {
	var v float64
	switch bl.component {
	case 5120:
		v = float64(int8(src[0]))
	case 5121:
		v = float64(src[0])
	case 5122:
		v = float64(int16(binary.LittleEndian.Uint16(src)))
	case 5123:
		v = float64(binary.LittleEndian.Uint16(src))
	default:
		v = float64(binary.LittleEndian.Uint32(src))
	}
	if bl.scale > 0 {
		v = max(v/bl.scale, -1)
	}
	return v
}

// largest is the whole number that stands for 1, by component type.
var largest = map[int]float64{5120: 127, 5121: 255, 5122: 32767, 5123: 65535, 5125: 4294967295}
