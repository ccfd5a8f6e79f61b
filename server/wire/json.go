package wire

import (
	"bytes"
	"strconv"

	"github.com/go-json-experiment/json/jsontext"
	"go.lsp.dev/protocol"
)

// JSON is an answer that is written already.
type JSON []byte

// AppendQuoted appends a JSON string.
func AppendQuoted(dst, text []byte) []byte {
	plain := true
	for _, c := range text {
		plain = plain && c >= 0x20 && c < 0x7F && c != '"' && c != '\\'
	}
	if plain {
		return append(append(append(dst, '"'), text...), '"')
	}
	dst, _ = jsontext.AppendQuote(dst, bytes.ToValidUTF8(text, []byte("\uFFFD"))) // which has no errors
	return dst
}

// AppendRange appends a range of the protocol.
func AppendRange(dst []byte, start, end protocol.Position) []byte {
	dst = appendPosition(append(dst, `{"start":`...), start)
	dst = appendPosition(append(dst, `,"end":`...), end)
	return append(dst, '}')
}

func appendPosition(dst []byte, p protocol.Position) []byte {
	dst = strconv.AppendUint(append(dst, `{"line":`...), uint64(p.Line), 10)
	dst = strconv.AppendUint(append(dst, `,"character":`...), uint64(p.Character), 10)
	return append(dst, '}')
}
