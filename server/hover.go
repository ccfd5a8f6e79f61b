package server

import (
	"context"
	"fmt"

	"go.lsp.dev/protocol"

	"curvelint/diagnostics/facts"
	"curvelint/diagnostics/fixes"
	"curvelint/diagnostics/note"
	"curvelint/diagnostics/passes"
	"curvelint/diagnostics/words"
	"curvelint/parse/scene"
	"curvelint/server/workspace"
)

// Hover tells what there is to know of the key under the cursor; on a header,
// of the channel or part.
func (s *Server) Hover(ctx context.Context, p *protocol.HoverParams) (*protocol.Hover, error) {
	shot, err := s.shot(ctx, p.TextDocument.URI)
	if shot == nil {
		return nil, err
	}
	at := s.offset(shot.Doc.Index, p.Position)
	var h *sheet
	var where scene.Span
	if place, ok := shot.Lookup.KeyAt(0, at); ok {
		h, where = s.keyHover(ctx, shot, place), place.Span
	} else if id := shot.Lookup.HeaderAt(0, at); id != scene.NoPart {
		h, where = s.partHover(ctx, shot, id), shot.Scene.Parts[id].Def
	} else if c := channelOn(shot, at); c != nil {
		h, where = s.channelHover(ctx, shot, c), c.Def
	} else {
		return nil, nil
	}
	r := s.spanRange(shot.Lookup, where)
	return &protocol.Hover{Contents: s.markup(h), Range: &r}, nil
}

// keyHover writes what there is to know of a key.
func (s *Server) keyHover(ctx context.Context, shot *workspace.Shot, place workspace.Place) *sheet {
	c := &shot.Scene.Channels[place.Channel]
	frame := c.Curve.Times[place.Key]
	k := facts.At(shot.Study, place.Channel, frame)
	part := &shot.Scene.Parts[k.Part]
	h := &sheet{name: part.Name, beside: "frame " + words.Frame(frame) + ", " + valueText(c, &k, place.Component)}
	if k.HasWorld {
		h.fact("in the world at " + words.Point(k.World.X, k.World.Y, k.World.Z))
	}
	earlier := s.sinceEarlier(ctx, shot)
	h.picture = s.spacingPicture(shot, &k, earlier)
	bars := ""
	for i := range k.Tracks {
		o := &k.Tracks[i]
		if i > 0 && sameMotion(&k.Tracks[0], o) {
			continue // the part's own shift is what is seen in space
		}
		h.fact(trackLines(shot.Study, &k, i)...)
		if row := spacingBars(o, k.Index); row != "" && row != bars && h.picture == "" {
			h.facts = append(h.facts, sheetLine{code: row})
			bars = row
		}
	}
	if k.HasLag {
		h.fact(words.Behind(k.Lag, "its parent"))
	}
	if len(k.Starts) > 1 {
		h.fact(startsText(k.Starts))
	}
	if earlier != nil {
		h.fact(sinceText(earlier, passes.PartChangeAt(earlier, part.Path, frame)))
	}
	h.notes = noteLines(shot, earlier, func(n *note.Note) bool {
		return concerns(shot, n, k.Part) && n.First <= frame && frame <= n.Last
	})
	return h
}

// sameMotion reports whether two tracks say the same at a frame.
func sameMotion(a, b *facts.OnTrack) bool {
	return a.Track.Quality == b.Track.Quality && a.Before == b.Before && a.After == b.After &&
		a.Move.First == b.Move.First && a.Move.Last == b.Move.Last && a.Move.Length == b.Move.Length
}

// partHover writes what there is to know of a part as a whole.
func (s *Server) partHover(ctx context.Context, shot *workspace.Shot, id scene.PartID) *sheet {
	part := &shot.Scene.Parts[id]
	h := &sheet{name: part.Name, beside: part.Path}
	if m, ok := facts.Biggest(shot.Study, id); ok {
		h.fact("biggest move: " + moveText(shot.Study, &m))
	}
	if tl, ok := facts.TimelineOf(shot.Study, id); ok {
		h.fact(words.Count(len(tl.Moves), "move") + ", " + words.Count(len(tl.Holds), "hold"))
	}
	earlier := s.sinceEarlier(ctx, shot)
	if earlier != nil {
		h.fact(sinceText(earlier, passes.PartChange(earlier, part.Path)))
	}
	h.notes = noteLines(shot, earlier, func(n *note.Note) bool { return n.PartID == id })
	if earlier != nil {
		h.notes = append(h.notes, fixedLines(earlier, part.Path)...)
	}
	return h
}

// channelOn returns the channel whose header begins on the line of an offset, or
// nil.
func channelOn(shot *workspace.Shot, at int) *scene.Channel {
	id := shot.Lookup.ChannelAt(0, at)
	if id == scene.NoChannel {
		return nil
	}
	c := &shot.Scene.Channels[id]
	x := shot.Doc.Index
	if c.Def.File != 0 || c.Def.Empty() || c.Curve.Len() == 0 || x.Line(int(c.Def.Start)) != x.Line(at) {
		return nil
	}
	return c
}

// channelHover writes what there is to know of a channel: its keys, and its part.
func (s *Server) channelHover(ctx context.Context, shot *workspace.Shot, c *scene.Channel) *sheet {
	h := s.partHover(ctx, shot, c.Part)
	times := c.Curve.Times
	h.beside = fmt.Sprintf("%s, %s on %s", c.Name, words.Count(len(times), "key"), words.Span(times[0], times[len(times)-1]))
	return h
}

// concerns reports whether a note is about a part: on it, on a channel of it,
// or with a related place on it.
func concerns(shot *workspace.Shot, n *note.Note, p scene.PartID) bool {
	if n.PartID == p {
		return true
	}
	path := shot.Scene.Parts[p].Path
	for i := range n.Related {
		if n.Related[i].Part == path {
			return true
		}
	}
	return false
}

// noteLines writes the notes for which about holds, each with the numbers that
// would mend it. It tells which are new since the earlier pass, if that is known.
func noteLines(shot *workspace.Shot, earlier *passes.Comparison, about func(*note.Note) bool) (lines []sheetLine) {
	for i := range shot.Notes {
		n := &shot.Notes[i]
		if !about(n) {
			continue
		}
		text := n.Severity.String() + ": " + n.Message
		if earlier != nil && isNew(earlier, n) {
			text += " (new since " + passName(earlier) + ")"
		}
		lines = append(lines, sheetLine{text, n.Check})
		if numbers := numbersFor(shot, n); numbers != "" {
			lines = append(lines, sheetLine{"to retype:", numbers})
		}
	}
	return lines
}

// longestNumbers bounds the numbers to retype in a hover, in bytes; the action
// that copies them has them all.
const longestNumbers = 240

// numbersFor returns what to retype in the animator's own package to mend what a
// note finds; "" when there is nothing to suggest, or too much for a hover.
func numbersFor(shot *workspace.Shot, n *note.Note) string {
	list := fixes.For(shot.Study, n)
	for i := range list {
		if f := &list[i]; f.Refused == "" && f.Numbers != "" && len(f.Numbers) <= longestNumbers {
			return f.Numbers
		}
	}
	return ""
}
