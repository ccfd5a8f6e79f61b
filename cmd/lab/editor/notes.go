package editor

import (
	"fmt"
	"slices"

	"go.lsp.dev/protocol"

	"curvelint/server/wire"
)

// Brief returns the checks and lines (from 1) of diagnostics.
func Brief(list []protocol.Diagnostic) []string {
	out := []string{}
	for i := range list {
		out = append(out, wire.CodeOf(&list[i])+fmt.Sprintf(" %d", list[i].Range.Start.Line+1))
	}
	return out
}

// HasCode reports whether a check is among diagnostics.
func HasCode(list []protocol.Diagnostic, code string) bool {
	return slices.ContainsFunc(list, func(d protocol.Diagnostic) bool { return wire.CodeOf(&d) == code })
}
