package collada

import (
	"bytes"
	"hash/maphash"
	"sync"
	"sync/atomic"

	"curvelint/parse/scene"
	"curvelint/parse/text"
)

// numbers are the numbers of an array. One that is broken or not finite is
// NaN, so that the others keep their index.
type numbers struct {
	values   []float64
	spans    []uint32 // offset of each; nil when they were not asked for
	decimals int      // largest number of printed decimals
	comma    bool     // some number has a decimal comma
	lacking  bool     // it was reported that numbers are missing
	holes    bool     // some are NaN
	problems []scene.Problem
}

// maxArrayProblems bounds how many broken numbers of one array are reported.
const maxArrayProblems = 20

// reading is an array to be read.
type reading struct {
	array *array
	spans bool
	same  *array // an array with the same text, read instead
}

// readings collects the arrays that are needed. Arrays whose numbers need no
// place and whose text is the same, as the times of curves baked together are,
// are read once.
type readings struct {
	p     *parser
	list  []*reading
	known map[*array]*reading
	texts map[uint64][]*reading
	seed  maphash.Seed
}

func newReadings(p *parser) *readings {
	return &readings{p: p, known: make(map[*array]*reading), texts: make(map[uint64][]*reading), seed: maphash.MakeSeed()}
}

// need asks for the numbers of an array, with their places if spans is true.
func (q *readings) need(a *array, spans bool) {
	if a == nil {
		return
	}
	if r := q.known[a]; r != nil {
		if spans && !r.spans {
			r.spans, r.same = true, nil
		}
		return
	}
	r := &reading{array: a, spans: spans}
	q.known[a] = r
	q.list = append(q.list, r)
	if spans || len(a.text) != 1 || a.text[0].escaped {
		return
	}
	body := q.p.src[a.text[0].start:a.text[0].end]
	sum := maphash.Bytes(q.seed, body)
	for _, other := range q.texts[sum] {
		t := other.array.text[0]
		if bytes.Equal(body, q.p.src[t.start:t.end]) && a.count == other.array.count {
			r.same = other.array
			return
		}
	}
	q.texts[sum] = append(q.texts[sum], r)
}

// read reads all arrays that were asked for with the given number of
// goroutines and reports what is wrong with them.
func (q *readings) read(workers int) {
	q.run(workers, func(r *reading) bool { return r.same == nil })
	for _, r := range q.list {
		if r.same == nil {
			continue
		}
		if n := r.same.numbers; n != nil && len(n.problems) == 0 {
			r.array.numbers = n
		} else {
			r.array.numbers = q.p.scan(r.array, r.spans) // for problems at its own place
		}
	}
	for _, r := range q.list {
		for _, problem := range r.array.numbers.problems {
			q.p.problems.Add(problem.Kind, problem.Span, "%s", problem.Message)
		}
	}
}

// run reads the arrays for which due holds.
func (q *readings) run(workers int, due func(*reading) bool) {
	var next atomic.Int64
	work := func() {
		for {
			i := int(next.Add(1)) - 1
			if i >= len(q.list) {
				return
			}
			if r := q.list[i]; due(r) {
				r.array.numbers = q.p.scan(r.array, r.spans)
			}
		}
	}
	var wg sync.WaitGroup
	for range min(workers, len(q.list)) - 1 {
		wg.Go(work)
	}
	work()
	wg.Wait()
}

// scan reads the numbers of an array. It is safe for concurrent use.
func (p *parser) scan(a *array, spans bool) *numbers {
	n := &numbers{}
	if a.names {
		n.lacking = true
		n.report(scene.Syntax, a.span, "expected an array of numbers, found one of words")
		return n
	}
	size := 0
	for _, t := range a.text {
		size += t.end - t.start
	}
	// Every number has a byte and one that ends it, whatever count claims.
	most := (size + len(a.text)) / 2
	guess := size / 8
	if a.count >= 0 {
		guess = min(a.count, most)
	}
	n.values = make([]float64, 0, guess)
	if spans {
		n.spans = make([]uint32, 0, guess)
	}
	for _, t := range a.text {
		src, base := p.plain(t)
		n.scan(src, t.start-base, t.end-base, base, spans)
		if t.end == len(p.src) && t.end > t.start && !isSpace(src[t.end-base-1]) {
			n.dropLast() // the file ends here, perhaps inside the number
		}
	}
	n.counted(a)
	return n
}

// scan appends the numbers of src[i:end]; base is what to add to an offset.
func (n *numbers) scan(src []byte, i, end, base int, spans bool) {
	src = src[:end]
	values, starts, decimals := n.values, n.spans, n.decimals
	for {
		if i < len(src) && src[i] == ' ' {
			i++ // one space is what mostly stands between numbers
		}
		for i < len(src) && isSpace(src[i]) {
			i++
		}
		if i == len(src) {
			break
		}
		v, stop, d, ok := text.FloatStep(src, i)
		if !ok || v-v != 0 || stop < len(src) && src[stop] != ' ' && !isSpace(src[stop]) {
			v, stop, d = n.broken(src, i, base)
		}
		values = append(values, v)
		if spans {
			starts = append(starts, uint32(i+base))
		}
		decimals = max(decimals, d)
		i = stop
	}
	n.values, n.spans, n.decimals = values, starts, decimals
}

func (n *numbers) dropLast() {
	if last := len(n.values) - 1; last >= 0 {
		n.values = n.values[:last]
		n.spans = n.spans[:min(last, len(n.spans))]
	}
}

// broken reports the word at i, which is no finite number.
func (n *numbers) broken(src []byte, i, base int) (v float64, end, decimals int) {
	n.holes = true
	end = i
	for end < len(src) && !isSpace(src[end]) {
		end++
	}
	had, what := n.comma, "a number"
	if v, stop, ok := text.Float(src, i); ok && stop == end && v-v != 0 {
		what = "a finite number"
	}
	if word := string(src[i:end]); hasDecimalComma(word) {
		n.comma = true
		if !had {
			n.report(scene.Syntax, span(i+base, end+base), "expected a number, found "+quote(word)+": numbers have a decimal point in COLLADA; set the exporter to it. Keys with a comma are left out")
		}
		return nan, end, 0
	}
	n.report(scene.Syntax, span(i+base, end+base), "expected "+what+", found "+quote(string(src[i:end]))+"; its key is left out")
	return nan, end, 0
}

// counted reports an array that holds fewer or more numbers than it claims.
func (n *numbers) counted(a *array) {
	switch found := len(n.values); {
	case a.count < 0 || a.count == found:
	case found < a.count:
		n.lacking = true
		n.report(scene.PartialExport, a.countSpan, "expected "+plural(a.count, "number")+" in this array as count says, found "+plural(found, "number")+"; export it again")
	default:
		n.report(scene.Syntax, a.countSpan, "expected "+plural(a.count, "number")+" in this array as count says, found "+plural(found, "number")+"; all are used")
	}
}

func (n *numbers) report(kind scene.ProblemKind, at scene.Span, message string) {
	if len(n.problems) < maxArrayProblems {
		n.problems = append(n.problems, scene.Problem{Kind: kind, Span: at, Message: message})
	}
}
