package collada

import (
	"fmt"
	"math"
	"slices"

	"curvelint/parse/scene"
)

// channelName and channelKey are what may occur once only.
type channelName struct {
	part scene.PartID
	name string
}

type channelKey struct {
	part          scene.PartID
	op, component int
}

// animate resolves the channels, reads the arrays that they need with the
// given number of goroutines and makes the scene's channels.
func (b *builder) animate(workers int) {
	channels, shown := b.chosen(b.s)
	q := newReadings(b.parser)
	var drives []drive
	var tracks []*track
	for _, c := range channels {
		d, ok := b.resolve(c)
		if !ok {
			continue
		}
		fresh := d.sampler.track == nil
		if t := b.open(d.sampler, q); t != nil {
			drives = append(drives, d)
			if fresh {
				tracks = append(tracks, t)
			}
		}
	}
	q.read(workers)
	b.time(tracks)
	b.channelBudget = 1<<16 + len(b.src)/8
	b.s.Channels = slices.Grow(b.s.Channels, len(drives))
	for i := range drives {
		b.drive(&drives[i])
	}
	b.duration(shown)
}

// time finds the rate and gives the keys of all tracks their frames. Tracks
// with the same times share them.
func (b *builder) time(tracks []*track) {
	var line scene.Timeline
	columns := make([]int, len(tracks))
	for i, t := range tracks {
		b.finish(t)
		columns[i] = line.Add(t.seconds)
		t.seconds = line.Seconds(columns[i])
	}
	b.s.Rate, b.s.RateKnown = line.Rate(b.o.Rate)
	for i, t := range tracks {
		b.order(t, line.Frames(columns[i]))
	}
}

// duration gives the scene its range: that of the clip, else of the keys.
func (b *builder) duration(shown *clip) {
	if shown != nil && shown.hasRange {
		ends := scene.ToFrames([]float64{shown.start, shown.end}, b.s.Rate)
		b.s.First, b.s.Last, b.s.RangeKnown = ends[0], ends[1], true
		return
	}
	first, last := math.Inf(1), math.Inf(-1)
	for i := range b.s.Channels {
		if times := b.s.Channels[i].Curve.Times; len(times) > 0 {
			first, last = min(first, times[0]), max(last, times[len(times)-1])
		}
	}
	if first <= last {
		b.s.First, b.s.Last = first, last
	}
}

// drive makes the channels of one drive.
func (b *builder) drive(d *drive) {
	t := d.sampler.track
	switch {
	case d.morph != nil:
		b.driveWeight(d, t)
	case d.camera != nil:
		b.driveLens(d, t)
	default:
		if places, ok := b.places(d, t); ok {
			b.driveOp(d, t, places)
		}
	}
}

// places returns the components of the output that drive each component of the
// target.
func (b *builder) places(d *drive, t *track) ([]int, bool) {
	if len(t.at) == d.width {
		return t.at, true
	}
	kind := d.node.ops[d.op].kind
	switch {
	case d.width == 1:
		// One of several numbers, if its parameter has the component's name.
		want := componentName(kind, d.first)[1:]
		for i, name := range t.names {
			if name == want {
				return t.at[i : i+1], true
			}
		}
	case len(t.at) == 1 && kind == scene.RotateAxis:
		d.first, d.width = 3, 1 // the angle alone can be meant
		return t.at, true
	}
	b.mismatch(d, t, d.width)
	return nil, false
}

func (b *builder) mismatch(d *drive, t *track, want int) {
	b.syntax(d.channel.span, "expected a sampler that gives %s a key for %s, found %d; this channel is left out", plural(want, "number"), quote(d.channel.target.url), len(t.at))
}

// driveOp makes the channels that drive an op of the parts of a node: one for
// a matrix, else one for each component.
func (b *builder) driveOp(d *drive, t *track, places []int) {
	op := &d.node.ops[d.op]
	name := op.sid
	if d.width == 16 {
		b.channel(d, d.node.parts, d.op, 0, name, scene.Transform, b.curve(t, places))
		return
	}
	for i, place := range places {
		component := d.first + i
		curve := b.curve(t, []int{place})
		if d.width > 1 && op.kind == scene.RotateAxis && component < 3 && constant(curve.Values) {
			b.fix(d, component, curve.Values)
			continue // an axis that stays is no animation
		}
		b.channel(d, d.node.parts, d.op, component, name+componentName(op.kind, component), quantityOf(op.kind, component), curve)
	}
}

// fix gives a component of an op the value that it keeps.
func (b *builder) fix(d *drive, component int, values []float64) {
	if len(values) == 0 {
		return
	}
	for _, id := range d.node.parts {
		b.s.Parts[id].Ops[d.op].Value[component] = values[0]
	}
}

func constant(values []float64) bool {
	for _, v := range values {
		if v != values[0] {
			return false
		}
	}
	return true
}

// driveWeight makes the channels of one shape weight.
func (b *builder) driveWeight(d *drive, t *track) {
	if len(t.at) != 1 {
		b.mismatch(d, t, 1)
		return
	}
	var parts []scene.PartID
	for _, set := range b.weights[d.morph] {
		if d.first < set.n {
			parts = append(parts, set.first+scene.PartID(d.first))
		}
	}
	if parts == nil {
		b.syntax(d.channel.target.span, "there is no shape weight number %d; this channel is left out", d.first)
		return
	}
	b.channel(d, parts, scene.NoOp, 0, "weight", scene.Share, b.curve(t, t.at))
}

// channel adds a channel for each of the parts that a channel element drives.
func (b *builder) channel(d *drive, parts []scene.PartID, op, component int, name string, q scene.Quantity, curve scene.Curve) {
	if len(curve.Times) == 0 {
		if d.sampler.track.lacking {
			return
		}
		b.problems.Once(scene.Syntax, d.channel.span, fmt.Sprint("empty ", d.channel.span.Start), "no key of this channel can be used; it is left out")
		return
	}
	for _, part := range parts {
		if b.channelBudget--; b.channelBudget < 0 {
			b.problems.Once(scene.Unsupported, d.channel.span, "channels", "instances multiply to more channels than a document of this size is given (%d); those from here on are left out", len(b.s.Channels))
			return
		}
		if !b.claim(d, part, op, component, curve.Stride) {
			continue
		}
		b.s.Channels = append(b.s.Channels, scene.Channel{
			Part: part, Op: op, Component: component, Name: b.unique(part, name), Quantity: q,
			Curve: curve, Def: d.channel.span, Block: d.channel.animation.body,
		})
		d.channel.parts = append(d.channel.parts, part)
	}
}

// claim notes that components of an op are animated; false when one already is.
func (b *builder) claim(d *drive, part scene.PartID, op, component, n int) bool {
	for i := range n {
		key := channelKey{part, op, component + i}
		if b.keyed[key] && (op != scene.NoOp || b.s.Parts[part].Kind == scene.Weight) {
			b.syntax(d.channel.span, "%s is animated by an earlier channel already; this one is left out", quote(d.channel.target.url))
			return false
		}
	}
	for i := range n {
		b.keyed[channelKey{part, op, component + i}] = true
	}
	return true
}

// unique returns a channel's name, numbered when its part has one already.
func (b *builder) unique(part scene.PartID, name string) string {
	for {
		key := channelName{part, name}
		b.names[key]++
		n := b.names[key]
		if n == 1 {
			return name
		}
		name = fmt.Sprintf("%s[%d]", name, n)
	}
}

func plural(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}
