package text

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"unicode/utf16"
	"unicode/utf8"
)

// Decode returns the text of a file as UTF-8. A file in UTF-8 is returned as
// it is, byte-order mark included. UTF-16 and UTF-32 are known by their
// byte-order mark, UTF-16 without one by a first character in ASCII (as XML
// requires); they are decoded without the mark, and decoded is true. Half
// characters become U+FFFD; a file that ends inside a character gives an error
// beside the text read so far.
func Decode(raw []byte) (text []byte, decoded bool, err error) {
	switch {
	case bytes.HasPrefix(raw, []byte{0xFF, 0xFE, 0, 0}):
		text, err = decode32(raw[4:], binary.LittleEndian)
	case bytes.HasPrefix(raw, []byte{0, 0, 0xFE, 0xFF}):
		text, err = decode32(raw[4:], binary.BigEndian)
	case bytes.HasPrefix(raw, []byte{0xFF, 0xFE}):
		text, err = decode16(raw[2:], binary.LittleEndian)
	case bytes.HasPrefix(raw, []byte{0xFE, 0xFF}):
		text, err = decode16(raw[2:], binary.BigEndian)
	case len(raw) >= 4 && isText(raw[0]) && raw[1] == 0 && isText(raw[2]) && raw[3] == 0:
		text, err = decode16(raw, binary.LittleEndian)
	case len(raw) >= 4 && raw[0] == 0 && isText(raw[1]) && raw[2] == 0 && isText(raw[3]):
		text, err = decode16(raw, binary.BigEndian)
	default:
		return raw, false, nil
	}
	return text, true, err
}

// isText reports whether c is a byte of ASCII text.
func isText(c byte) bool {
	return ' ' <= c && c < 0x7F || c == '\t' || c == '\n' || c == '\r'
}

func decode16(raw []byte, order binary.ByteOrder) ([]byte, error) {
	out := make([]byte, 0, len(raw)/2+len(raw)/16)
	n := len(raw) &^ 1
	for i := 0; i < n; i += 2 {
		r := rune(order.Uint16(raw[i:]))
		if r < utf8.RuneSelf {
			out = append(out, byte(r))
			continue
		}
		if utf16.IsSurrogate(r) {
			low := rune(utf8.RuneError)
			if i+2 < n {
				low = rune(order.Uint16(raw[i+2:]))
			}
			if r = utf16.DecodeRune(r, low); r != utf8.RuneError {
				i += 2
			}
		}
		out = utf8.AppendRune(out, r)
	}
	if n < len(raw) {
		return out, fmt.Errorf("the file is in UTF-16 but has an odd number of bytes; export it again, as UTF-8 if possible")
	}
	return out, nil
}

func decode32(raw []byte, order binary.ByteOrder) ([]byte, error) {
	out := make([]byte, 0, len(raw)/4+len(raw)/32)
	n := len(raw) &^ 3
	for i := 0; i < n; i += 4 {
		// AppendRune writes U+FFFD for what is no code point.
		out = utf8.AppendRune(out, rune(int32(order.Uint32(raw[i:]))))
	}
	if n < len(raw) {
		return out, fmt.Errorf("the file is in UTF-32 but its size is no multiple of 4 bytes; export it again, as UTF-8 if possible")
	}
	return out, nil
}
