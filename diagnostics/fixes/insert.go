package fixes

import (
	"slices"
	"sort"
	"strconv"
	"strings"

	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/motion/solve"
	"curvelint/diagnostics/words"
	"curvelint/parse/scene"
)

// sample is a new sample of an attribute, by the place of its header and its
// frame. Exporters leave out samples that repeat, so that a hold has no keys to
// move until some are put in.
type sample struct {
	header scene.Span
	frame  float64
}

// set gives a channel a value on frame index i: its key there gets it, else a
// new sample is put in, where the format writes each sample by itself.
func (p *pen) set(s *motion.Study, id scene.ChannelID, i int, v []float64) error {
	c := &s.Scene.Channels[id]
	if key, ok := keyOn(&c.Curve, s.Frame(i)); ok {
		return p.put(id, key, v)
	}
	if !canInsert(s, id, i) {
		return refuse("%s %s has no key on frame %s: bake it first, or retype the numbers",
			s.Scene.Parts[c.Part].Name, c.Name, words.Frame(s.Frame(i)))
	}
	if p.inserts == nil {
		p.inserts = map[sample]map[scene.ChannelID]float64{}
	}
	at := sample{c.Def, s.Frame(i)}
	if p.inserts[at] == nil {
		p.inserts[at] = map[scene.ChannelID]float64{}
	}
	p.inserts[at][id] = v[0]
	return nil
}

// canInsert reports whether a sample can be put in between two keys of a
// channel: in the samples of a USD layer, on a straight segment, where the
// sample before it can be copied.
func canInsert(s *motion.Study, id scene.ChannelID, i int) bool {
	c := &s.Scene.Channels[id].Curve
	if s.Scene.Format != "usda" || c.Spans == nil || c.Stride != 1 {
		return false
	}
	key := keyBefore(c, s.Frame(i))
	if key < 0 || key+1 >= c.Len() || c.SegmentInterp(key) != scene.Linear {
		return false
	}
	at := s.Scene.KeySpan(id, key, 0)
	p := pen{sc: s.Scene}
	_, _, timed := p.timeOf(id, key)
	_, whole := sampleAt(s.Scene.Files[at.File].Text, at)
	return timed && (whole || componentOf(s.Scene, id) > 0)
}

// componentOf returns which component of its op a channel is.
func componentOf(sc *scene.Scene, id scene.ChannelID) int { return sc.Channels[id].Component }

// keyBefore returns the index of the last key before a frame, or -1.
func keyBefore(c *scene.Curve, frame float64) int {
	return sort.SearchFloat64s(c.Times, frame-1e-6) - 1
}

// insertions returns the edits that put in the new samples: behind each sample
// that is kept, the new ones that come before the next, as copies of it with
// their own times and values.
func (p *pen) insertions() ([]Edit, error) {
	order := make([]sample, 0, len(p.inserts))
	for at := range p.inserts {
		order = append(order, at)
	}
	slices.SortFunc(order, func(a, b sample) int {
		switch {
		case a.header != b.header:
			return int(int64(a.header.Start) - int64(b.header.Start))
		case a.frame < b.frame:
			return -1
		}
		return 1
	})
	var edits []Edit
	for _, at := range order {
		span, text, err := p.copyOf(at)
		if err != nil {
			return nil, err
		}
		if n := len(edits); n > 0 && edits[n-1].Span == span {
			edits[n-1].Text += text
		} else {
			edits = append(edits, Edit{span, text})
		}
	}
	return edits, nil
}

// copyOf returns where a new sample goes and its text.
func (p *pen) copyOf(at sample) (scene.Span, string, error) {
	group := p.attribute(at.header)
	lead := &p.sc.Channels[group[0]].Curve
	key := keyBefore(lead, at.frame)
	value := p.sc.KeySpan(group[0], key, 0)
	text := p.sc.Files[value.File].Text
	whole, ok := sampleAt(text, value)
	timeAt, _, timed := p.timeOf(group[0], key)
	if !ok || !timed || key+1 >= lead.Len() {
		return scene.Span{}, "", refuse("the sample before frame %s cannot be copied", words.Frame(at.frame))
	}
	time, err := p.timeText(group[0], key, at.frame)
	if err != nil {
		return scene.Span{}, "", err
	}
	changes := []Edit{{timeAt, time}}
	for _, id := range group {
		c := &p.sc.Channels[id].Curve
		v, given := p.inserts[at][id]
		if !given {
			one := []float64{0}
			solve.EvalCurve(c, at.frame, one)
			v = one[0]
		}
		where := p.sc.KeySpan(id, key, 0)
		factor, ok := p.factor(id, 0)
		was, err := strconv.ParseFloat(string(p.text(where)), 64)
		if !ok || err != nil {
			return scene.Span{}, "", refuse("the numbers of %s are written in another form than that of the model", p.sc.Channels[id].Name)
		}
		changes = append(changes, Edit{where, printed(string(p.text(where)), was+factor*(v-c.Value(key)), c.Step)})
	}
	slices.SortFunc(changes, func(a, b Edit) int { return int(int64(a.Span.Start) - int64(b.Span.Start)) })
	var b strings.Builder
	from := whole.Start
	for _, e := range changes {
		b.Write(text[from:e.Span.Start])
		b.WriteString(e.Text)
		from = e.Span.End
	}
	b.Write(text[from:whole.End])
	return scene.Span{File: value.File, Start: whole.End, End: whole.End}, b.String(), nil
}

// attribute returns the channels whose header is at a span, by component.
func (p *pen) attribute(header scene.Span) []scene.ChannelID {
	var ids []scene.ChannelID
	for i := range p.sc.Channels {
		if p.sc.Channels[i].Def == header {
			ids = append(ids, scene.ChannelID(i))
		}
	}
	slices.SortFunc(ids, func(a, b scene.ChannelID) int {
		return p.sc.Channels[a].Component - p.sc.Channels[b].Component
	})
	return ids
}
