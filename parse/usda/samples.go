package usda

import (
	"bytes"
	"math"

	"curvelint/parse/scene"
)

// samples are the time samples of one attribute, as columns: one column for
// each number of an element, or one for each whole quaternion or matrix; for
// an array, those of its first element, then those of its second, and so on.
type samples struct {
	block extent    // from { to }
	times []float64 // time codes, ascending
	cols  []column
	elems int // elements in a sample, 1 unless an array
	// none lists the samples that are None; they repeat the value before.
	none []int32
}

// column is the animation of one number, quaternion or matrix.
type column struct {
	values   []float64
	spans    []uint32
	stride   int
	decimals int8 // of the number printed finest, math.MinInt8 if none
}

// sampler reads one block of time samples into rows that it reuses from block
// to block.
type sampler struct {
	numbers
	times []float64
	none  []int32
	last  []float64 // the times of the block before, to be shared
}

func (s *sampler) reset(whole bool) {
	s.vals, s.spans, s.decimals = s.vals[:0], s.spans[:0], s.decimals[:0]
	s.times, s.none = s.times[:0], s.none[:0]
	s.whole = whole
}

// columnar reports whether the samples of an attribute are kept: those of
// numbers, and the arrays of numbers by which skeletons move.
func columnar(q *property) bool {
	if !q.typ.numeric() {
		return false
	}
	if !q.typ.array {
		return true
	}
	switch q.name {
	case "translations", "rotations", "scales", "blendShapeWeights":
		return true
	}
	return false
}

// timeSamples reads { time: value, ... }, which comes next.
func (p *parser) timeSamples(q *property) {
	if p.peek() != '{' {
		p.expected("'{' to open the time samples")
		return
	}
	if !columnar(q) {
		start := p.pos
		p.sampleBlock(func() bool { return p.keyword("None") || p.value(q.typ) })
		q.samples = &samples{block: extent{uint32(start), uint32(p.pos)}}
		return
	}
	if p.jobs != nil && p.jobs.hand(p, q) {
		return
	}
	if p.sampler == nil {
		p.sampler = new(sampler)
	}
	q.samples = p.readSamples(q.typ, p.sampler)
}

// sampleBlock reads samples whose values are read by value and not kept.
func (p *parser) sampleBlock(value func() bool) {
	p.items('{', '}', "time samples", p.pos, func() bool {
		return p.sampleTime(nil) && value()
	}, true)
}

// sampleTime reads time and colon, and appends the time to s.
func (p *parser) sampleTime(s *sampler) bool {
	t, at, _, ok := p.plainNumber("the time of a sample, or '}'")
	if !ok {
		return false
	}
	if !p.want(':', "after the time of a sample") {
		return false
	}
	if s != nil {
		s.times = append(s.times, t)
		if math.IsInf(t, 0) || math.IsNaN(t) {
			p.remark(syntax, at, p.pos-1, "expected a finite time for this sample; it is left out")
			s.odd = true
		}
	}
	return true
}

// readSamples reads a block of samples of type t, whose opening brace comes
// next. A sample with a problem is left out, and reading goes on behind it.
func (p *parser) readSamples(t valueType, s *sampler) *samples {
	start := p.pos
	p.pos++
	s.reset(t.asWhole())
	outer := p.values
	p.values = &s.numbers
	elems := 1
	if t.array {
		elems = -1
	}
	for p.moreSamples(t, s, &elems, start) {
		if !p.slowRow(t, s, &elems) || !p.sampleEnd() {
			p.skipSample()
		}
	}
	p.values = outer
	return p.columns(t, s, max(elems, 0), extent{uint32(start), uint32(p.pos)})
}

// moreSamples goes to the next sample that must be read slowly, or past the
// closing brace and returns false.
func (p *parser) moreSamples(t valueType, s *sampler, elems *int, start int) bool {
	p.lines()
	p.fastRows(t, s, elems)
	p.lines()
	if p.pos >= len(p.src) {
		p.unclosed(start, '}', "the time samples")
		return false
	}
	if p.src[p.pos] == '}' {
		p.pos++
		return false
	}
	return true
}

// sampleEnd reads the comma behind a sample; before the closing brace there
// need not be one.
func (p *parser) sampleEnd() bool {
	ended := p.lines()
	if p.pos >= len(p.src) || p.src[p.pos] == '}' {
		return true
	}
	if ended { // the next sample can be read all the same
		p.expected("',' at the end of the line before, or '}'")
		p.bad = false
		p.eat(',')
		return true
	}
	return p.eat(',') || p.expected("',' or '}' after a sample")
}

// skipSample goes to the end of the line, or to a closing brace before it.
func (p *parser) skipSample() {
	p.bad = false
	n := bytes.IndexAny(p.src[p.pos:], "\r\n}")
	if n < 0 {
		p.pos, p.bad = len(p.src), true
		return
	}
	p.pos += n
}

// rowWidth returns the number of numbers in a sample.
func rowWidth(t valueType, elems int) int { return t.width() * elems }

// spanWidth returns the number of spans in a sample.
func spanWidth(t valueType, elems int) int {
	if t.asWhole() {
		return elems
	}
	return rowWidth(t, elems)
}

// slowRow reads one sample in any of the forms the grammar allows. A sample
// that cannot be used leaves no row.
func (p *parser) slowRow(t valueType, s *sampler, elems *int) bool {
	n, vals, spans := len(s.times), len(s.vals), len(s.spans)
	s.rowStart = vals
	s.odd = false
	ok := p.sampleTime(s)
	use := ok && !s.odd
	switch {
	case ok && p.keyword("None"):
		use = use && *elems >= 0
		if use {
			s.none = append(s.none, int32(n))
			p.blankRow(t, s, *elems)
		}
	case ok:
		ok = p.value(t)
		use = ok && use && p.checkRow(t, s, elems, vals)
	}
	if !use {
		s.times, s.vals, s.spans = s.times[:n], s.vals[:vals], s.spans[:spans]
	}
	return ok
}

// blankRow repeats the row before for a sample without a value.
func (p *parser) blankRow(t valueType, s *sampler, elems int) {
	w := rowWidth(t, max(elems, 0))
	for i := range w {
		v := 0.0
		if len(s.vals) >= w && i < len(s.vals) {
			v = s.vals[len(s.vals)-w]
		}
		s.vals = append(s.vals, v)
	}
	for range spanWidth(t, max(elems, 0)) {
		s.spans = append(s.spans, uint32(p.pos-len("None")))
	}
}

// checkRow reports a sample whose numbers are not finite, or an array that is
// not as long as those before, and returns whether the sample can be used.
func (p *parser) checkRow(t valueType, s *sampler, elems *int, vals int) bool {
	got := (len(s.vals) - vals) / t.width()
	if *elems < 0 {
		*elems = got
	}
	at := max(s.spanAt(t, vals), 0)
	if got != *elems {
		p.remark(scene.PartialExport, at, p.pos, "expected %d elements in this sample, as in the first one, found %d; the sample is left out", *elems, got)
		return false
	}
	if s.odd {
		p.remark(syntax, at, p.pos, "expected finite numbers in this sample, found inf or nan; the sample is left out")
	}
	return !s.odd
}

// spanAt returns where the row that begins with value i is written, -1 if it
// is empty.
func (s *sampler) spanAt(t valueType, i int) int {
	if t.asWhole() {
		i /= t.width()
	}
	if i >= len(s.spans) {
		return -1
	}
	return int(s.spans[i])
}
