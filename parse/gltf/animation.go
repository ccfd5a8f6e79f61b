package gltf

import (
	"strconv"

	"curvelint/parse/scene"
)

// animation is an animation: one clip.
type animation struct {
	name     string
	span     scene.Span
	channels []channel
	samplers []sampler
}

// channel is a channel of an animation: a sampler and what it drives.
type channel struct {
	span        scene.Span
	sampler     int
	samplerSpan scene.Span
	node        int // -1 when there is none
	nodeSpan    scene.Span
	path        string
	pathSpan    scene.Span
	pointer     string // of KHR_animation_pointer
	pointerSpan scene.Span
}

// sampler is a sampler of an animation: accessors of times and values.
type sampler struct {
	span                  scene.Span
	input, output         int
	inputSpan, outputSpan scene.Span
	interpolation         string
	interpolationSpan     scene.Span
}

func (p *parser) animation() (a animation) {
	a.span = p.r.object(func(name string, at scene.Span) {
		switch name {
		case "name":
			a.name = p.r.text()
		case "channels":
			p.r.array(func(int) { a.channels = append(a.channels, p.channel()) })
		case "samplers":
			p.r.array(func(int) { a.samplers = append(a.samplers, p.sampler()) })
		}
	})
	return a
}

func (p *parser) channel() channel {
	c := channel{sampler: -1, node: -1}
	r := p.r
	c.span = r.object(func(name string, at scene.Span) {
		switch name {
		case "sampler":
			c.samplerSpan = p.at(func() { c.sampler = r.index("the number of a sampler") })
		case "target":
			r.object(func(name string, at scene.Span) {
				switch name {
				case "node":
					c.nodeSpan = p.at(func() { c.node = r.index("the number of a node") })
				case "path":
					c.path, c.pathSpan = r.stringAt()
				case "extensions":
					r.object(func(name string, at scene.Span) {
						if name == "KHR_animation_pointer" {
							p.pointer(&c)
						}
					})
				}
			})
		}
	})
	return c
}

func (p *parser) pointer(c *channel) {
	p.r.object(func(name string, at scene.Span) {
		if name == "pointer" {
			c.pointer, c.pointerSpan = p.r.stringAt()
		}
	})
}

func (p *parser) sampler() sampler {
	s := sampler{input: -1, output: -1, interpolation: "LINEAR"}
	r := p.r
	s.span = r.object(func(name string, at scene.Span) {
		switch name {
		case "input":
			s.inputSpan = p.at(func() { s.input = r.index("the number of an accessor") })
		case "output":
			s.outputSpan = p.at(func() { s.output = r.index("the number of an accessor") })
		case "interpolation":
			s.interpolation, s.interpolationSpan = r.stringAt()
		}
	})
	return s
}

// clip returns the animation to show: the one that the options name, else the
// first; nil when there is none. It sets the scene's clips.
func (p *parser) clip() *animation {
	if len(p.animations) == 0 {
		p.wrongClip(nil)
		return nil
	}
	names := make([]string, len(p.animations))
	shown := 0
	for i := range p.animations {
		if names[i] = p.animations[i].name; names[i] == "" {
			names[i] = "animation" + strconv.Itoa(i)
		}
	}
	for i := len(names) - 1; i >= 0; i-- {
		if p.o.Clip != "" && names[i] == p.o.Clip {
			shown = i
		}
	}
	p.s.Clip = names[shown]
	for i, name := range names {
		if i != shown {
			p.s.OtherClips = append(p.s.OtherClips, name)
		}
	}
	p.wrongClip(names)
	return &p.animations[shown]
}

// wrongClip reports that the clip which was asked for is not there.
func (p *parser) wrongClip(names []string) {
	if p.o.Clip == "" || p.o.Clip == p.s.Clip {
		return
	}
	list := "none"
	for i, name := range names[:min(len(names), 8)] {
		if i == 0 {
			list = quote(name)
		} else {
			list += ", " + quote(name)
		}
	}
	p.syntax(span(p.r.base, min(p.r.base+1, len(p.src))), "the file has no animation called %s; it has %s", quote(p.o.Clip), list)
}
