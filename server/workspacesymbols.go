package server

import (
	"context"
	"sort"
	"strconv"
	"strings"

	"go.lsp.dev/protocol"

	"curvelint/diagnostics/words"
	"curvelint/parse/scene"
	"curvelint/server/workspace"
)

// maxFound bounds the answer to one query.
const maxFound = 256

// Symbols finds frames and parts in the open scenes: a number finds the keys
// on that frame, anything else the parts whose path holds the letters of the
// query in their order.
func (s *Server) Symbols(ctx context.Context, p *protocol.WorkspaceSymbolParams) (protocol.WorkspaceSymbolResult, error) {
	var list protocol.SymbolInformationSlice
	query := strings.TrimSpace(p.Query)
	frame, err := strconv.ParseFloat(query, 64)
	isFrame := err == nil
	for _, d := range s.snapshot(ctx).Docs() {
		if d.IsConfig() {
			continue
		}
		shot, err := s.session.Shot(ctx, d)
		if err != nil {
			return nil, err
		}
		if isFrame {
			list = append(list, s.framesFound(shot, frame)...)
		}
		list = append(list, s.partsFound(shot, query)...)
	}
	return list[:min(len(list), maxFound)], nil
}

// framesFound returns the keys on a frame, one for each line that holds some,
// those of parts that matter more first.
func (s *Server) framesFound(shot *workspace.Shot, frame float64) []protocol.SymbolInformation {
	var list []protocol.SymbolInformation
	seen := map[int]bool{}
	for id := range shot.Scene.Channels {
		c := &shot.Scene.Channels[id]
		i := sort.SearchFloat64s(c.Curve.Times, frame)
		if i == len(c.Curve.Times) || c.Curve.Times[i] != frame || c.Curve.Spans == nil {
			continue
		}
		at := shot.Scene.KeySpan(scene.ChannelID(id), i, 0)
		line := shot.Lookup.Index(at.File).Line(int(at.Start))
		if key := line<<8 | int(at.File); seen[key] {
			continue
		} else {
			seen[key] = true
		}
		info := protocol.SymbolInformation{Location: s.location(shot, at)}
		info.Name = words.Frame(frame) + " " + shot.Scene.Parts[c.Part].Name + " " + c.Name
		info.Kind = protocol.SymbolKindKey
		info.ContainerName = new(shot.Scene.Parts[c.Part].Path)
		if list = append(list, info); len(list) == maxFound {
			break
		}
	}
	return list
}

// partsFound returns the parts that match a query, the best first.
func (s *Server) partsFound(shot *workspace.Shot, query string) []protocol.SymbolInformation {
	type match struct{ id, rank int }
	var matches []match
	for id := range shot.Scene.Parts {
		if rank := matchRank(&shot.Scene.Parts[id], query); rank > 0 {
			matches = append(matches, match{id, rank})
		}
	}
	sort.SliceStable(matches, func(i, j int) bool { return matches[i].rank < matches[j].rank })
	var list []protocol.SymbolInformation
	for _, m := range matches[:min(len(matches), maxFound)] {
		p := &shot.Scene.Parts[m.id]
		info := protocol.SymbolInformation{Location: s.location(shot, inner(p.NameSpan, p.Def))}
		info.Name, info.Kind = p.Name, kindOf(p)
		info.ContainerName = new(p.Path)
		list = append(list, info)
	}
	return list
}

// matchRank says how well a part matches a query: 1 for its name, 2 for the
// beginning of its name, 3 for letters within the name, 4 for letters of its
// path in their order, 0 not at all.
func matchRank(p *scene.Part, query string) int {
	name, path, query := strings.ToLower(p.Name), strings.ToLower(p.Path), strings.ToLower(query)
	switch {
	case name == query:
		return 1
	case strings.HasPrefix(name, query):
		return 2
	case strings.Contains(name, query):
		return 3
	case holdsLetters(path, query):
		return 4
	}
	return 0
}

// holdsLetters reports whether the letters of query occur in text in their
// order.
func holdsLetters(text, query string) bool {
	for _, r := range query {
		i := strings.IndexRune(text, r)
		if i < 0 {
			return false
		}
		text = text[i+len(string(r)):]
	}
	return true
}
