// Package smallscene makes small scenes for tests, part by part.
package smallscene

import "curvelint/parse/scene"

// Builder is a scene that is being made, at 24 frames per second from frame 0.
type Builder struct{ Scene scene.Scene }

// New begins a scene without parts that ends at frame last.
func New(last float64) *Builder {
	return &Builder{scene.Scene{Rate: 24, First: 0, Last: last, DefaultCamera: scene.NoPart, Files: []*scene.File{{Path: "test"}}}}
}

// Part adds a part below parent, or NoPart.
func (b *Builder) Part(path, name string, parent scene.PartID, ops ...scene.Op) scene.PartID {
	id := scene.PartID(len(b.Scene.Parts))
	b.Scene.Parts = append(b.Scene.Parts, scene.Part{ID: id, Parent: parent, Name: name, Path: path, Ops: ops})
	return id
}

// Op returns an operation with a static value.
func Op(k scene.OpKind, v ...float64) scene.Op { return scene.Op{Kind: k, Value: v} }

// Animate bakes f over all frames into component c of the part's operation op.
func (b *Builder) Animate(p scene.PartID, op, c int, q scene.Quantity, f func(frame float64) float64) scene.ChannelID {
	n := int(b.Scene.Last) + 1
	k := scene.Curve{Stride: 1}
	for i := range n {
		k.Times = append(k.Times, float64(i))
		k.Values = append(k.Values, f(float64(i)))
	}
	return b.Add(scene.Channel{Part: p, Op: op, Component: c, Name: "c", Quantity: q, Curve: k})
}

// Add adds a channel.
func (b *Builder) Add(c scene.Channel) scene.ChannelID {
	b.Scene.Channels = append(b.Scene.Channels, c)
	return scene.ChannelID(len(b.Scene.Channels) - 1)
}
