package gltf

import (
	"bytes"
	"slices"

	"curvelint/parse/scene"
)

// data is the base64 of a data URI: a range of the text; quote is where the
// string begins.
type data struct{ quote, start, end int }

// leastData is how long base64 must be for it to be worth going around.
const leastData = 256

// allData finds the long base64 of all data URIs in a JSON text; ok is false
// when it is not written as it usually is, without escapes.
func allData(src []byte) (all []data, ok bool) {
	mark := []byte(`"data:`)
	for i := 0; ; {
		n := bytes.Index(src[i:], mark)
		if n < 0 {
			return all, true
		}
		quote := i + n
		start := quote + len(mark)
		end := bytes.IndexByte(src[start:], '"')
		if end < 0 {
			return nil, false
		}
		end += start
		// Behind a backslash it is text inside another string.
		escaped := quote > 0 && src[quote-1] == '\\'
		i = end
		if comma := bytes.Index(src[start:min(end, start+300)], []byte(";base64,")); comma >= 0 && !escaped {
			start += comma + len(";base64,")
			if end-start < leastData {
				continue
			}
			if bytes.IndexByte(src[start:end], '\\') >= 0 {
				return nil, false
			}
			all = append(all, data{quote, start, end})
		}
	}
}

// without returns a text with its data left out.
func without(src []byte, all []data) []byte {
	size := len(src)
	for _, d := range all {
		size -= d.end - d.start
	}
	out := make([]byte, 0, size)
	at := 0
	for _, d := range all {
		out = append(out, src[at:d.start]...)
		at = d.end
	}
	return append(out, src[at:]...)
}

// placer turns places in a text without its data into those in the whole text.
type placer []data

// place moves spans.
func (all placer) place(spans ...*scene.Span) {
	for _, s := range spans {
		s.Start, s.End = uint32(all.whole(int(s.Start))), uint32(all.whole(int(s.End)))
	}
}

// whole returns the offset in the whole text. No span that counts begins where
// data was left out, but one may end there: it ends behind the data.
func (all placer) whole(i int) int {
	for _, d := range all {
		if i < d.start {
			break
		}
		i += d.end - d.start
	}
	return i
}

// moved returns where data is after an edit that touches none of it.
func moved(all []data, e *scene.Edit, shift int) []data {
	out := slices.Clone(all)
	for i := range out {
		if d := &out[i]; d.quote > e.End {
			d.quote, d.start, d.end = d.quote+shift, d.start+shift, d.end+shift
		}
	}
	return out
}

// isBase64 reports whether text holds digits of base64 and nothing else.
func isBase64(text []byte) bool {
	for _, c := range text {
		switch {
		case 'A' <= c && c <= 'Z', 'a' <= c && c <= 'z', '0' <= c && c <= '9', c == '+', c == '/':
		default:
			return false
		}
	}
	return true
}
