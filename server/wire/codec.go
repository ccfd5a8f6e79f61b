package wire

import (
	"go.lsp.dev/jsonrpc2"
	"go.lsp.dev/protocol"
)

// Codec encodes what is sent and received. The protocol package has one of
// its own but does not export it.
type Codec struct{ jsonrpc2.JSONCodec }

// Marshal implements jsonrpc2.Codec.
func (Codec) Marshal(v any) ([]byte, error) {
	if written, ok := v.(JSON); ok {
		return written, nil
	}
	return protocol.Marshal(v)
}

// Unmarshal implements jsonrpc2.Codec.
func (Codec) Unmarshal(data []byte, v any) error { return protocol.Unmarshal(data, v) }
