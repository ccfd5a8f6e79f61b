package server

import (
	"context"
	"fmt"
	"strings"

	"go.lsp.dev/protocol"

	"curvelint/diagnostics/facts"
	"curvelint/diagnostics/motion/track"

	"curvelint/diagnostics/words"
	"curvelint/parse/scene"
	"curvelint/server/workspace"
)

// maxHintLines bounds how many lines get hints in one answer.
const maxHintLines = 1000

// InlayHint makes dense numbers readable: behind each line of keys in the range
// asked for stand the frame, where the line does not say it, and the spacing to
// the next frame as a bar and a figure, with the phase of the move.
func (s *Server) InlayHint(ctx context.Context, p *protocol.InlayHintParams) ([]protocol.InlayHint, error) {
	if !s.prefers.Load().InlayHints {
		return nil, nil
	}
	shot, err := s.shot(ctx, p.TextDocument.URI)
	if shot == nil || shot.Study.N == 0 {
		return nil, err
	}
	h := hinter{shot: shot}
	x := shot.Doc.Index
	first, last := int(p.Range.Start.Line), min(int(p.Range.End.Line), x.Lines()-1)
	var list []protocol.InlayHint
	for line := first; line <= last && line < first+maxHintLines && ctx.Err() == nil; line++ {
		start, end := x.Bounds(line)
		label, tip := h.line(start, end)
		if label == "" {
			continue
		}
		list = append(list, protocol.InlayHint{
			Position: s.position(x, end), Label: protocol.String(label),
			Tooltip: protocol.String(tip), PaddingLeft: new(true),
		})
	}
	return list, nil
}

// nothing is the share of the largest spacing below which a rest is not worth
// a word.
const nothing = 0.02

// hinter writes the hints of one scene.
type hinter struct {
	shot  *workspace.Shot
	focus *facts.Stepper
	asked bool // for the focus

	channel scene.ChannelID // that own belongs to, one more; 0 for none
	own     *facts.Stepper
}

// line returns the hint for the line of text in [start, end): "" when it holds
// no keys, or those of many frames.
func (h *hinter) line(start, end int) (label, tip string) {
	first, parts, ok := h.keysOf(start, end)
	if !ok {
		return "", ""
	}
	frame := h.shot.Scene.Channels[first.Channel].Curve.Times[first.Key]
	t := h.track(first.Channel, parts)
	if h.needsFrame(frame, start, int(first.Span.Start)) {
		label = "frame " + words.Frame(frame)
	}
	if t == nil || frame != h.shot.Study.Frame(h.shot.Study.Index(frame)) {
		return label, ""
	}
	step, ok := t.At(h.shot.Study.Index(frame))
	if !ok || step.Phase == facts.Still && step.Share < nothing {
		return label, ""
	}
	unit := facts.UnitOf(t.Track)
	spacing := words.ShortSpacing(unit, step.Spacing)
	if spacing == words.ShortSpacing(unit, 0) {
		return label, ""
	}
	label = strings.TrimSpace(fmt.Sprintf("%s %c %s", label, bar(step.Share, 1), spacing))
	if step.Phase != facts.Still {
		label += " " + step.Phase.String()
	}
	return label, fmt.Sprintf("%s to the next frame: %s", trackName(h.shot, t.Track), words.Spacing(unit, step.Spacing))
}

// keysOf returns the first key in a range of text and whether there are keys
// of several parts; ok is false when there is none, or there are keys on
// several frames.
func (h *hinter) keysOf(start, end int) (first workspace.Place, parts, ok bool) {
	sc := h.shot.Scene
	for p := range h.shot.Lookup.KeysIn(0, start, end) {
		if !ok {
			first, ok = p, true
			continue
		}
		a, b := &sc.Channels[first.Channel], &sc.Channels[p.Channel]
		if a.Curve.Times[first.Key] != b.Curve.Times[p.Key] {
			return first, parts, false
		}
		parts = parts || a.Part != b.Part
		if p.Span.Start < first.Span.Start {
			first = p
		}
	}
	return first, parts, ok
}

// track returns the track that a line of keys is about: the channel's own, or
// the focus of the scene where the line holds many parts.
func (h *hinter) track(id scene.ChannelID, parts bool) *facts.Stepper {
	if parts {
		if !h.asked {
			h.asked = true
			if t := facts.FocusTrack(h.shot.Study); t != nil {
				h.focus = facts.NewStepper(t)
			}
		}
		if h.focus != nil {
			return h.focus
		}
	}
	if h.channel != id+1 {
		h.channel, h.own = id+1, nil
		if t := facts.TrackOf(h.shot.Study, id); t != nil {
			h.own = facts.NewStepper(t)
		}
	}
	return h.own
}

// needsFrame reports whether the text before the first key of a line does not
// show its frame.
func (h *hinter) needsFrame(frame float64, start, key int) bool {
	text := h.shot.Doc.Text()[start:key]
	for i := 0; i < len(text); i++ {
		if text[i] < '0' || text[i] > '9' {
			continue
		}
		end := i
		for end < len(text) && (text[end] >= '0' && text[end] <= '9' || text[end] == '.') {
			end++
		}
		return string(text[i:end]) != words.Number(frame)
	}
	return true
}

// trackName names a track for a person.
func trackName(shot *workspace.Shot, t *track.Track) string {
	if t.Space == track.World {
		return t.Name
	}
	return shot.Scene.Parts[t.Part].Name
}
