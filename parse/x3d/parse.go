package x3d

import (
	"bytes"

	"curvelint/parse/scene"
	"curvelint/parse/text"
)

// Parse reads the X3D or VRML97 file called name, whose text is src, and
// returns its scene, never nil. XML is told from Classic VRML by the first
// character. What is wrong is in the scene's Problems; everything else is kept.
func Parse(name string, src []byte, o scene.ReadOptions) *scene.Scene {
	d := newDocument(src, o)
	if isXML(src) {
		readXML(d)
	} else {
		readClassic(d)
	}
	s := d.build(o)
	s.Files = []*scene.File{{Path: name, Text: src}}
	s.Problems = d.problems.List()
	return s
}

func isXML(src []byte) bool {
	src = bytes.TrimLeft(bytes.TrimPrefix(src, []byte("\uFEFF")), " \t\r\n")
	return len(src) > 0 && src[0] == '<'
}

// build makes the scene of a document.
func (d *document) build(o scene.ReadOptions) *scene.Scene {
	d.resolveUses()
	s := &scene.Scene{
		Format: "x3d", First: 0, Last: -1, Up: scene.AxisY,
		MetersPerUnit: d.metres, DefaultCamera: scene.NoPart,
	}
	w := d.wire()
	w.reportTwins()
	drives, clips := w.clip(o.Clip)
	for i, c := range clips {
		if i == 0 {
			s.Clip = c.def
		} else {
			s.OtherClips = append(s.OtherClips, c.def)
		}
	}
	b := &builder{
		doc: d, scene: s, wiring: w, drives: drives,
		paths: scene.NewPaths(len(d.src)), curves: make(map[drive][]scene.Curve), expanding: make(map[*node]bool),
	}
	b.time(o.Rate)
	for _, n := range d.roots {
		b.expand(n, frame{part: scene.NoPart})
	}
	s.Allows = d.allowances(s.Parts)
	d.reportSkipped()
	return s
}

// resolveUses finds the nodes that are used before they are defined.
func (d *document) resolveUses() {
	for _, n := range d.unresolved {
		if n.target = d.defs[n.use]; n.target == nil {
			d.syntax(n.name, "expected the name of a node behind USE, found %s, which no DEF defines", text.Quote([]byte(n.use)))
		} else {
			d.syntax(n.name, "expected DEF %s before its USE, found it behind", printable(n.use))
		}
	}
}

// time reads the motions in use and settles the rate and the range.
func (b *builder) time(rate float64) {
	var interps []*node
	var all []played
	clocks := make(map[*node]clock)
	seen := make(map[drive]bool)
	for _, to := range b.wiring.order {
		dr, ok := b.drives[to]
		if !ok || seen[dr] {
			continue
		}
		seen[dr] = true
		if _, ok := clocks[dr.clock]; !ok {
			clocks[dr.clock] = b.doc.cycle(dr.clock)
		}
		interps = append(interps, dr.interp)
	}
	b.motion = b.doc.readMotions(interps)
	for _, to := range b.wiring.order {
		if dr, ok := b.drives[to]; ok && seen[dr] {
			seen[dr] = false
			all = append(all, played{b.motion[dr.interp], dr.clock})
		}
	}
	b.scene.Rate, b.scene.RateKnown = rateOf(all, clocks)
	if rate > 0 {
		b.scene.Rate, b.scene.RateKnown = rate, true
	}
	b.timing = &timing{rate: b.scene.Rate, clocks: clocks, done: make(map[timeKey][]float64)}
	for _, p := range all {
		if len(p.motion.times) > 0 {
			b.scene.Last = max(b.scene.Last, b.timing.last(clocks[p.clock]))
			b.scene.RangeKnown = true
		}
	}
}
