package gltf

import (
	"slices"

	"curvelint/parse/scene"
)

// Reread applies an edit to a scene that Parse returned. An edit outside the
// base64 of data URIs keeps every key: the JSON around the data is walked, and
// what it says must be the same but for places and for numbers that do not
// move. An edit inside base64, digit for digit, decodes the accessors again
// that lie there. Of anything else it returns false, and of files about which
// there was something to report.
func Reread(old *scene.Scene, e scene.Edit) (scene.Reread, bool) {
	r := &rereader{old: old, e: e, before: old.Files[0].Text, src: e.After(old.Files[0].Text)}
	r.e.Text = r.src
	r.shift = len(r.src) - len(r.before)
	var ok bool
	if r.data, ok = allData(r.before); !ok || len(old.Problems) > 0 || !r.roomy() {
		return scene.Reread{}, false
	}
	for _, d := range r.data {
		// A backslash before the quote would make it another text.
		if e.Start <= d.end && d.quote <= e.End {
			return r.keys(d)
		}
	}
	return r.statics()
}

// rereader puts an edit into a copy of a scene.
type rereader struct {
	old         *scene.Scene
	e           scene.Edit
	before, src []byte
	shift       int
	data        []data // before the edit
}

// roomy reports whether the text after the edit is given as many numbers and
// names as before, as a longer one always is.
func (r *rereader) roomy() bool {
	if r.shift >= 0 {
		return true
	}
	numbers := 0
	for i := range r.old.Channels {
		c := &r.old.Channels[i].Curve
		numbers += c.Len() + 3*c.Numbers() // with handles
	}
	return 2*numbers < valuesPerByte*len(r.src)+1<<20
}

// walk reads the JSON of a text without its data up to the parts; false if
// there is anything to report.
func (r *rereader) walk(src []byte) (*parser, bool) {
	p := newParser(r.old.Files[0].Path, src, scene.ReadOptions{Clip: r.old.Clip})
	p.document()
	if !p.versionOK() || p.r.failed {
		return nil, false
	}
	p.parts()
	return p, len(p.problems.List()) == 0 && r.sameParts(p.s)
}

// sameParts reports whether a scene has the parts of the old one.
func (r *rereader) sameParts(s *scene.Scene) bool {
	return slices.EqualFunc(s.Parts, r.old.Parts, func(a, b scene.Part) bool {
		return a.Path == b.Path && a.Kind == b.Kind && a.Figure == b.Figure && len(a.Ops) == len(b.Ops)
	})
}

// statics applies an edit outside the data.
func (r *rereader) statics() (scene.Reread, bool) {
	now := moved(r.data, &r.e, r.shift)
	was, ok := r.walk(without(r.before, r.data))
	if !ok {
		return scene.Reread{}, false
	}
	is, ok := r.walk(without(r.src, now))
	if !ok || !was.alike(is) {
		return scene.Reread{}, false
	}
	a, b := was.clip(), is.clip()
	if is.s.Clip != r.old.Clip || !slices.Equal(is.s.OtherClips, r.old.OtherClips) {
		return scene.Reread{}, false
	}
	s := *r.old
	file := *r.old.Files[0]
	file.Text = r.src
	s.Files = slices.Clone(s.Files)
	s.Files[0] = &file
	s.Parts = is.s.Parts
	placer(now).parts(s.Parts)
	s.Channels = slices.Clone(s.Channels)
	if a != nil && !r.channels(s.Channels, a, b, now) {
		return scene.Reread{}, false
	}
	return scene.Reread{Scene: &s, Parts: r.differing(s.Parts)}, true
}

// parts moves the places of parts.
func (all placer) parts(parts []scene.Part) {
	for i := range parts {
		p := &parts[i]
		all.place(&p.Def, &p.NameSpan, &p.Body)
		for k := range p.Ops {
			all.place(&p.Ops[k].Span)
		}
	}
}

// channels gives channels their places after the edit: b is the animation a
// after it.
func (r *rereader) channels(channels []scene.Channel, a, b *animation, now []data) bool {
	places := make(map[scene.Span]scene.Span, len(a.channels))
	for i := range a.channels {
		was, is := a.channels[i].span, b.channels[i].span
		placer(r.data).place(&was)
		placer(now).place(&is)
		places[was] = is
	}
	block := b.span
	placer(now).place(&block)
	for i := range channels {
		def, ok := places[channels[i].Def]
		if !ok {
			return false
		}
		channels[i].Def, channels[i].Block = def, block
	}
	return true
}

// differing returns the parts of which a static value differs, but for those in
// whose place channels stand, before the first key and behind the last one too.
func (r *rereader) differing(now []scene.Part) (ids []scene.PartID) {
	type place struct {
		part scene.PartID
		op   int
	}
	driven := make(map[place]int) // components
	for i := range r.old.Channels {
		c := &r.old.Channels[i]
		driven[place{c.Part, c.Op}] += c.Curve.Stride
	}
	for i := range now {
		id := scene.PartID(i)
		for k, op := range now[i].Ops {
			if !slices.Equal(op.Value, r.old.Parts[i].Ops[k].Value) && driven[place{id, k}] < op.Kind.Width() {
				ids = append(ids, id)
				break
			}
		}
	}
	return ids
}
