package collada

import (
	"bytes"
	"sort"

	"curvelint/parse/scene"
	"curvelint/parse/text"
)

// Reread applies an edit to numbers in the array of a curve's values, reading
// again only the numbers that the edit touched. It returns false, and the
// whole file must be read, when the edit changes anything else: how many
// numbers there are, times, tangents, elements; or when more than the values
// themselves hangs on them, as handles do.
func Reread(old *scene.Scene, e scene.Edit) (scene.Reread, bool) {
	r := &rereader{old: old, e: e, before: old.Files[0].Text}
	if len(old.Problems) >= scene.MaxProblems || !r.array() || !r.window() || !r.channels() || !r.alone() {
		return scene.Reread{}, false
	}
	return r.apply()
}

// rereader puts an edit into a copy of a scene.
type rereader struct {
	old    *scene.Scene
	e      scene.Edit
	before []byte
	ids    []scene.ChannelID // channels of which the edit touches keys
	run    textRange         // the text of the array
	// The words that the edit touches, before and after it. Offsets in now
	// are those of the new text.
	from, to int // in the old text
	was, now *numbers
}

// channels finds the channels of which the edit touches keys, and refuses those
// on whose values more depends.
func (r *rereader) channels() bool {
	for i := range r.old.Channels {
		c := &r.old.Channels[i]
		first, behind := keysIn(c.Curve.Spans, r.from, r.to)
		if first == behind || c.Curve.File != 0 {
			continue
		}
		if c.Curve.Handles != nil || c.Curve.PreValues != nil || r.derived(scene.ChannelID(i)) {
			return false
		}
		r.ids = append(r.ids, scene.ChannelID(i))
	}
	return len(r.ids) > 0 || len(r.was.values) == 0
}

// keysIn returns the range of places, which ascend, that lie in [from, to).
func keysIn(spans []uint32, from, to int) (first, behind int) {
	first = sort.Search(len(spans), func(i int) bool { return int(spans[i]) >= from })
	for behind = first; behind < len(spans) && int(spans[behind]) < to; behind++ {
	}
	return first, behind
}

// derived reports whether a channel is not what the file says, number for
// number: the focal length made of a field of view, or a component of an axis,
// which is a channel only while it changes.
func (r *rereader) derived(id scene.ChannelID) bool {
	c := &r.old.Channels[id]
	part := &r.old.Parts[c.Part]
	if c.Op == scene.NoOp {
		return part.Kind != scene.Weight
	}
	return part.Ops[c.Op].Kind == scene.RotateAxis && c.Component < 3
}

// array finds the text of the array that the edit lies in. It must be one run
// of text in a float_array, and stay so.
func (r *rereader) array() bool {
	const begin, end = "<float_array", "</float_array"
	start := bytes.LastIndexByte(r.before[:r.e.Start], '>') + 1
	stop := bytes.IndexByte(r.before[r.e.End:], '<')
	if start == 0 || stop < 0 {
		return false
	}
	stop += r.e.End
	tag := bytes.LastIndexByte(r.before[:start], '<')
	if tag < 0 || !bytes.HasPrefix(r.before[tag:], []byte(begin)) || !bytes.HasPrefix(r.before[stop:], []byte(end)) {
		return false
	}
	r.run = textRange{start: start, end: stop}
	if bytes.ContainsAny(r.before[start:stop], "<&") || bytes.ContainsAny(r.e.New, "<&>") {
		return false
	}
	for _, p := range r.old.Problems {
		if int(p.Span.End) > start && int(p.Span.Start) < stop {
			return false
		}
	}
	return true
}

// window reads the words that the edit touches, as they were and as they are.
func (r *rereader) window() bool {
	r.from, r.to = r.e.Start, r.e.End
	for r.from > r.run.start && !isSpace(r.before[r.from-1]) {
		r.from--
	}
	for r.to < r.run.end && !isSpace(r.before[r.to]) {
		r.to++
	}
	after := make([]byte, 0, r.to-r.from+len(r.e.New))
	after = append(append(append(after, r.before[r.from:r.e.Start]...), r.e.New...), r.before[r.e.End:r.to]...)
	r.was, r.now = &numbers{}, &numbers{}
	r.was.scan(r.before, r.from, r.to, 0, true)
	r.now.scan(after, 0, len(after), r.from, true)
	return len(r.was.problems)+len(r.now.problems) == 0 && len(r.was.values) == len(r.now.values)
}

// alone reports whether the numbers are the values of curves and nothing else:
// their source is named by inputs called OUTPUT alone, their array by the
// accessor of that source alone.
func (r *rereader) alone() bool {
	tag := bytes.LastIndexByte(r.before[:r.run.start], '<')
	source := bytes.LastIndex(r.before[:tag], []byte("<source"))
	if source < 0 {
		return false
	}
	sourceTag, _, _ := bytes.Cut(r.before[source:tag], []byte(">"))
	sourceID, arrayID := idIn(sourceTag), idIn(r.before[tag:r.run.start])
	_, outputs := r.references(sourceID, func(tag []byte) bool {
		return bytes.HasPrefix(tag, []byte("<input")) && bytes.Contains(tag, []byte("OUTPUT"))
	})
	accessors, known := r.references(arrayID, func(tag []byte) bool {
		return bytes.HasPrefix(tag, []byte("<accessor"))
	})
	return sourceID != nil && outputs && known && accessors <= 1
}

// idIn returns the value of the attribute id in a tag, nil if it has none or
// one with references.
func idIn(tag []byte) []byte {
	for i := 0; ; {
		n := bytes.Index(tag[i:], []byte("id="))
		if n < 0 || i+n+4 >= len(tag) {
			return nil
		}
		i += n + 3
		if !isSpace(tag[i-4]) {
			continue // another attribute, such as sid
		}
		value, _, closed := bytes.Cut(tag[i+1:], tag[i:i+1])
		if !closed || len(value) == 0 || bytes.IndexByte(value, '&') >= 0 {
			return nil
		}
		return value
	}
}

// references counts the references to an id; ok is false when one stands in
// another tag than expected.
func (r *rereader) references(id []byte, expected func(tag []byte) bool) (count int, ok bool) {
	if id == nil {
		return 0, true
	}
	mark := append([]byte("#"), id...)
	for i := 0; ; {
		n := bytes.Index(r.before[i:], mark)
		if n < 0 {
			return count, true
		}
		at := i + n
		i = at + len(mark)
		if i < len(r.before) && r.before[i] != '"' && r.before[i] != '\'' {
			continue // a longer id
		}
		start := max(bytes.LastIndexByte(r.before[:at], '<'), 0)
		tag, _, _ := bytes.Cut(r.before[start:], []byte(">"))
		if !expected(tag) {
			return count, false
		}
		count++
	}
}

// apply makes the new scene.
func (r *rereader) apply() (scene.Reread, bool) {
	s := scene.Moved(r.old, r.e)
	if len(r.ids) == 0 {
		return scene.Reread{Scene: s}, true // only white space
	}
	r.steps(s)
	p := patch{was: r.was, now: r.now, from: r.from, to: r.to, covered: make([]bool, len(r.was.values)),
		values: make(map[*float64][]float64), spans: make(map[*uint32][]uint32)}
	var changed []scene.ChannelID
	for _, id := range r.ids {
		differs, ok := p.put(&s.Channels[id].Curve, &r.old.Channels[id].Curve)
		if !ok {
			return scene.Reread{}, false
		}
		if differs {
			changed = append(changed, id)
		}
	}
	for _, covered := range p.covered {
		if !covered {
			return scene.Reread{}, false // a number that is no channel's
		}
	}
	return scene.Reread{Scene: s, Changed: changed}, true
}

// steps gives all curves whose values lie in the array their precision.
func (r *rereader) steps(s *scene.Scene) {
	step := text.Step(r.decimals(s.Files[0].Text))
	for i := range s.Channels {
		spans := r.old.Channels[i].Curve.Spans
		if len(spans) > 0 && r.run.start <= int(spans[0]) && int(spans[0]) < r.run.end && s.Channels[i].Curve.Step != 0 {
			s.Channels[i].Curve.Step = step
		}
	}
}

// decimals returns the largest number of printed decimals in the array, of
// which src is the new text. Only when a number that had as many was touched
// are the others looked at.
func (r *rereader) decimals(src []byte) int {
	step := r.old.Channels[r.ids[0]].Curve.Step
	most := 0
	for text.Step(most) > step && most < 400 {
		most++
	}
	for text.Step(most) < step && most > -400 {
		most--
	}
	if r.now.decimals >= most || r.was.decimals < most {
		return max(most, r.now.decimals)
	}
	end := r.run.end + len(r.e.New) - (r.e.End - r.e.Start)
	found := 0
	for i := r.run.start; i < end; {
		if isSpace(src[i]) {
			i++
			continue
		}
		_, stop, d, ok := text.FloatStep(src[:end], i)
		if !ok {
			break // refused before
		}
		if found = max(found, d); found >= most {
			break
		}
		i = stop
	}
	return found
}

// patch puts words that were read again into curves.
type patch struct {
	was, now *numbers
	from, to int
	covered  []bool // numbers that are keys of some curve
	// Columns made so far, by the first element of the old ones: curves go on
	// to share them.
	values map[*float64][]float64
	spans  map[*uint32][]uint32
}

// put gives the curve c, a copy of old with its places moved, the new numbers
// and reports whether a value differs. ok is false when the keys in the range
// are not the numbers there.
func (p *patch) put(c, old *scene.Curve) (differs, ok bool) {
	spans := old.Spans
	first, behind := keysIn(spans, p.from, p.to)
	k := 0
	for i := first; i < behind; i++ {
		for k < len(p.was.spans) && p.was.spans[k] < spans[i] {
			k++
		}
		if k == len(p.was.spans) || p.was.spans[k] != spans[i] {
			return false, false
		}
		p.covered[k] = true
		differs = differs || p.now.values[k] != old.Values[i]
	}
	c.Spans = p.newSpans(c.Spans, spans, first, behind)
	if differs {
		c.Values = p.newValues(old.Values, spans, first, behind)
	}
	return differs, true
}

// newSpans returns the moved places with those of keys first to behind-1 put
// in.
func (p *patch) newSpans(moved, old []uint32, first, behind int) []uint32 {
	if known, ok := p.spans[&old[0]]; ok && len(known) == len(old) {
		return known
	}
	out := append([]uint32(nil), moved...)
	k := 0
	for i := first; i < behind; i++ {
		for p.was.spans[k] < old[i] {
			k++
		}
		out[i] = p.now.spans[k]
	}
	p.spans[&old[0]] = out
	return out
}

func (p *patch) newValues(old []float64, spans []uint32, first, behind int) []float64 {
	if known, ok := p.values[&old[0]]; ok && len(known) == len(old) {
		return known
	}
	out := append([]float64(nil), old...)
	k := 0
	for i := first; i < behind; i++ {
		for p.was.spans[k] < spans[i] {
			k++
		}
		out[i] = p.now.values[k]
	}
	p.values[&old[0]] = out
	return out
}
