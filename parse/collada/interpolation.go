package collada

import (
	"bytes"
	"unsafe"

	"curvelint/parse/scene"
)

// methodNames are the interpolations of COLLADA. BSPLINE does not pass through
// its keys.
var methodNames = map[string]method{
	"LINEAR": linear, "STEP": step, "BEZIER": bezier, "HERMITE": hermite, "CARDINAL": cardinal,
}

// interpolation reads how a track goes from key to key. Without the input
// INTERPOLATION it is linear.
func (b *builder) interpolation(t *track) {
	s := b.input(t.s, "INTERPOLATION", false)
	if s == nil {
		return
	}
	a := b.arrayOf(s)
	if a == nil || len(a.text) == 0 {
		return
	}
	if known, ok := b.interpolations[a]; ok {
		t.uniform, t.methods = known.uniform, known.methods
		return
	}
	if word, ok := b.repeated(a); ok {
		t.uniform = b.method(word)
	} else {
		t.methods = make([]method, 0, max(0, min(a.count, 1<<20)))
		b.words(a.text, func(start, end int) bool {
			t.methods = append(t.methods, b.method(span(start, end)))
			return true
		})
		t.compact()
	}
	b.interpolations[a] = &track{uniform: t.uniform, methods: t.methods}
}

// compact notes when all segments are alike.
func (t *track) compact() {
	if len(t.methods) == 0 {
		t.methods = nil
		return
	}
	for _, m := range t.methods {
		if m != t.methods[0] {
			return
		}
	}
	t.uniform, t.methods = t.methods[0], nil
}

// repeated reports whether an array is one word over and over, with the same
// white space behind each, as most writers have it.
func (b *builder) repeated(a *array) (word scene.Span, ok bool) {
	if len(a.text) != 1 || a.text[0].escaped {
		return word, false
	}
	word = b.trimmed(a.text[0].start, a.text[0].end)
	body := b.src[word.Start:word.End]
	n := 0
	for n < len(body) && !isSpace(body[n]) {
		n++
	}
	word.End = word.Start + uint32(n)
	for n < len(body) && isSpace(body[n]) {
		n++
	}
	return word, n == len(body) || bytes.Equal(body[n:], body[:len(body)-n])
}

// method returns the interpolation that a word names.
func (b *builder) method(at scene.Span) method {
	word := b.src[at.Start:at.End]
	if m, ok := methodNames[string(word)]; ok {
		return m
	}
	if string(word) == "BSPLINE" {
		b.problems.Once(scene.Unsupported, at, "BSPLINE", "BSPLINE curves do not pass through their keys and are read as straight lines between them; bake them to see their true shape")
		return linear
	}
	b.problems.Once(scene.Unsupported, at, "method "+string(word), "expected LINEAR, BEZIER, HERMITE, CARDINAL or STEP, found %s; it is read as LINEAR", quote(string(word)))
	return linear
}

// asBytes returns methods as the bytes they are.
func asBytes(m []method) []byte {
	return unsafe.Slice((*byte)(unsafe.SliceData(m)), len(m))
}
