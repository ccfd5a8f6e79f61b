package solve

import (
	"sync"

	"curvelint/diagnostics/motion/clip"
	"curvelint/parse/scene"
)

// Hierarchy is the parts of a scene with their transforms made ready for evaluation
// at any time. It may be shared by concurrent readers.
type Hierarchy struct {
	clip.Clip
	Scene *scene.Scene

	plans    []partPlan
	children [][]scene.PartID
	channels [][]scene.ChannelID // by part
	animated []bool              // by part: it or something below it changes

	noiseOnce sync.Once
	noise     []channelNoise // by channel
}

// New prepares a scene. It evaluates nothing yet.
func New(sc *scene.Scene) *Hierarchy {
	h := &Hierarchy{Clip: clip.Of(sc), Scene: sc}
	h.plans = h.plan()
	h.children = sc.Children()
	h.channels = make([][]scene.ChannelID, len(sc.Parts))
	h.animated = make([]bool, len(sc.Parts))
	for id := range sc.Channels {
		p := sc.Channels[id].Part
		h.channels[p] = append(h.channels[p], scene.ChannelID(id))
		if c := &sc.Channels[id].Curve; c.Len() > 0 && !Constant(c) {
			h.animated[p] = true
		}
	}
	for p := len(sc.Parts) - 1; p > 0; p-- {
		if up := sc.Parts[p].Parent; up != scene.NoPart && h.animated[p] {
			h.animated[up] = true
		}
	}
	return h
}

// Animated reports whether anything about the part or below it changes.
func (h *Hierarchy) Animated(p scene.PartID) bool { return h.animated[p] }

// Moves reports whether the part's own transform changes.
func (h *Hierarchy) Moves(p scene.PartID) bool { return h.plans[p].animated }

// Changes reports whether the part itself changes: its transform, or a value of
// its own.
func (h *Hierarchy) Changes(p scene.PartID) bool {
	if h.plans[p].animated {
		return true
	}
	for _, id := range h.channels[p] {
		c := &h.Scene.Channels[id]
		if c.Op == scene.NoOp && c.Curve.Len() > 0 && !Constant(&c.Curve) {
			return true
		}
	}
	return false
}

// Turns reports whether a channel turns the part.
func (h *Hierarchy) Turns(p scene.PartID) bool {
	return h.drivenBy(p, scene.Angle, scene.Quaternion, scene.Transform)
}

// Shifts reports whether a channel shifts the part.
func (h *Hierarchy) Shifts(p scene.PartID) bool {
	return h.drivenBy(p, scene.Length, scene.Transform, scene.Length)
}

func (h *Hierarchy) drivenBy(p scene.PartID, a, b, c scene.Quantity) bool {
	for _, o := range h.plans[p].ops {
		for _, in := range o.inputs {
			if q := h.Scene.Channels[in.channel].Quantity; q == a || q == b || q == c {
				return true
			}
		}
	}
	return false
}

// Children returns the children of a part; callers must not write to it.
func (h *Hierarchy) Children(p scene.PartID) []scene.PartID { return h.children[p] }

// Channels returns the channels of a part; callers must not write to it.
func (h *Hierarchy) Channels(p scene.PartID) []scene.ChannelID { return h.channels[p] }

// MovingChannels returns the channels that change the part's transform.
func (h *Hierarchy) MovingChannels(p scene.PartID) []scene.ChannelID {
	var out []scene.ChannelID
	for _, o := range h.plans[p].ops {
		for _, in := range o.inputs {
			out = append(out, in.channel)
		}
	}
	return out
}

// IsAncestor reports whether a is p or stands above p.
func (h *Hierarchy) IsAncestor(a, p scene.PartID) bool {
	for ; p != scene.NoPart && p >= a; p = h.Scene.Parts[p].Parent {
		if p == a {
			return true
		}
	}
	return false
}

// ParentInSpace is the part whose world transform carries p: its parent, or
// NoPart when p resets the stack.
func (h *Hierarchy) ParentInSpace(p scene.PartID) scene.PartID {
	if h.Scene.Parts[p].ResetStack {
		return scene.NoPart
	}
	return h.Scene.Parts[p].Parent
}
