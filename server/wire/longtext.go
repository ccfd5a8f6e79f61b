package wire

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"math/bits"
	"strconv"
	"sync"
	"unicode/utf8"

	"go.lsp.dev/protocol"
)

// longMessage is how long a message must be, in bytes, for its text to be taken out.
const longMessage = 64 << 10

// LongTexts holds the text of the last didOpen message while the rest of the
// message goes its way: the text of a large file takes several times longer
// through two JSON decoders than it takes to copy. In the message a mark stands
// for it. The zero value is ready for use.
type LongTexts struct {
	mu   sync.Mutex
	turn int
	mark string
	text []byte
}

// cut takes the text out of a didOpen message and returns what is left of the
// message. ok is false, and the message as it was, for anything but plain,
// valid JSON. If own is true the message may be written over.
func (t *LongTexts) cut(message []byte, own bool) (rest []byte, ok bool) {
	if !opens(message) {
		return message, false
	}
	at := textMember(message)
	if at < 0 {
		return message, false
	}
	end, ok := stringEnd(message, at)
	if !ok {
		return message, false
	}
	t.mu.Lock()
	defer t.mu.Unlock()
	t.turn++
	t.mark = fmt.Sprintf("text %d, taken out", t.turn)
	rest = strconv.AppendQuote(bytes.Clone(message[:at]), t.mark)
	rest = append(rest, message[end:]...)
	raw := message[at+1 : end-1]
	if !own {
		raw = bytes.Clone(raw)
	}
	t.text = fitting(unquoted(raw))
	return rest, true
}

// opens reports whether a message says near its beginning that it is didOpen.
func opens(message []byte) bool {
	const head = 256
	_, rest, _ := bytes.Cut(message[:min(len(message), head)], []byte(`"method"`))
	rest = bytes.TrimLeft(rest, " \t\r\n:")
	return bytes.HasPrefix(rest, []byte(`"`+protocol.MethodTextDocumentDidOpen+`"`))
}

// Waits reports whether there may be a text for a message with these params: where
// it was taken out, not much is left of them.
func (t *LongTexts) Waits(params []byte) bool { return t != nil && len(params) <= longMessage }

// Take gives the text for which a mark stands in a message, once.
func (t *LongTexts) Take(mark string) (text []byte, ok bool) {
	t.mu.Lock()
	defer t.mu.Unlock()
	if t.mark == "" || mark != t.mark {
		return nil, false
	}
	text, t.text, t.mark = t.text, nil, ""
	return text, true
}

// textMember returns where the string begins that is the value of the first
// member called text; -1 when it cannot be told at a glance.
func textMember(data []byte) int {
	name := []byte(`"text"`)
	for i := 0; ; {
		n := bytes.Index(data[i:], name)
		if n < 0 || bytes.IndexByte(data[i:i+n], '\\') >= 0 {
			return -1 // perhaps text inside a string
		}
		i += n + len(name)
		rest := bytes.TrimLeft(data[i:], " \t\r\n")
		if len(rest) == 0 || rest[0] != ':' {
			continue
		}
		if rest = bytes.TrimLeft(rest[1:], " \t\r\n"); len(rest) > 0 && rest[0] == '"' {
			return len(data) - len(rest)
		}
		return -1
	}
}

// stringEnd returns the offset behind the JSON string that begins at data[at];
// ok is false for one that is not valid, or holds a pair of escapes for one
// character.
func stringEnd(data []byte, at int) (end int, ok bool) {
	beyond := false // ASCII
	for i := at + 1; i < len(data); {
		if i+8 <= len(data) {
			k := bits.TrailingZeros64(special(binary.LittleEndian.Uint64(data[i:]))) / 8
			if i += k; k == 8 {
				continue
			}
		}
		switch c := data[i]; {
		case c == '"':
			return i + 1, !beyond || utf8.Valid(data[at:i])
		case c < 0x20:
			return 0, false
		case c == '\\':
			_, long := unescaped(data[i:])
			if long == 0 {
				return 0, false
			}
			i += long
		default:
			beyond = beyond || c >= utf8.RuneSelf
			i++
		}
	}
	return 0, false
}

// special marks the first of eight bytes, the lowest first, that is a quote, a
// backslash, a control character or beyond ASCII; bytes behind it may be marked
// wrongly.
func special(x uint64) uint64 {
	const low, high = 0x0101010101010101, 0x8080808080808080
	quote, slash := x^low*'"', x^low*'\\'
	return (x | (x-low*0x20)&^x | (quote-low)&^quote | (slash-low)&^slash) & high
}

// unquoted resolves the escapes of a string, all of them valid, in place.
func unquoted(raw []byte) []byte {
	n := 0
	for i := 0; ; {
		stretch := bytes.IndexByte(raw[i:], '\\')
		if stretch < 0 {
			return raw[:n+copy(raw[n:], raw[i:])]
		}
		n += copy(raw[n:], raw[i:i+stretch])
		i += stretch
		r, long := unescaped(raw[i:])
		n = len(utf8.AppendRune(raw[:n], r)) // shorter than its escape
		i += long
	}
}

// fitting returns a text in no much larger room than it needs.
func fitting(text []byte) []byte {
	if len(text) < cap(text)/4*3 {
		return bytes.Clone(text)
	}
	return text
}

// unescaped returns the character of the escape that src begins with and how
// long the escape is; 0 for what is no escape of one character.
func unescaped(src []byte) (r rune, long int) {
	if len(src) < 2 {
		return 0, 0
	}
	switch c := src[1]; c {
	case '"', '\\', '/':
		return rune(c), 2
	case 'n':
		return '\n', 2
	case 'r':
		return '\r', 2
	case 't':
		return '\t', 2
	case 'b':
		return '\b', 2
	case 'f':
		return '\f', 2
	case 'u':
		if len(src) < 6 {
			return 0, 0
		}
		v, err := strconv.ParseUint(string(src[2:6]), 16, 16)
		if err == nil && utf8.ValidRune(rune(v)) { // else one half of a pair
			return rune(v), 6
		}
	}
	return 0, 0
}
