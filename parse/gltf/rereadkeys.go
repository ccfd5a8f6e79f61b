package gltf

import (
	"bytes"
	"slices"

	"curvelint/parse/scene"
)

// keys applies an edit inside the data d.
func (r *rereader) keys(d data) (scene.Reread, bool) {
	e := &r.e
	if r.shift != 0 || e.Start < d.start || e.End > d.end || len(e.New) == 0 ||
		!isBase64(r.before[e.Start:e.End]) || !isBase64(e.New) || r.inLines(d) {
		return scene.Reread{}, false
	}
	p, ok := r.walk(without(r.before, r.data))
	if !ok {
		return scene.Reread{}, false
	}
	a := p.clip()
	out := scene.Reread{Scene: scene.Moved(r.old, *e)}
	if a == nil || bytes.Equal(r.before[e.Start:e.End], r.src[e.Start:e.End]) {
		return out, true
	}
	r.prepare(p, a)
	b, at, ok := p.edited(d, e)
	if !ok {
		return scene.Reread{}, false
	}
	if !p.decodeAgain(a, b, at) {
		return scene.Reread{}, false
	}
	out.Changed, ok = replace(out.Scene, p.s.Channels)
	return out, ok
}

// inLines reports whether data is base64 in lines, as mail has it, in which
// places are not counted.
func (r *rereader) inLines(d data) bool {
	return bytes.ContainsAny(r.before[d.start:min(d.start+200, d.end)], " \r\n\t%")
}

// prepare moves the places in a reading without data to the whole text after
// the edit, so that it can read accessors.
func (r *rereader) prepare(p *parser, a *animation) {
	all := placer(r.data)
	p.src = r.src
	all.parts(p.s.Parts)
	for i := range p.buffers {
		all.place(&p.buffers[i].uri)
	}
	all.place(&a.span)
	for i := range a.channels {
		all.place(&a.channels[i].span)
	}
	p.s.Rate = r.old.Rate
	p.budget = 1<<20 + valuesPerByte*len(p.src)
	p.known = make(map[uint32][]float64, len(a.channels))
	for i := range r.old.Channels {
		c := &r.old.Channels[i]
		p.known[c.Def.Start] = c.Curve.Times
	}
}

// byteRange is a range of the bytes of a buffer.
type byteRange struct{ from, to int }

// edited returns the buffer whose base64 is d and which of its bytes an edit
// there may change; ok is false when it is no buffer's.
func (p *parser) edited(d data, e *scene.Edit) (b int, at byteRange, ok bool) {
	for i := range p.buffers {
		u := p.buffers[i].uri
		if int(u.Start) < d.start && int(u.End) == d.end && bytes.IndexByte(p.src[u.Start:u.End], ',')+1 == d.start-int(u.Start) {
			from, to := e.Start-d.start, e.End-d.start
			return i, byteRange{from * 3 / 4, (to*3 + 3) / 4}, true
		}
	}
	return 0, at, false
}

// decodeAgain makes the channels of which keys lie in a range of a buffer;
// false if there is anything to report or if times lie there.
func (p *parser) decodeAgain(a *animation, b int, at byteRange) bool {
	p.clear()
	var drives []*drive
	for i := range a.channels {
		c := &a.channels[i]
		s := &a.samplers[c.sampler]
		if p.touches(s.input, b, at) {
			return false
		}
		if !p.touches(s.output, b, at) {
			continue
		}
		if d := p.openChannel(a, c); d != nil {
			drives = append(drives, d)
		}
	}
	p.run(1)
	for _, d := range drives {
		if d.in.failed || d.out.failed {
			return false
		}
		p.build(d)
	}
	return len(p.problems.List()) == 0
}

// touches reports whether an accessor reads from a range of a buffer.
func (p *parser) touches(index, b int, at byteRange) bool {
	if index < 0 || index >= len(p.accessors) {
		return false
	}
	a := &p.accessors[index]
	return p.within(a, b, at) || a.sparse != nil && (p.within(&a.sparse.indices, b, at) || p.within(&a.sparse.values, b, at))
}

// within reports whether the part of a buffer view where an accessor begins
// reaches into a range of a buffer. Where the view's elements lie one behind
// the other, it ends with the accessor's last.
func (p *parser) within(a *accessor, b int, at byteRange) bool {
	if a.view < 0 || a.view >= len(p.bufferViews) {
		return false
	}
	v := &p.bufferViews[a.view]
	from, to := v.offset+a.offset, v.offset+v.length
	if size := kindWidths[a.kind] * componentSizes[a.component]; size > 0 && v.stride == 0 && a.count < v.length {
		to = min(to, from+a.count*size)
	}
	return v.buffer == b && from < at.to && at.from < to
}

// replace gives a scene the curves of channels that were read again and
// returns those that differ; ok is false when they are not its own.
func replace(s *scene.Scene, fresh []scene.Channel) (changed []scene.ChannelID, ok bool) {
	type key struct {
		part scene.PartID
		name string
	}
	ids := make(map[key]scene.ChannelID, len(s.Channels))
	for i := range s.Channels {
		ids[key{s.Channels[i].Part, s.Channels[i].Name}] = scene.ChannelID(i)
	}
	for i := range fresh {
		c := &fresh[i]
		id, ok := ids[key{c.Part, c.Name}]
		if !ok || s.Channels[id].Def != c.Def || s.Channels[id].Curve.Len() != c.Curve.Len() {
			return nil, false
		}
		if !sameCurve(&s.Channels[id].Curve, &c.Curve) {
			changed = append(changed, id)
		}
		s.Channels[id].Curve = c.Curve
	}
	slices.Sort(changed)
	return changed, true
}

// sameCurve reports whether curves with the same times have the same keys.
func sameCurve(a, b *scene.Curve) bool {
	if (a.Handles == nil) != (b.Handles == nil) {
		return false
	}
	same := slices.Equal(a.Values, b.Values) && slices.Equal(a.Single, b.Single)
	if a.Handles != nil {
		same = same && slices.Equal(a.Handles.InV, b.Handles.InV) && slices.Equal(a.Handles.OutV, b.Handles.OutV)
	}
	return same
}
