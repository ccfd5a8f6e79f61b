package text

import (
	"bytes"
	"fmt"
	"sort"
)

// bom is the byte-order mark in UTF-8. At the start of a text it has no width:
// editors keep it out of the text that they show and send.
const bom = "\uFEFF"

// Index knows where the lines of a text start. A line ends with LF, CR LF or a
// lone CR, as in the Language Server Protocol; what follows the last line end
// is a line too, even if empty. An Index never changes and is safe for
// concurrent use.
type Index struct {
	src    []byte
	starts []uint32 // starts[0] is 0
}

// NewIndex returns the line index of src, which must not change afterwards and
// must be shorter than 4 GiB.
func NewIndex(src []byte) *Index {
	starts := make([]uint32, 1, 2+len(src)/400)
	return &Index{src: src, starts: appendStarts(starts, src, 0, len(src))}
}

// appendStarts appends the line starts s with from < s <= to.
func appendStarts(starts []uint32, src []byte, from, to int) []uint32 {
	for i := from; i < to; {
		lf := bytes.IndexByte(src[i:to], '\n')
		if lf < 0 {
			lf = to - i
		}
		segment := src[i : i+lf]
		for {
			cr := bytes.IndexByte(segment, '\r')
			if cr < 0 {
				break
			}
			i += cr + 1
			segment = segment[cr+1:]
			if i == len(src) || src[i] != '\n' {
				starts = append(starts, uint32(i))
			}
		}
		i += len(segment)
		if i < to {
			i++
			starts = append(starts, uint32(i))
		}
	}
	return starts
}

// Text returns the text of the index. It must not be changed.
func (x *Index) Text() []byte { return x.src }

// Lines returns the number of lines, at least 1.
func (x *Index) Lines() int { return len(x.starts) }

// Line returns the zero-based line that holds the byte at offset, clamped to
// the text.
func (x *Index) Line(offset int) int {
	n := sort.Search(len(x.starts), func(i int) bool { return int(x.starts[i]) > offset })
	return max(n-1, 0)
}

// Bounds returns the offsets of the first byte of a line and of its end, its
// line end not included. A byte-order mark belongs to no line. A line outside
// the text gives an empty range at its end.
func (x *Index) Bounds(line int) (start, end int) {
	if line < 0 || line >= len(x.starts) {
		return len(x.src), len(x.src)
	}
	start, end = int(x.starts[line]), len(x.src)
	if line+1 < len(x.starts) {
		end = int(x.starts[line+1])
		if x.src[end-1] == '\n' {
			end--
		}
		if end > start && x.src[end-1] == '\r' {
			end--
		}
	}
	if line == 0 && bytes.HasPrefix(x.src, []byte(bom)) {
		start = len(bom)
	}
	return start, max(start, end)
}

// Update returns the index of the text with the bytes [start, end) replaced by
// text. Only the replaced part is searched for lines again; the old index
// keeps the old text.
func (x *Index) Update(start, end int, text []byte) (*Index, error) {
	if start < 0 || end < start || end > len(x.src) {
		return nil, fmt.Errorf("the edit replaces bytes %d to %d of a text of %d bytes", start, end, len(x.src))
	}
	src := make([]byte, 0, len(x.src)-(end-start)+len(text))
	src = append(append(append(src, x.src[:start]...), text...), x.src[end:]...)

	// Whether a line starts at s depends on the bytes at s-1 and s alone.
	kept := sort.Search(len(x.starts), func(i int) bool { return int(x.starts[i]) >= start })
	tail := sort.Search(len(x.starts), func(i int) bool { return int(x.starts[i]) > end })
	kept = max(kept, 1)
	starts := make([]uint32, kept, len(x.starts)+8)
	copy(starts, x.starts)
	starts = appendStarts(starts, src, max(start-1, 0), start+len(text))
	shift := len(text) - (end - start)
	for _, s := range x.starts[max(tail, 1):] {
		starts = append(starts, uint32(int(s)+shift))
	}
	return &Index{src: src, starts: starts}, nil
}
