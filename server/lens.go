package server

import (
	"context"
	"encoding/json"
	"fmt"
	"path/filepath"
	"strings"

	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"

	"curvelint/diagnostics/facts"
	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/passes"
	written "curvelint/diagnostics/passes/write"
	"curvelint/diagnostics/words"
	"curvelint/parse/scene"
	"curvelint/server/workspace"
)

// lensData names the part that a lens stands over, or the whole file.
type lensData struct {
	URI  uri.URI      `json:"uri"`
	Part scene.PartID `json:"part"`
	File bool         `json:"file,omitempty"`
}

// CodeLens puts a lens over each part that moves, and over the file what leads
// further. What a lens says is worked out when it comes into sight.
func (s *Server) CodeLens(ctx context.Context, p *protocol.CodeLensParams) ([]protocol.CodeLens, error) {
	if !s.prefers.Load().CodeLens {
		return nil, nil
	}
	shot, err := s.shot(ctx, p.TextDocument.URI)
	if shot == nil {
		return nil, err
	}
	list, err := s.fileLenses(shot)
	if err != nil {
		return nil, err
	}
	for id := range shot.Scene.Parts {
		part := &shot.Scene.Parts[id]
		if part.Def.File != 0 || !shot.Study.Moves(scene.PartID(id)) && len(shot.Study.Channels(scene.PartID(id))) == 0 {
			continue
		}
		data, err := json.Marshal(lensData{URI: p.TextDocument.URI, Part: scene.PartID(id)})
		if err != nil {
			return nil, err
		}
		list = append(list, protocol.CodeLens{Range: s.spanRange(shot.Lookup, inner(part.NameSpan, part.Def)), Data: data})
	}
	return list, nil
}

// CodeLensResolve says what a lens says: the notes on a part, its biggest move,
// and what changed since the earlier pass. It leads to where that move begins.
func (s *Server) CodeLensResolve(ctx context.Context, l *protocol.CodeLens) (*protocol.CodeLens, error) {
	var data lensData
	if err := json.Unmarshal(l.Data, &data); err != nil {
		return nil, fmt.Errorf("expected a lens of this server: %w", err)
	}
	shot, err := s.shot(ctx, data.URI)
	if err != nil {
		return nil, err
	}
	if shot == nil || !data.File && (data.Part < 0 || int(data.Part) >= len(shot.Scene.Parts)) {
		return nil, protocol.ErrContentModified
	}
	if data.File {
		l.Command, err = s.compareLens(ctx, shot)
		return l, err
	}
	title, first := lensText(shot, data.Part, s.sinceEarlier(ctx, shot))
	args, err := json.Marshal(frameArguments{data.URI, first, shot.Scene.Parts[data.Part].Path})
	if err != nil {
		return nil, err
	}
	l.Command = protocol.Command{Title: title, Command: commandFrame, Arguments: []protocol.LSPAny{args}}
	return l, nil
}

// lensText says what there is to say over a part, and the frame where its
// biggest move begins. Earlier is the comparison with the earlier pass, or nil.
func lensText(shot *workspace.Shot, id scene.PartID, earlier *passes.Comparison) (title string, first float64) {
	var said []string
	notes := 0
	for i := range shot.Notes {
		if shot.Notes[i].PartID == id {
			notes++
		}
	}
	if notes > 0 {
		said = append(said, words.Count(notes, "note"))
	}
	first = shot.Study.Frame(0)
	if m, ok := facts.Biggest(shot.Study, id); ok && shot.Study.NatureOf(id) == motion.Mechanical {
		said = append(said, runText(shot.Study, &m))
		first = shot.Study.Frame(m.First)
	} else if ok {
		said = append(said, "biggest move "+moveText(shot.Study, &m))
		if m.Track.Stepping() == 2 {
			said = append(said, "on twos")
		}
		if after, leader, ok := facts.StartIn(shot.Study, id, m.Peak); ok && after > 0 {
			said = append(said, fmt.Sprintf("starts %s after %s", words.Count(after, "frame"), leader))
		}
		if lag, ok := facts.LagAt(shot.Study, id, m.Peak); ok {
			said = append(said, words.Behind(lag, "its parent"))
		}
		first = shot.Study.Frame(m.First)
	}
	if earlier != nil {
		if change := sinceText(earlier, passes.PartChange(earlier, shot.Scene.Parts[id].Path)); change != "" {
			said = append(said, change)
		}
	}
	if len(said) == 0 {
		return "still", first
	}
	return strings.Join(said, "; "), first
}

// fileLenses are those over the first line: the page, and what changed since the
// earlier pass if there is one.
func (s *Server) fileLenses(shot *workspace.Shot) (list []protocol.CodeLens, err error) {
	if foreign(shot.Read) {
		return nil, nil
	}
	top := s.rangeOf(shot.Lookup.Index(0), 0, 0)
	if s.can.showDocument {
		args, err := json.Marshal(pageArguments{URI: shot.Doc.URI})
		if err != nil {
			return nil, err
		}
		list = append(list, protocol.CodeLens{Range: top, Command: protocol.Command{
			Title: "open as a page", Command: commandPage, Arguments: []protocol.LSPAny{args}}})
	}
	if _, ok := s.session.EarlierPath(shot.Doc); ok {
		data, err := json.Marshal(lensData{shot.Doc.URI, scene.NoPart, true})
		if err != nil {
			return nil, err
		}
		list = append(list, protocol.CodeLens{Range: top, Data: data})
	}
	return list, nil
}

// compareLens says in a few words what changed since the earlier pass, and leads
// to the rest.
func (s *Server) compareLens(ctx context.Context, shot *workspace.Shot) (protocol.Command, error) {
	path, _ := s.session.EarlierPath(shot.Doc)
	title := "compare with " + filepath.Base(path)
	if c := s.sinceEarlier(ctx, shot); c != nil {
		_, lines := written.Heading(c)
		// The timing and the notes; what changed most stands over its part.
		title = "since " + passName(c) + ": " + strings.Join(lines[:min(2, len(lines))], "; ")
	}
	args, err := json.Marshal(compareArguments{URI: shot.Doc.URI})
	return protocol.Command{Title: title, Command: commandCompare, Arguments: []protocol.LSPAny{args}}, err
}
