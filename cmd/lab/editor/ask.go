package editor

import (
	"encoding/json"
	"slices"

	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"

	"curvelint/server/wire"
)

// Hover returns what a hover at a position says, "" for nothing.
func (e *Editor) Hover(u uri.URI, p protocol.Position) string {
	e.T.Helper()
	h, err := e.Server.Hover(e.T.Context(), &protocol.HoverParams{
		TextDocumentPositionParams: protocol.TextDocumentPositionParams{TextDocument: Doc(u), Position: p}})
	if err != nil {
		e.T.Fatal(err)
	}
	if h == nil {
		return ""
	}
	return h.Contents.(*protocol.MarkupContent).Value
}

// LensOver returns what the lens over a part's header says.
func (e *Editor) LensOver(u uri.URI, line int) string {
	e.T.Helper()
	list, err := e.Server.CodeLens(e.T.Context(), &protocol.CodeLensParams{TextDocument: Doc(u)})
	if err != nil {
		e.T.Fatal(err)
	}
	for i := range list {
		if list[i].Range.Start.Line == uint32(line) && len(list[i].Data) > 0 {
			l, err := e.Server.CodeLensResolve(e.T.Context(), &list[i])
			if err != nil {
				e.T.Fatal(err)
			}
			return l.Command.Title
		}
	}
	e.T.Fatalf("no lens on line %d", line+1)
	return ""
}

// Actions returns the actions at a note of a check.
func (e *Editor) Actions(u uri.URI, list []protocol.Diagnostic, check string) []*protocol.CodeAction {
	e.T.Helper()
	i := slices.IndexFunc(list, func(d protocol.Diagnostic) bool { return wire.CodeOf(&d) == check })
	if i < 0 {
		e.T.Fatalf("no %s among %v", check, Brief(list))
	}
	all, err := e.Server.CodeAction(e.T.Context(), &protocol.CodeActionParams{TextDocument: Doc(u), Range: list[i].Range,
		Context: protocol.CodeActionContext{Diagnostics: list[i : i+1]}})
	if err != nil {
		e.T.Fatal(err)
	}
	var out []*protocol.CodeAction
	for _, a := range all {
		if a, ok := a.(*protocol.CodeAction); ok && len(a.Diagnostics) > 0 && wire.CodeOf(&a.Diagnostics[0]) == check {
			out = append(out, a)
		}
	}
	return out
}

// Execute executes a command and reads its result.
func Execute[T any](e *Editor, command string, argument any) (result T) {
	e.T.Helper()
	raw, err := json.Marshal(argument)
	if err != nil {
		e.T.Fatal(err)
	}
	answer, err := e.Server.ExecuteCommand(e.T.Context(), &protocol.ExecuteCommandParams{Command: command, Arguments: []protocol.LSPAny{raw}})
	if err != nil {
		e.T.Fatalf("%s %s: %v", command, raw, err)
	}
	if err := json.Unmarshal(answer, &result); err != nil {
		e.T.Fatalf("%s %s: %v in %s", command, raw, err, answer)
	}
	return result
}
