package show

import (
	"curvelint/diagnostics/facts"
	"curvelint/diagnostics/note"
	"curvelint/diagnostics/passes"
	"curvelint/diagnostics/words"
	"curvelint/parse/scene"
)

// HoverKey writes what there is to know of a key of a channel; component is the
// one of its numbers that is pointed at. With images the spacing is a picture.
func (s *Shot) HoverKey(channel scene.ChannelID, key, component int, images Images) *Sheet {
	c := &s.Study.Scene.Channels[channel]
	frame := c.Curve.Times[key]
	k := facts.At(s.Study, channel, frame)
	h := &Sheet{name: s.part(k.Part).Name, beside: "frame " + words.Frame(frame) + ", " + valueText(c, &k, component)}
	if k.HasWorld {
		h.fact("in the world at " + words.Point(k.World.X, k.World.Y, k.World.Z))
	}
	h.picture = s.spacingPicture(&k, images)
	bars := ""
	for i := range k.Tracks {
		o := &k.Tracks[i]
		if i > 0 && sameMotion(&k.Tracks[0], o) {
			continue // the part's own shift is what is seen in space
		}
		h.fact(trackLines(s.Study, &k, i)...)
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
	if s.Earlier != nil {
		h.fact(sinceText(s.Earlier, passes.PartChangeAt(s.Earlier, s.part(k.Part).Path, frame)))
	}
	h.notes = s.noteLines(func(n *note.Note) bool {
		return s.Concerns(n, k.Part) && n.First <= frame && frame <= n.Last
	})
	return h
}

// sameMotion reports whether two tracks say the same at a frame.
func sameMotion(a, b *facts.OnTrack) bool {
	return a.Track.Quality == b.Track.Quality && a.Before == b.Before && a.After == b.After &&
		a.Move.First == b.Move.First && a.Move.Last == b.Move.Last && a.Move.Length == b.Move.Length
}
