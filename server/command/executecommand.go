package command

import (
	"context"
	"maps"
	"slices"

	"go.lsp.dev/jsonrpc2"
	"go.lsp.dev/protocol"

	"curvelint/server/show"
	"curvelint/server/wire"
)

// commands are the commands by name. Each is given its first argument.
var commands = map[string]func(*Commands, context.Context, []byte) (any, error){
	show.CommandFrame:   (*Commands).goToFrame,
	show.CommandExplain: (*Commands).explain,
	show.CommandCopy:    (*Commands).copyNumbers,
	show.CommandFix:     (*Commands).applyFix,
	show.CommandReveal:  (*Commands).revealPlace,
	show.CommandCompare: (*Commands).compare,
	show.CommandChart:   (*Commands).showChart,
	show.CommandPage:    (*Commands).openPage,
}

// Names returns the commands that are of use to a client, in order. What
// is shown in a browser needs one that can open it.
func Names(can *wire.Abilities) []string {
	names := slices.Sorted(maps.Keys(commands))
	return slices.DeleteFunc(names, func(name string) bool {
		return !can.ShowDocument && (name == show.CommandChart || name == show.CommandPage || name == show.CommandReveal)
	})
}

// ExecuteCommand executes a command.
func (c *Commands) ExecuteCommand(ctx context.Context, p *protocol.ExecuteCommandParams) (protocol.LSPAny, error) {
	run := commands[p.Command]
	if run == nil {
		return nil, jsonrpc2.Errorf(jsonrpc2.InvalidParams, "unknown command %q", p.Command)
	}
	argument := []byte("{}")
	if len(p.Arguments) > 0 {
		argument = p.Arguments[0]
	}
	result, err := run(c, ctx, argument)
	if err != nil || result == nil {
		return nil, err
	}
	return protocol.Marshal(result)
}
