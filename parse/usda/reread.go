package usda

import (
	"bytes"
	"cmp"
	"slices"
	"strings"
	"unicode/utf8"

	"curvelint/parse/scene"
)

// Reread applies an edit inside one block of time samples, or inside the
// static value of one op, to a scene that Parse returned. It returns false
// when the edit touches anything else, or changes more than keys and numbers.
func Reread(old *scene.Scene, e scene.Edit) (scene.Reread, bool) {
	r := &rereader{old: old, edit: e, shift: len(e.New) - (e.End - e.Start)}
	text := old.Files[0].Text
	if len(old.Problems) >= scene.MaxProblems || linesNamed(old.Problems) || !plainText(e.New) || !plainText(text[e.Start:e.End]) {
		return scene.Reread{}, false
	}
	r.src = e.After(text)
	r.edit.Text = r.src
	for i := range old.Channels {
		if b := old.Channels[i].Block; b.File == 0 && int(b.Start) < e.Start && e.End < int(b.End) {
			return r.samples(b)
		}
	}
	return r.static()
}

// plainText reports whether b is ASCII, so that no character is cut in two.
func plainText(b []byte) bool {
	return !slices.ContainsFunc(b, func(c byte) bool { return c >= utf8.RuneSelf })
}

// linesNamed reports whether a problem names a line, which an edit may move.
func linesNamed(problems []scene.Problem) bool {
	return slices.ContainsFunc(problems, func(p scene.Problem) bool { return strings.Contains(p.Message, " on line ") })
}

// rereader puts what an edit changes into a copy of a scene.
type rereader struct {
	old   *scene.Scene
	edit  scene.Edit
	shift int
	src   []byte
}

// samples reads the block of samples again that lies over the span at.
func (r *rereader) samples(at scene.Span) (scene.Reread, bool) {
	before, after := r.old.Files[0].Text[at.Start:at.End], r.src[at.Start:int(at.End)+r.shift]
	if bytes.ContainsAny(before, "#/\"'") || bytes.ContainsAny(after, "#/\"'") {
		return scene.Reread{}, false
	}
	var ids []scene.ChannelID
	for i := range r.old.Channels {
		if r.old.Channels[i].Block == at {
			ids = append(ids, scene.ChannelID(i))
		}
	}
	t, ok := r.sampleType(ids[0])
	if !ok {
		return scene.Reread{}, false
	}
	was, _, ok1 := readBlock(r.old.Files[0].Text, at.Start, at.End, t)
	now, problems, ok2 := readBlock(r.src, at.Start, uint32(int(at.End)+r.shift), t)
	if !ok1 || !ok2 || was.elems != now.elems || len(now.cols) == 0 || len(now.none) == len(now.times) {
		return scene.Reread{}, false
	}
	s := scene.Moved(r.old, r.edit)
	out := scene.Reread{Scene: s, Changed: ids}
	b := &builder{loader: &loader{}, scene: s, ratio: r.ratio(), frames: map[timesKey][]float64{}}
	v := stated{property: &property{typ: t, samples: now}, opinion: opinion{layer: &layer{}, time: sameTime}}
	times := b.toFrames(now.times, sameTime)
	if old := r.old.Channels[ids[0]].Curve.Times; slices.Equal(times, old) {
		times = old
	}
	for _, id := range ids {
		col := r.columnOf(id, was, b)
		if col < 0 || !r.sameKind(id, t, &now.cols[col]) {
			return scene.Reread{}, false
		}
		c := b.sampled(v, &now.cols[col])
		c.Times = times
		if r.lensScaled(id) {
			scaleCurve(&c, 0.1)
		}
		s.Channels[id].Curve = c
		r.firstValue(s, id, &c)
	}
	r.mergeProblems(s, at, problems)
	if !s.RangeKnown {
		s.First, s.Last = 0, -1
		b.keyRange()
	}
	return out, true
}

// sampleType returns the type of the attribute whose samples drive a channel,
// from its declaration.
func (r *rereader) sampleType(id scene.ChannelID) (valueType, bool) {
	d := r.old.Channels[id].Def
	if d.File != 0 {
		return valueType{}, false
	}
	var decl declaration
	p := parser{src: r.old.Files[0].Text[:d.End], pos: int(d.Start), maxDepth: defaultMaxDepth}
	if !p.declare(&decl) || !decl.typ.numeric() {
		return valueType{}, false
	}
	return decl.typ, bytes.HasSuffix(p.src, []byte("timeSamples"))
}

// readBlock reads the samples that start at a brace, and reports whether they
// end at end.
func readBlock(src []byte, start, end uint32, t valueType) (*samples, *scene.Problems, bool) {
	p := parser{src: src[:end], pos: int(start), maxDepth: defaultMaxDepth}
	s := p.readSamples(t, new(sampler))
	return s, &p.problems, p.pos == int(end) && !p.bad
}

// ratio returns the number of display frames in a time code.
func (r *rereader) ratio() float64 {
	l := &layer{meta: newMeta()}
	p := &parser{src: r.old.Files[0].Text, layer: l, prim: &l.root, maxDepth: defaultMaxDepth}
	p.cookie()
	p.lines()
	p.metadata(layerPlace)
	b := builder{loader: &loader{}, scene: &scene.Scene{}}
	b.options.Rate = r.old.Rate
	b.layerFacts(&l.meta)
	return b.ratio
}

// columnOf returns the column of the block that a channel was made from, -1 if
// it was not made from one of its own time.
func (r *rereader) columnOf(id scene.ChannelID, was *samples, b *builder) int {
	c := &r.old.Channels[id].Curve
	for i := range was.cols {
		col := &was.cols[i]
		if col.spans[0] != c.Spans[0] || col.stride != c.Stride {
			continue
		}
		if !slices.Equal(b.toFrames(was.times, sameTime), c.Times) {
			return -1 // brought in with a time offset
		}
		return i
	}
	return -1
}

// sameKind reports whether the part of a channel is still of its kind: a free
// number is a weight as long as it stays between 0 and 1.
func (r *rereader) sameKind(id scene.ChannelID, t valueType, col *column) bool {
	ch := &r.old.Channels[id]
	if ch.Op != scene.NoOp || t.array || r.old.Parts[ch.Part].Kind == scene.CameraPart {
		return true
	}
	return isShare(stated{property: &property{typ: t}}, col) == (r.old.Parts[ch.Part].Kind == scene.Weight)
}

// lensScaled reports whether a channel is an aperture of an orthographic
// camera, which the model keeps in other units than the file.
func (r *rereader) lensScaled(id scene.ChannelID) bool {
	for i := range r.old.Cameras {
		c := &r.old.Cameras[i]
		if c.Orthographic && (c.HorizontalChannel == id || c.VerticalChannel == id || c.HorizontalOffsetChan == id || c.VerticalOffsetChan == id) {
			return true
		}
	}
	return false
}

// firstValue sets the static value that stands for a channel to its first key.
func (r *rereader) firstValue(s *scene.Scene, id scene.ChannelID, c *scene.Curve) {
	ch := &s.Channels[id]
	if ch.Op != scene.NoOp {
		op := &s.Parts[ch.Part].Ops[ch.Op]
		op.Value = slices.Clone(op.Value)
		copy(op.Value[ch.Component:], c.Values[:c.Stride])
		return
	}
	for i := range s.Cameras {
		cam := &s.Cameras[i]
		for _, lens := range []struct {
			channel scene.ChannelID
			value   *float64
		}{
			{cam.FocalLengthChannel, &cam.FocalLength},
			{cam.HorizontalChannel, &cam.HorizontalAperture}, {cam.VerticalChannel, &cam.VerticalAperture},
			{cam.HorizontalOffsetChan, &cam.HorizontalOffset}, {cam.VerticalOffsetChan, &cam.VerticalOffset},
		} {
			if lens.channel == id {
				*lens.value = c.Values[0]
			}
		}
	}
}

// mergeProblems replaces the problems inside a block by new ones.
func (r *rereader) mergeProblems(s *scene.Scene, block scene.Span, fresh *scene.Problems) {
	var kept []scene.Problem
	for i, p := range r.old.Problems {
		if p.Span.File != 0 || p.Span.Start <= block.Start || p.Span.End >= block.End {
			kept = append(kept, s.Problems[i])
		}
	}
	kept = append(kept, fresh.List()...)
	slices.SortStableFunc(kept, byPlace)
	s.Problems = kept
}

func byPlace(a, b scene.Problem) int {
	return cmp.Or(cmp.Compare(a.Span.File, b.Span.File), cmp.Compare(a.Span.Start, b.Span.Start))
}

// static reads the value of the op again that the edit lies in.
func (r *rereader) static() (scene.Reread, bool) {
	var out scene.Reread
	for i := range r.old.Parts {
		for k := range r.old.Parts[i].Ops {
			op := &r.old.Parts[i].Ops[k]
			if op.Span.File != 0 || int(op.Span.Start) > r.edit.Start || int(op.Span.End) < r.edit.End || op.Span.Empty() {
				continue
			}
			value, ok := r.staticValue(op)
			if !ok || r.old.Parts[i].Kind == scene.Joint {
				return scene.Reread{}, false
			}
			if out.Scene == nil {
				out.Scene = scene.Moved(r.old, r.edit)
			}
			out.Scene.Parts[i].Ops[k].Value = value
			if n := len(out.Parts); n == 0 || out.Parts[n-1] != scene.PartID(i) {
				out.Parts = append(out.Parts, scene.PartID(i))
			}
		}
	}
	return out, out.Scene != nil
}

// staticValue reads the value of an op from the edited text.
func (r *rereader) staticValue(op *scene.Op) ([]float64, bool) {
	t := typeNamed(map[int]string{1: "double", 3: "double3", 4: "quatd", 16: "matrix4d"}[op.Kind.Width()])
	n := &numbers{whole: t.asWhole()}
	end := int(op.Span.End) + r.shift
	p := parser{src: r.src[:end], pos: int(op.Span.Start), maxDepth: defaultMaxDepth, values: n}
	text := p.src[p.pos:]
	if bytes.ContainsAny(text, "{:#/") || !p.value(t) || p.pos != end || n.odd || len(n.vals) != op.Kind.Width() {
		return nil, false
	}
	if end < len(r.src) && op.Kind.Width() == 1 && isPart(rune(r.src[end])) {
		return nil, false
	}
	if t.role == matrix {
		transpose(n.vals, t.rows)
	}
	return n.vals, true
}
