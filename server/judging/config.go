package judging

import (
	"context"

	"go.lsp.dev/protocol"

	"curvelint/diagnostics"
	"curvelint/parse/text"
	"curvelint/server/show"
	"curvelint/server/wire"
	"curvelint/server/workspace"
)

// followConfig tells the client in the background what is wrong with a
// curvelint.toml.
func (j *Judging) followConfig(path string) {
	j.client.Background.Go(func(context.Context) {
		u := j.session.URIOf(path)
		before := wire.Hash(j.ledger.notesOn(u))
		j.Config(path)
		if wire.Hash(j.ledger.notesOn(u)) != before {
			j.client.RefreshNotes()
		}
	})
}

// Config enters what is wrong with the curvelint.toml at path.
func (j *Judging) Config(path string) {
	j.configs.Lock() // so that the last one to look has seen the last state
	defer j.configs.Unlock()
	u := j.session.URIOf(path)
	cfg := j.session.ConfigAt(path)
	if cfg == nil {
		j.ledger.put(u, &entry{notes: byFile{u: nil}})
		return
	}
	x := text.NewIndex(cfg.File.Text)
	var list []protocol.Diagnostic
	for _, n := range diagnostics.ConfigNotes(cfg.File, j.ledger.usesOf(cfg)...) {
		list = append(list, show.ConfigDiagnostic(j.client, x, &n))
	}
	j.ledger.put(u, &entry{notes: byFile{u: list}, path: path})
}

// usesOf returns what became of a configuration's allowances in the scenes
// that it governs, or nothing as long as some scene in its folder has not been
// judged: an allowance may be for that one.
func (l *ledger) usesOf(cfg *workspace.Config) []*diagnostics.Uses {
	l.mu.Lock()
	defer l.mu.Unlock()
	judged := map[string]bool{}
	var uses []*diagnostics.Uses
	for _, e := range l.entries {
		if e.id != 0 && e.config == cfg && e.uses != nil {
			judged[e.path] = true
			uses = append(uses, e.uses)
		}
	}
	if !workspace.Governs(cfg.File.Path, judged) {
		return nil
	}
	return uses
}
