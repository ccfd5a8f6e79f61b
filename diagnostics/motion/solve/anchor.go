package solve

import "curvelint/parse/scene"

// Anchor returns where a note about a channel at frame index i sits: the value
// of the last key at or before that frame.
func (h *Hierarchy) Anchor(id scene.ChannelID, i int) scene.Span {
	return h.Scene.KeySpan(id, KeyAt(&h.Scene.Channels[id].Curve, h.Frame(i)), 0)
}

// AnchorPart returns where a note about a part at frame index i sits when no
// channel drives it: its first moving channel's key, else its header.
func (h *Hierarchy) AnchorPart(p scene.PartID, i int) scene.Span {
	if ids := h.MovingChannels(p); len(ids) > 0 {
		return h.Anchor(ids[0], i)
	}
	for _, id := range h.channels[p] {
		return h.Anchor(id, i)
	}
	return h.Scene.Parts[p].Def
}
