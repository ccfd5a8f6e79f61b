package server

import (
	"context"

	"go.lsp.dev/protocol"

	"curvelint/diagnostics"
	"curvelint/parse/text"
	"curvelint/server/workspace"
)

// judgeConfig tells the client in the background what is wrong with a
// curvelint.toml.
func (s *Server) judgeConfig(path string) {
	s.background(func(context.Context) {
		u := s.session.URIOf(path)
		before := hashOf(s.board.notesOn(u))
		s.judgeConfigNow(path)
		if hashOf(s.board.notesOn(u)) != before {
			s.refreshNotes()
		}
	})
}

// judgeConfigNow notes what is wrong with a curvelint.toml.
func (s *Server) judgeConfigNow(path string) {
	s.judging.Lock() // so that the last one to look has seen the last state
	defer s.judging.Unlock()
	u := s.session.URIOf(path)
	cfg := s.session.ConfigAt(path)
	if cfg == nil {
		s.board.put(u, &root{found: found{u: nil}})
		return
	}
	x := text.NewIndex(cfg.File.Text)
	var list []protocol.Diagnostic
	for _, n := range diagnostics.ConfigNotes(cfg.File, s.board.usesOf(cfg)...) {
		d := protocol.Diagnostic{
			Range:    s.rangeOf(x, int(n.Span.Start), int(n.Span.End)),
			Severity: severity(n.Severity),
			Code:     protocol.String(n.Check),
			Source:   protocol.NewOptional(source),
			Message:  protocol.String(n.Message),
		}
		if s.can.codeDescription {
			d.CodeDescription.Href = docURI(n.Check)
		}
		list = append(list, d)
	}
	s.board.put(u, &root{found: found{u: list}, path: path})
}

// usesOf returns what became of a configuration's allowances in the scenes
// that it governs, or nothing as long as some scene in its folder has not been
// judged: an allowance may be for that one.
func (b *board) usesOf(cfg *workspace.Config) []*diagnostics.Uses {
	b.mu.Lock()
	defer b.mu.Unlock()
	judged := map[string]bool{}
	var uses []*diagnostics.Uses
	for _, r := range b.roots {
		if r.id != 0 && r.config == cfg && r.uses != nil {
			judged[r.path] = true
			uses = append(uses, r.uses)
		}
	}
	if !workspace.Governs(cfg.File.Path, judged) {
		return nil
	}
	return uses
}
