package server

import "go.lsp.dev/uri"

// chartArguments say what a chart shows: a part of a scene over a range of
// frames.
type chartArguments struct {
	URI   uri.URI `json:"uri"`
	Part  string  `json:"part"`
	First float64 `json:"first"`
	Last  float64 `json:"last"`
}
