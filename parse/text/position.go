package text

import (
	"encoding/binary"
	"fmt"
	"unicode/utf8"
)

// Encoding is the unit in which columns are counted.
type Encoding uint8

// The encodings of LSP 3.17: bytes, UTF-16 code units, code points. A byte
// that is no valid UTF-8 counts as one unit in all of them.
const (
	UTF8 Encoding = iota
	UTF16
	UTF32
)

// String returns the encoding's name in LSP.
func (e Encoding) String() string { return [...]string{"utf-8", "utf-16", "utf-32"}[e%3] }

// Position is a place in a text, both numbers from zero.
type Position struct {
	Line, Column int
}

// Offset returns the byte offset of pos, whose column counts in enc. A column
// in the middle of a character gives the character's first byte. A position
// outside the text is an error; the offset is then the nearest one inside: the
// end of the line for a column beyond it (what LSP asks for), the start or end
// of the text for a line that does not exist.
func (x *Index) Offset(pos Position, enc Encoding) (int, error) {
	if pos.Line < 0 {
		return 0, fmt.Errorf("line %d is before the first line, which is 0", pos.Line)
	}
	if pos.Line >= len(x.starts) {
		return len(x.src), fmt.Errorf("line %d is outside the text, whose last line is %d", pos.Line, len(x.starts)-1)
	}
	start, end := x.Bounds(pos.Line)
	if pos.Column < 0 {
		return start, fmt.Errorf("column %d of line %d is before the first column, which is 0", pos.Column, pos.Line)
	}
	offset, left := advance(x.src, start, end, pos.Column, enc)
	if left > 0 {
		return end, fmt.Errorf("column %d is outside line %d, whose end is column %d", pos.Column, pos.Line, pos.Column-left)
	}
	return offset, nil
}

// advance goes n units of enc forward from offset i, at most to end, and
// returns where it stopped and how many units were left.
func advance(src []byte, i, end, n int, enc Encoding) (offset, left int) {
	if ascii := min(n, end-i); enc == UTF8 || isASCII(src[i:i+ascii]) {
		i += ascii
		for enc == UTF8 && i < end && i > 0 && !utf8.RuneStart(src[i]) && midRune(src, i) {
			i--
		}
		return i, n - ascii
	}
	for n > 0 && i < end {
		r, size := utf8.DecodeRune(src[i:end])
		w := width(r, enc)
		if w > n {
			return i, 0
		}
		n -= w
		i += size
	}
	return i, n
}

// midRune reports whether offset i lies inside a valid character.
func midRune(src []byte, i int) bool {
	for back := 1; back < utf8.UTFMax && back <= i; back++ {
		if utf8.RuneStart(src[i-back]) {
			_, size := utf8.DecodeRune(src[i-back:])
			return size > back
		}
	}
	return false
}

// width returns the number of units of a character in UTF-16 or UTF-32.
func width(r rune, enc Encoding) int {
	if enc == UTF16 && r > 0xFFFF {
		return 2
	}
	return 1
}

func isASCII(b []byte) bool {
	for ; len(b) >= 8; b = b[8:] {
		if binary.LittleEndian.Uint64(b)&0x8080808080808080 != 0 {
			return false
		}
	}
	for _, c := range b {
		if c >= utf8.RuneSelf {
			return false
		}
	}
	return true
}

// Position returns the position of a byte offset, its column counted in enc.
// An offset inside a character gives the character's position, one inside a
// line end the end of its line. An offset outside the text is an error; the
// position is then the nearest one inside.
func (x *Index) Position(offset int, enc Encoding) (Position, error) {
	var err error
	if offset < 0 || offset > len(x.src) {
		err = fmt.Errorf("offset %d is outside the text of %d bytes", offset, len(x.src))
		offset = min(max(offset, 0), len(x.src))
	}
	line := x.Line(offset)
	start, end := x.Bounds(line)
	offset = min(max(offset, start), end)
	if offset < end && midRune(x.src, offset) {
		for !utf8.RuneStart(x.src[offset]) {
			offset--
		}
	}
	b := x.src[start:offset]
	if enc == UTF8 || isASCII(b) {
		return Position{line, len(b)}, err
	}
	column := 0
	for len(b) > 0 {
		r, size := utf8.DecodeRune(b)
		column += width(r, enc)
		b = b[size:]
	}
	return Position{line, column}, err
}
