package server

import (
	"context"
	"encoding/json"
	"fmt"
	"maps"
	"slices"

	"go.lsp.dev/jsonrpc2"
	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"

	"curvelint/diagnostics/words"
	"curvelint/server/workspace"
)

// The commands that a client may have executed.
const (
	commandFrame   = "curvelint.goToFrame"
	commandExplain = "curvelint.explain"
	commandCopy    = "curvelint.copyNumbers"
	commandFix     = "curvelint.fix"
	commandReveal  = "curvelint.reveal"
	commandCompare = "curvelint.compare"
	commandChart   = "curvelint.showChart"
	commandPage    = "curvelint.openPage"
)

// commands are the commands by name. Each is given its first argument.
var commands = map[string]func(*Server, context.Context, []byte) (any, error){
	commandFrame:   (*Server).goToFrame,
	commandExplain: (*Server).explain,
	commandCopy:    (*Server).copyNumbers,
	commandFix:     (*Server).applyFix,
	commandReveal:  (*Server).revealPlace,
	commandCompare: (*Server).compare,
	commandChart:   (*Server).showChart,
	commandPage:    (*Server).openPage,
}

// commandNames returns the commands that are of use to a client, in order. What
// is shown in a browser needs one that can open it.
func commandNames(can *abilities) []string {
	names := slices.Sorted(maps.Keys(commands))
	return slices.DeleteFunc(names, func(name string) bool {
		return !can.showDocument && (name == commandChart || name == commandPage || name == commandReveal)
	})
}

// ExecuteCommand executes a command.
func (s *Server) ExecuteCommand(ctx context.Context, p *protocol.ExecuteCommandParams) (protocol.LSPAny, error) {
	run := commands[p.Command]
	if run == nil {
		return nil, jsonrpc2.Errorf(jsonrpc2.InvalidParams, "unknown command %q", p.Command)
	}
	argument := []byte("{}")
	if len(p.Arguments) > 0 {
		argument = p.Arguments[0]
	}
	result, err := run(s, ctx, argument)
	if err != nil || result == nil {
		return nil, err
	}
	return protocol.Marshal(result)
}

// arguments reads the argument of a command.
func arguments(raw []byte, into any, expected string) error {
	if err := json.Unmarshal(raw, into); err != nil {
		return jsonrpc2.Errorf(jsonrpc2.InvalidParams, "expected %s: %v", expected, err)
	}
	return nil
}

// sceneOf returns the study of the open scene that a command is about.
func (s *Server) sceneOf(ctx context.Context, u uri.URI) (*workspace.Shot, error) {
	shot, err := s.shot(ctx, u)
	if err == nil && shot == nil {
		err = jsonrpc2.Errorf(jsonrpc2.InvalidParams, "%s is not an open scene", u)
	}
	return shot, err
}

// frameArguments say where to go: to a frame of a scene, of a part if one is
// named.
type frameArguments struct {
	URI   uri.URI `json:"uri"`
	Frame float64 `json:"frame"`
	Part  string  `json:"part"`
}

// goToFrame returns where the keys on a frame are, and shows them if the
// client lets the server do so.
func (s *Server) goToFrame(ctx context.Context, raw []byte) (any, error) {
	var a frameArguments
	if err := arguments(raw, &a, `{"uri": ..., "frame": 1040, "part": "/Tug/hips"}`); err != nil {
		return nil, err
	}
	shot, err := s.sceneOf(ctx, a.URI)
	if err != nil {
		return nil, err
	}
	for _, info := range s.framesFound(shot, a.Frame) {
		if a.Part == "" || info.ContainerName != nil && *info.ContainerName == a.Part {
			s.reveal(ctx, info.Location)
			return info.Location, nil
		}
	}
	return nil, fmt.Errorf("no key on frame %s", words.Frame(a.Frame))
}

// reveal shows a place if the client can be asked to.
func (s *Server) reveal(ctx context.Context, at protocol.Location) {
	if !s.can.showDocument {
		return
	}
	_, err := s.client.ShowDocument(ctx, &protocol.ShowDocumentParams{URI: at.URI, TakeFocus: new(true), Selection: &at.Range})
	s.logUnlessOver(ctx, err)
}

// copyArguments hold numbers to retype.
type copyArguments struct {
	Text string `json:"text"`
}

// copyNumbers shows numbers to retype. A client with a clipboard of its own
// puts them there instead of asking the server.
func (s *Server) copyNumbers(ctx context.Context, raw []byte) (any, error) {
	var a copyArguments
	if err := arguments(raw, &a, `{"text": ...}`); err != nil {
		return nil, err
	}
	err := s.client.ShowMessage(ctx, &protocol.ShowMessageParams{Type: protocol.MessageTypeInfo, Message: a.Text})
	return a, err
}

// applyFix makes a fix by itself, for clients that know actions only as
// commands.
func (s *Server) applyFix(ctx context.Context, raw []byte) (any, error) {
	a, err := s.CodeActionResolve(ctx, &protocol.CodeAction{Data: raw})
	if err != nil {
		return nil, err
	}
	if !s.can.applyEdit {
		return a.Edit, nil
	}
	return s.client.ApplyEdit(ctx, &protocol.ApplyWorkspaceEditParams{Edit: *a.Edit})
}

// revealPlace shows a place, such as the reason of an allowance just written.
func (s *Server) revealPlace(ctx context.Context, raw []byte) (any, error) {
	var at protocol.Location
	if err := protocol.Unmarshal(raw, &at); err != nil {
		return nil, jsonrpc2.Errorf(jsonrpc2.InvalidParams, "expected a location: %v", err)
	}
	s.reveal(ctx, at)
	return nil, nil
}
