package xmlscan

import (
	"bytes"
	"strconv"
	"strings"
	"unicode/utf8"

	"curvelint/parse/scene"
)

// Unescape returns the bytes [start, end) as text: references to the five
// entities of XML and to characters resolved, characters of ISO 8859-1 files
// and invalid bytes made valid UTF-8. Other references are a problem and stay
// as they are written.
func (r *Reader) Unescape(start, end int) string {
	raw := r.src[start:end]
	if bytes.IndexByte(raw, '&') < 0 {
		return r.valid(raw, start)
	}
	var b strings.Builder
	for len(raw) > 0 {
		amp := bytes.IndexByte(raw, '&')
		if amp < 0 {
			amp = len(raw)
		}
		b.WriteString(r.valid(raw[:amp], end-len(raw)))
		if raw = raw[amp:]; len(raw) == 0 {
			break
		}
		at := end - len(raw)
		char, n := reference(raw)
		if n == 0 {
			n = r.unknownReference(raw, at)
			b.WriteString(r.valid(raw[:n], at))
		} else {
			b.WriteRune(char)
		}
		raw = raw[n:]
	}
	return b.String()
}

// unknownReference reports the reference that begins raw, at offset at, and
// returns its length.
func (r *Reader) unknownReference(raw []byte, at int) int {
	n := 1
	for n < len(raw) && (nameByte[raw[n]] || raw[n] == '#') {
		n++
	}
	if n < len(raw) && raw[n] == ';' && n > 1 {
		n++
		r.problem(scene.Syntax, at, at+n, "expected one of &lt; &gt; &amp; &quot; &apos; or a character number, found %.40s; entities that a file declares itself are not expanded", raw[:n])
		return n
	}
	r.problem(scene.Syntax, at, at+n, "expected a reference such as &lt; after '&'; write &amp; for the sign itself")
	return n
}

// reference returns the character that the reference at the start of raw
// stands for and the reference's length, 0 if it is none that XML knows by
// itself.
func reference(raw []byte) (char rune, n int) {
	const longest = len("&#x0010FFFF;")
	semi := bytes.IndexByte(raw[:min(len(raw), longest)], ';')
	if semi < 2 {
		return 0, 0
	}
	switch name := string(raw[1:semi]); {
	case name == "lt":
		char = '<'
	case name == "gt":
		char = '>'
	case name == "amp":
		char = '&'
	case name == "quot":
		char = '"'
	case name == "apos":
		char = '\''
	case name[0] == '#':
		digits, base := name[1:], 10
		if strings.HasPrefix(digits, "x") {
			digits, base = digits[1:], 16
		}
		v, err := strconv.ParseUint(digits, base, 32)
		if err != nil || v == 0 || v > utf8.MaxRune || !utf8.ValidRune(rune(v)) {
			return 0, 0
		}
		char = rune(v)
	default:
		return 0, 0
	}
	return char, semi + 1
}

// valid returns raw, which stands at offset at, as UTF-8.
func (r *Reader) valid(raw []byte, at int) string {
	if utf8.Valid(raw) {
		return string(raw)
	}
	if r.latin1 {
		runes := make([]rune, len(raw))
		for i, c := range raw {
			runes[i] = rune(c)
		}
		return string(runes)
	}
	if !r.sawEncoded {
		r.sawEncoded = true
		r.problem(scene.Syntax, at, at+len(raw), "expected text in UTF-8, found other bytes; they are shown as \uFFFD here and wherever they occur")
	}
	return strings.ToValidUTF8(string(raw), "\uFFFD")
}

// Numbers returns the text of the bytes [start, end) of an escaped token for
// reading numbers in place: a copy, as long as the range and with every byte
// at its old place, in which references to white space have become spaces.
// Other references stay, for the reader of numbers to complain about.
func (r *Reader) Numbers(start, end int) []byte {
	text := append([]byte(nil), r.src[start:end]...)
	for i := 0; i < len(text); {
		amp := bytes.IndexByte(text[i:], '&')
		if amp < 0 {
			break
		}
		i += amp
		char, n := reference(text[i:])
		if n == 0 || char >= utf8.RuneSelf || !isSpace(byte(char)) {
			i++
			continue
		}
		for j := range n {
			text[i+j] = ' '
		}
	}
	return text
}
