package show

import (
	"encoding/json"

	"go.lsp.dev/jsonrpc2"
	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"
)

// The commands that a client may have executed.
const (
	CommandFrame   = "curvelint.goToFrame"
	CommandExplain = "curvelint.explain"
	CommandCopy    = "curvelint.copyNumbers"
	CommandFix     = "curvelint.fix"
	CommandReveal  = "curvelint.reveal"
	CommandCompare = "curvelint.compare"
	CommandChart   = "curvelint.showChart"
	CommandPage    = "curvelint.openPage"
)

// FrameArguments say where to go: to a display frame of a scene, of a part if one
// is named.
type FrameArguments struct {
	URI   uri.URI `json:"uri"`
	Frame float64 `json:"frame"`
	Part  string  `json:"part"`
}

// ExplainArguments name a check.
type ExplainArguments struct {
	Check string `json:"check"`
}

// CopyArguments hold numbers to retype.
type CopyArguments struct {
	Text string `json:"text"`
}

// FixArguments name a fix of a note on a version of a scene.
type FixArguments struct {
	URI     uri.URI  `json:"uri"`
	Version int32    `json:"version"`
	Note    NoteData `json:"note"`
	Fix     string   `json:"fix"`
}

// CompareArguments name a scene. A client that shows the answer by itself is
// quiet.
type CompareArguments struct {
	URI   uri.URI `json:"uri"`
	Quiet bool    `json:"quiet"`
}

// ChartArguments say what to draw: a kind of chart of a part, from one display
// frame to another; without frames, the whole clip; with a position instead of a
// part, the move that is written there. A client that shows the picture by itself
// is quiet.
type ChartArguments struct {
	URI   uri.URI `json:"uri"`
	Part  string  `json:"part"`
	Kind  string  `json:"kind"`
	First float64 `json:"first"`
	Last  float64 `json:"last"`
	Dark  bool    `json:"dark"`
	Quiet bool    `json:"quiet"`

	Position *protocol.Position `json:"position,omitempty"`
}

// PageArguments name a scene and, perhaps, where its page opens: at a display
// frame, with a part or a note chosen.
type PageArguments struct {
	URI   uri.URI `json:"uri"`
	Frame float64 `json:"frame"`
	Part  string  `json:"part"`
	Check string  `json:"check"`
}

// ReadArguments reads the argument of a command, or the data of an action. The error
// says what was expected.
func ReadArguments(raw []byte, into any, expected string) error {
	if err := json.Unmarshal(raw, into); err != nil {
		return jsonrpc2.Errorf(jsonrpc2.InvalidParams, "expected %s: %v", expected, err)
	}
	return nil
}
