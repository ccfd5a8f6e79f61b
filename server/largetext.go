package server

import (
	"bytes"
	"context"
	"encoding/binary"
	"math/bits"
	"strconv"
	"unicode/utf8"

	"go.lsp.dev/jsonrpc2"
	"go.lsp.dev/protocol"
)

// longMessage is how long a message with a text must be to be read by openParams.
const longMessage = 64 << 10

// large answers messages that are large itself, with less copying than the
// library does, and leaves all else to h.
func (s *Server) large(h jsonrpc2.Handler) jsonrpc2.Handler {
	return func(ctx context.Context, req *jsonrpc2.Request) (any, error) {
		params := req.Params()
		switch req.Method() {
		case protocol.MethodTextDocumentDidOpen:
			if len(params) < longMessage {
				break
			}
			if p, text, ok := openParams(params); ok {
				s.opened(p.TextDocument.URI, p.TextDocument.Version, text)
				return nil, nil
			}
		case protocol.MethodTextDocumentDocumentSymbol:
			var p protocol.DocumentSymbolParams
			if !s.can.nestedSymbols || protocol.Unmarshal(params, &p) != nil {
				break // the library says what is wrong
			}
			tree, err := s.symbols(ctx, &p)
			if tree == nil {
				return nil, err
			}
			return tree, nil
		}
		return h(ctx, req)
	}
}

// openParams reads the parameters of didOpen, which hold a whole text, some
// times faster than the library does: the text is copied stretch by stretch
// between its escapes, the little around it is left to the library. The text is
// returned beside them. It returns false for anything but plain, valid JSON.
func openParams(data []byte) (p protocol.DidOpenTextDocumentParams, text []byte, ok bool) {
	const instead = "the text"
	at := textMember(data)
	if at < 0 {
		return p, nil, false
	}
	text, end, ok := unquoted(data, at)
	if !ok {
		return p, nil, false
	}
	rest := make([]byte, 0, len(data)-(end-at)+len(instead)+2)
	rest = append(append(append(rest, data[:at]...), `"`+instead+`"`...), data[end:]...)
	// Where it comes out is where it stood.
	if protocol.Unmarshal(rest, &p) != nil || p.TextDocument.Text != instead {
		return p, nil, false
	}
	p.TextDocument.Text = ""
	return p, text, true
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

// unquoted returns what a JSON string that begins at data[at] says, and where
// it ends; ok is false for one that is not valid, or holds a pair of escapes
// for one character.
func unquoted(data []byte, at int) (text []byte, end int, ok bool) {
	i, n := at+1, 0
	dst := make([]byte, len(data)-i) // what is written is never longer than what was read
	beyond := false                  // ASCII
	for i < len(data) {
		c := data[i]
		if i+8 <= len(data) {
			x := binary.LittleEndian.Uint64(data[i:])
			binary.LittleEndian.PutUint64(dst[n:], x)
			k := bits.TrailingZeros64(special(x)) / 8
			if i, n = i+k, n+k; k == 8 {
				continue
			}
			c = data[i]
		}
		switch {
		case c == '"':
			return fitting(dst[:n]), i + 1, !beyond || utf8.Valid(dst[:n])
		case c < 0x20:
			return nil, 0, false
		case c != '\\':
			dst[n] = c
			beyond = beyond || c >= utf8.RuneSelf
			i, n = i+1, n+1
			continue
		}
		before, long := n, 0
		if n, long = unescaped(dst, n, data[i:]); n == before {
			return nil, 0, false
		}
		i += long
	}
	return nil, 0, false
}

// fitting returns a text in no much larger room than it needs.
func fitting(text []byte) []byte {
	if len(text) < cap(text)/4*3 {
		return bytes.Clone(text)
	}
	return text
}

// special marks the first of eight bytes, the lowest first, that is a quote, a
// backslash, a control character or beyond ASCII; bytes behind it may be marked
// wrongly.
func special(x uint64) uint64 {
	const low, high = 0x0101010101010101, 0x8080808080808080
	quote, slash := x^low*'"', x^low*'\\'
	return (x | (x-low*0x20)&^x | (quote-low)&^quote | (slash-low)&^slash) & high
}

// unescaped writes the character of the escape that src begins with to dst[n:]
// and returns n behind it and how long the escape is; n stays for what is no
// escape of one character.
func unescaped(dst []byte, n int, src []byte) (behind, long int) {
	if len(src) < 2 {
		return n, 0
	}
	c := src[1]
	switch c {
	case '"', '\\', '/':
	case 'n':
		c = '\n'
	case 'r':
		c = '\r'
	case 't':
		c = '\t'
	case 'b':
		c = '\b'
	case 'f':
		c = '\f'
	case 'u':
		if len(src) < 6 {
			return n, 0
		}
		r, err := strconv.ParseUint(string(src[2:6]), 16, 16)
		if err != nil || !utf8.ValidRune(rune(r)) {
			return n, 0 // one half of a pair
		}
		return len(utf8.AppendRune(dst[:n], rune(r))), 6
	default:
		return n, 0
	}
	dst[n] = c
	return n + 1, 2
}
