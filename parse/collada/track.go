package collada

import (
	"bytes"
	"math"

	"curvelint/parse/scene"
)

// method is how a sampler goes from one key to the next.
type method uint8

const (
	linear method = iota
	step
	bezier
	hermite
	cardinal
)

// track is a sampler with its arrays read: keys in ascending order.
type track struct {
	s       *sampler
	input   *source
	output  *source
	in, out *source // tangents, or nil

	n       int       // keys in the file
	lacking bool      // it was reported that some are missing
	seconds []float64 // of each key in the file
	// times are the frames of the keys that are used; index and pre, if not
	// nil, the file's key that each of them is, and the one at the same time
	// before it or -1.
	times      []float64
	index, pre []int32

	uniform method
	methods []method // of each key in the file; nil when all are uniform
	curves  []cut    // made so far
	at      []int    // components of the output
	names   []string
}

// cut is a curve made of so many components of a track's output.
type cut struct {
	first, width int
	curve        scene.Curve
}

// source looks up an input of a sampler.
func (b *builder) input(s *sampler, semantic string, must bool) *source {
	r, ok := s.input(semantic)
	if !ok {
		if must {
			b.syntax(s.span, "expected an input %s in this sampler, found none; its channels are left out", semantic)
		}
		return nil
	}
	src, ok := find(b.parser, b.sources, r)
	if !ok {
		b.syntax(r.span, "no source has the id %s", quote(r.url))
		return nil
	}
	return src
}

// open prepares a sampler for reading and asks for its arrays; nil with
// problems when it cannot be used.
func (b *builder) open(s *sampler, q *readings) *track {
	if s.track != nil || s.failed {
		return s.track
	}
	key := s.key()
	if t := b.tracks[key]; t != nil {
		s.track = t
		return t
	}
	s.failed = true
	t := &track{s: s}
	if t.input = b.input(s, "INPUT", true); t.input == nil {
		return nil
	}
	if t.output = b.input(s, "OUTPUT", true); t.output == nil {
		return nil
	}
	in, out := b.arrayOf(t.input), b.arrayOf(t.output)
	if in == nil || out == nil {
		return nil
	}
	q.need(in, false)
	q.need(out, true)
	b.interpolation(t)
	if t.uses(bezier) || t.uses(hermite) {
		t.in, t.out = b.tangent(s, "IN_TANGENT", q), b.tangent(s, "OUT_TANGENT", q)
		if t.in == nil || t.out == nil {
			b.syntax(s.span, "expected the inputs IN_TANGENT and OUT_TANGENT for a curve with BEZIER or HERMITE segments; they are read as straight")
			t.straighten()
		}
	}
	t.at, t.names = t.output.components()
	s.track, s.failed = t, false
	b.tracks[key] = t
	return t
}

// samplerKey tells samplers apart: those with one key give the same curves.
type samplerKey struct {
	pre, post scene.Extrap
	urls      [5]string
}

func (s *sampler) key() samplerKey {
	key := samplerKey{pre: s.pre, post: s.post}
	for i, semantic := range [...]string{"INPUT", "OUTPUT", "INTERPOLATION", "IN_TANGENT", "OUT_TANGENT"} {
		r, _ := s.input(semantic)
		key.urls[i] = r.url
	}
	return key
}

// spend takes so many numbers from what curves may copy; false, with a
// problem, when there are not so many left.
func (b *builder) spend(n int, at scene.Span) bool {
	if b.numberBudget -= n; b.numberBudget >= 0 {
		return true
	}
	b.problems.Once(scene.Unsupported, at, "numbers", "the samplers ask for more numbers than a document of this size is given; the curves from here on are left out")
	return false
}

func (b *builder) tangent(s *sampler, semantic string, q *readings) *source {
	src := b.input(s, semantic, false)
	if src != nil {
		if a := b.arrayOf(src); a != nil {
			q.need(a, false)
			return src
		}
	}
	return nil
}

// uses reports whether some segment is of the method.
func (t *track) uses(m method) bool {
	if t.methods == nil {
		return t.uniform == m
	}
	return bytes.IndexByte(asBytes(t.methods), byte(m)) >= 0
}

// straighten makes segments with tangents linear.
func (t *track) straighten() {
	if t.uniform == bezier || t.uniform == hermite {
		t.uniform = linear
	}
	t.methods = append([]method(nil), t.methods...)
	for i, m := range t.methods {
		if m == bezier || m == hermite {
			t.methods[i] = linear
		}
	}
	if len(t.methods) == 0 {
		t.methods = nil
	}
}

// methodOf returns the method of the segment behind a key in the file.
func (t *track) methodOf(key int) method {
	if t.methods == nil {
		return t.uniform
	}
	if key < len(t.methods) {
		return t.methods[key]
	}
	return linear
}

// extent returns how many keys a source gives, by what its array holds, and
// whether it was reported that some are missing.
func (b *builder) extent(s *source) (n int, lacking bool) {
	a := b.arrayOf(s)
	if a == nil || a.numbers == nil {
		return 0, true
	}
	at, _ := s.components()
	if len(at) == 0 {
		return 0, false
	}
	if spare := len(a.numbers.values) - s.offset - at[len(at)-1] - 1; spare >= 0 {
		n = spare/s.stride + 1
	}
	lacking = a.numbers.lacking
	if s.count > n && !lacking {
		lacking = true
		b.problems.Once(scene.PartialExport, s.countSpan, "extent "+s.id, "expected %s in the source %s as count says, found %s in its array", plural(s.count, "value"), quote(s.id), plural(n, "value"))
	}
	if s.count >= 0 {
		n = min(n, s.count)
	}
	return n, lacking
}

// finish takes the numbers of a track once they are read.
func (b *builder) finish(t *track) {
	in, lackIn := b.extent(t.input)
	out, lackOut := b.extent(t.output)
	t.n = min(in, out)
	t.lacking = lackIn || lackOut
	if in != out && !t.lacking {
		b.problems.Add(scene.PartialExport, t.s.span, "expected as many values in OUTPUT as times in INPUT, found %d and %d; the first %d are used", out, in, t.n)
	}
	for _, s := range []*source{t.in, t.out} {
		if s == nil {
			continue
		}
		if n, lacking := b.extent(s); n < t.n {
			if !lacking {
				b.problems.Add(scene.PartialExport, t.s.span, "expected %s, one for each key, found %d; the curve is read as straight", plural(t.n, "tangent"), n)
			}
			t.in, t.out = nil, nil
			t.straighten()
			break
		}
	}
	if !b.spend(2*t.n, t.s.span) {
		t.n, t.lacking = 0, true
	}
	at, _ := t.input.components()
	t.seconds = b.column(t.input, at[:min(1, len(at))], t.n).values
}

// order takes frames for the seconds and leaves out keys that are not usable:
// times that are no numbers or do not ascend. Two keys at one time become one
// with a value before and one after.
func (b *builder) order(t *track, frames []float64) {
	t.times = frames[:t.n]
	if len(t.times) > 0 && len(t.times) == len(b.ascended) && &t.times[0] == &b.ascended[0] {
		return
	}
	if ascending(t.times) {
		b.ascended = t.times
		return
	}
	all := t.times
	t.times = nil
	for i, f := range all {
		last := len(t.times) - 1
		switch {
		case f-f != 0: // reported when it was read
			continue
		case last >= 0 && f < t.times[last]:
			b.problems.Once(scene.Syntax, b.keyTime(t, i), "order "+t.s.id, "expected times that ascend, found one before the last; its key is left out")
			continue
		case last >= 0 && f == t.times[last]:
			if t.pre[last] < 0 {
				t.pre[last] = t.index[last]
			}
			t.index[last] = int32(i)
			continue
		}
		t.times, t.index, t.pre = append(t.times, f), append(t.index, int32(i)), append(t.pre, -1)
	}
}

// keyTime returns where the time of a key is written.
func (b *builder) keyTime(t *track, key int) scene.Span {
	a := b.arrayOf(t.input)
	at, _ := t.input.components()
	want := t.input.offset + key*t.input.stride + at[0]
	where := t.s.span
	n := 0
	b.words(a.text, func(start, end int) bool {
		if n == want {
			where = span(start, end)
		}
		n++
		return n <= want
	})
	return where
}

// ascending reports whether times are numbers that grow.
func ascending(times []float64) bool {
	last := math.Inf(-1)
	for _, t := range times {
		if !(t > last) {
			return false
		}
		last = t
	}
	return !math.IsInf(last, 1)
}

// column is some components of a source, cut out: as many values and places a
// key as there are components.
type column struct {
	values []float64
	spans  []uint32
	step   int  // decimals
	holes  bool // some values may be NaN
}

// column cuts components that stand side by side, at[0], at[1], ..., out of a
// source. Where the array holds nothing else it is used as it is.
func (b *builder) column(s *source, at []int, n int) column {
	a := b.arrayOf(s)
	if a == nil || a.numbers == nil || len(at) == 0 || n == 0 {
		return column{}
	}
	key := at[0]<<8 | len(at)
	if c, ok := s.columns[key]; ok && len(c.values) >= n*len(at) {
		c.values = c.values[: n*len(at) : n*len(at)]
		c.spans = c.spans[:min(len(c.spans), n*len(at))]
		return c
	}
	w, from := len(at), s.offset+at[0]
	c := column{step: a.numbers.decimals, holes: a.numbers.holes}
	values, spans := a.numbers.values, a.numbers.spans
	if w == s.stride {
		c.values = values[from : from+n*w : from+n*w]
		if spans != nil {
			c.spans = spans[from : from+n*w : from+n*w]
		}
		return c
	}
	c.values = make([]float64, 0, n*w)
	if spans != nil {
		c.spans = make([]uint32, 0, n*w)
	}
	for i := range n {
		j := from + i*s.stride
		c.values = append(c.values, values[j:j+w]...)
		if spans != nil {
			c.spans = append(c.spans, spans[j:j+w]...)
		}
	}
	if s.columns == nil {
		s.columns = make(map[int]column)
	}
	s.columns[key] = c
	return c
}
