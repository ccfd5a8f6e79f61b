package collada

import (
	"strconv"

	"curvelint/parse/scene"
	"curvelint/parse/xml"
)

// animation is an animation element; its parent is the one around it, or nil.
type animation struct {
	id, name string
	parent   *animation
	body     scene.Span
	first    *channel // for allowances
}

// sampler is a sampler element: the sources of a curve.
type sampler struct {
	id        string
	span      scene.Span // the start tag
	inputs    []input
	pre, post scene.Extrap
	track     *track // once it is read
	failed    bool
}

// input is an input of a sampler: a source and what it is for.
type input struct {
	semantic string
	source   ref
}

// input returns the source of an input; of two with one semantic the last.
func (s *sampler) input(semantic string) (r ref, ok bool) {
	for i := range s.inputs {
		if s.inputs[i].semantic == semantic {
			r, ok = s.inputs[i].source, true
		}
	}
	return r, ok
}

// channel is a channel element: a sampler and what it drives.
type channel struct {
	sampler   ref
	target    ref
	span      scene.Span
	animation *animation
	parts     []scene.PartID // the parts it drives, once it is built
}

// clip is an animation clip: some animations and a range of seconds.
type clip struct {
	name       string
	start, end float64
	hasRange   bool
	animations []ref
}

// animation reads an animation element with those inside it.
func (p *parser) animation(t xmlscan.Token) {
	a := &animation{id: p.r.AttrValue("id"), name: p.r.AttrValue("name"), parent: p.inAnimation}
	register(p, p.animations, a.id, a, span(t.Pos, t.End))
	p.inAnimation = a
	end := p.children(func(t xmlscan.Token) {
		switch string(t.Name) {
		case "animation":
			p.animation(t)
		case "source":
			p.source(t)
		case "sampler":
			p.sampler(t)
		case "channel":
			p.channel(t, a)
		case "asset", "extra":
		default:
			p.unknown(t, "a source, sampler, channel or animation")
		}
	})
	p.inAnimation = a.parent
	a.body = span(t.Pos, end)
}

// behaviors are how a sampler goes on outside its keys (COLLADA 1.5).
var behaviors = map[string]scene.Extrap{
	"UNDEFINED": scene.ExtrapHeld, "CONSTANT": scene.ExtrapHeld, "GRADIENT": scene.ExtrapLinear,
	"CYCLE": scene.LoopReset, "CYCLE_RELATIVE": scene.LoopRepeat, "OSCILLATE": scene.LoopOscillate,
}

// sampler reads a sampler element.
func (p *parser) sampler(t xmlscan.Token) {
	s := &sampler{id: p.r.AttrValue("id"), span: span(t.Pos, t.End)}
	s.pre, s.post = p.behavior("pre_behavior"), p.behavior("post_behavior")
	register(p, p.samplers, s.id, s, s.span)
	p.children(func(t xmlscan.Token) {
		if string(t.Name) == "input" {
			s.inputs = append(s.inputs, input{p.r.AttrValue("semantic"), p.attrRef("source")})
		}
	})
}

func (p *parser) behavior(name string) scene.Extrap {
	a, ok := p.r.Attr(name)
	if !ok {
		return scene.ExtrapHeld
	}
	e, known := behaviors[p.r.Value(a)]
	if !known {
		p.syntax(span(a.Start, a.End), "expected CONSTANT, GRADIENT, CYCLE, CYCLE_RELATIVE or OSCILLATE, found %s; CONSTANT is used", quote(p.r.Value(a)))
	}
	return e
}

// channel reads a channel element.
func (p *parser) channel(t xmlscan.Token, a *animation) {
	c := &channel{sampler: p.attrRef("source"), target: p.attrRef("target"), animation: a}
	c.span = span(t.Pos, t.End)
	if c.target.url == "" {
		p.syntax(c.span, "expected the attribute target in this channel; it is left out")
		return
	}
	if a.first == nil {
		a.first = c
	}
	p.channels = append(p.channels, c)
}

// clip reads an animation clip.
func (p *parser) clip(t xmlscan.Token) {
	c := &clip{name: p.r.AttrValue("name")}
	if c.name == "" {
		c.name = p.r.AttrValue("id")
	}
	if c.name == "" {
		c.name = "clip" + strconv.Itoa(len(p.clips)+1)
	}
	start, okStart := p.seconds("start")
	end, okEnd := p.seconds("end")
	if okEnd && end >= start {
		c.start, c.end, c.hasRange = start, end, true
	} else if okStart && okEnd {
		p.syntax(span(t.Pos, t.End), "expected an animation clip that ends after it starts; its range is left out")
	}
	p.children(func(t xmlscan.Token) {
		if string(t.Name) == "instance_animation" {
			c.animations = append(c.animations, p.attrRef("url"))
		}
	})
	p.clips = append(p.clips, c)
}

// seconds reads an attribute that holds a time, 0 without it.
func (p *parser) seconds(name string) (float64, bool) {
	a, ok := p.r.Attr(name)
	if !ok {
		return 0, false
	}
	v, err := strconv.ParseFloat(p.r.Value(a), 64)
	if err != nil || v-v != 0 {
		p.syntax(span(a.Start, a.End), "expected a time in seconds for %s, found %s", name, quote(p.r.Value(a)))
		return 0, false
	}
	return v, true
}

// chosen returns the channels of the clip to show: the one that the options
// name, else the first that has any, and those that belong to no clip. It sets
// the scene's clip and, in seconds, the range of it.
func (p *parser) chosen(s *scene.Scene) (channels []*channel, shown *clip) {
	if len(p.clips) == 0 {
		p.wrongClip(s)
		return p.channels, nil
	}
	clips := make(map[*animation][]*clip)
	for _, c := range p.clips {
		for _, r := range c.animations {
			if a, ok := find(p, p.animations, r); ok {
				clips[a] = append(clips[a], c)
			} else if r.url != "" {
				p.syntax(r.span, "no animation has the id %s", quote(r.url))
			}
		}
	}
	shown = p.pick(clips)
	for _, c := range p.channels {
		free, in := true, false
		for a := c.animation; a != nil; a = a.parent {
			for _, of := range clips[a] {
				free = false
				in = in || of == shown
			}
		}
		if free || in {
			channels = append(channels, c)
		}
	}
	for _, c := range p.clips {
		if c != shown {
			s.OtherClips = append(s.OtherClips, c.name)
		}
	}
	if shown != nil {
		s.Clip = shown.name
	}
	p.wrongClip(s)
	return channels, shown
}

// pick returns the clip to show. Clips without animations say only a range.
func (p *parser) pick(clips map[*animation][]*clip) *clip {
	var first *clip
	used := make(map[*clip]bool)
	for _, c := range p.channels {
		for a := c.animation; a != nil; a = a.parent {
			for _, of := range clips[a] {
				used[of] = true
			}
		}
	}
	for _, c := range p.clips {
		if p.o.Clip != "" && c.name == p.o.Clip {
			return c
		}
		if first == nil && used[c] {
			first = c
		}
	}
	return first
}

// wrongClip reports that the clip which was asked for is not there.
func (p *parser) wrongClip(s *scene.Scene) {
	if p.o.Clip == "" || p.o.Clip == s.Clip {
		return
	}
	names := "none"
	if len(p.clips) > 0 {
		names = quote(p.clips[0].name)
		for _, c := range p.clips[1:min(len(p.clips), 8)] {
			names += ", " + quote(c.name)
		}
	}
	p.problems.Once(scene.Syntax, span(0, 0), "clip", "the document has no animation clip called %s; it has %s", quote(p.o.Clip), names)
}
