package usda

import (
	"math"
	"strings"

	"curvelint/parse/scene"
)

// builder turns composed prims into parts and channels.
type builder struct {
	*loader
	scene *scene.Scene
	prims map[string]*composed // by path
	// ratio is the number of display frames in a time code.
	ratio float64
	// parts tells under which part a prim's comments belong.
	parts map[*prim]scene.PartID
	paths map[string]bool
	// frames are the times of columns in display frames, by column and map.
	frames map[timesKey][]float64
	// animations are the SkelAnimation prims by the path of their skeleton;
	// bound are those that some skeleton uses.
	animations map[string]*composed
	bound      map[*composed]bool
	unused     map[string]bool // kinds of values that were reported as left out
}

// notParts are the types of prims that hold data for others and are nothing
// that moves.
var notParts = map[string]bool{
	"SkelAnimation": true, "BlendShape": true, "Material": true, "Shader": true, "NodeGraph": true,
	"GeomSubset": true, "RenderSettings": true, "RenderProduct": true, "RenderVar": true,
}

// build returns the scene of the prims at the root.
func build(l *loader, first *layer, roots []*composed) *scene.Scene {
	s := &scene.Scene{Format: "usda", Files: l.files, DefaultCamera: scene.NoPart, First: 0, Last: -1}
	b := &builder{
		loader: l, scene: s, prims: map[string]*composed{}, parts: map[*prim]scene.PartID{},
		paths: map[string]bool{}, frames: map[timesKey][]float64{}, unused: map[string]bool{},
		animations: map[string]*composed{}, bound: map[*composed]bool{},
	}
	b.layerFacts(&first.meta)
	for _, p := range roots {
		b.index(p)
	}
	for _, p := range roots {
		b.bindSkeletons(p)
	}
	for _, p := range roots {
		b.prim(p, scene.NoPart)
	}
	b.defaultCamera(&first.meta)
	b.allowances(first)
	b.keyRange()
	return s
}

// layerFacts sets what the first layer says about the whole scene.
func (b *builder) layerFacts(m *layerMeta) {
	s := b.scene
	s.Rate, s.RateKnown = m.rate()
	codes := m.codesPerSecond()
	if b.options.Rate > 0 {
		if !s.RateKnown {
			codes = b.options.Rate
		}
		s.Rate = b.options.Rate
	}
	b.ratio = s.Rate / codes
	if math.Abs(b.ratio-1) < 1e-3 {
		b.ratio = 1 // 23.976 and 24000/1001 are one rate
	}
	if finite(m.start, m.end) && m.start <= m.end {
		s.First, s.Last, s.RangeKnown = m.start*b.ratio, m.end*b.ratio, true
	}
	s.MetersPerUnit = 0.01
	if m.meters > 0 && finite(m.meters) {
		s.MetersPerUnit = m.meters
	}
	s.Up = map[string]scene.Axis{"Z": scene.AxisZ, "X": scene.AxisX}[strings.ToUpper(m.up)]
}

// rate returns the frames per second, and whether the layer says anything
// about them. Without framesPerSecond a usual rate of time codes is taken.
func (m *layerMeta) rate() (rate float64, known bool) {
	if m.frames > 0 && finite(m.frames) {
		return scene.SnapRate(m.frames, 1e-4), true
	}
	if m.timeCodes > 0 && finite(m.timeCodes) {
		snapped := scene.SnapRate(m.timeCodes, 1e-4)
		for _, r := range scene.StandardRates {
			if r == snapped {
				return snapped, true
			}
		}
		return 24, true
	}
	return 24, false
}

// index notes a prim and all below by path.
func (b *builder) index(p *composed) {
	b.prims[p.path] = p
	for _, k := range p.kids {
		b.index(k)
	}
}

// prim adds the parts of a prim and of all below it.
func (b *builder) prim(p *composed, parent scene.PartID) {
	typ := p.typ()
	if notParts[typ] && !(typ == "SkelAnimation" && !b.bound[p]) {
		b.claim(p, parent)
		return
	}
	id := b.part(p, parent, kindOf(typ))
	b.claim(p, id)
	b.clips(p)
	switch typ {
	case "Camera":
		b.transform(p, id)
		b.camera(p, id)
	case "Skeleton":
		b.transform(p, id)
		b.skeleton(p, id, b.animations[p.path])
	case "SkelAnimation":
		b.skeleton(p, id, p)
	default:
		b.transform(p, id)
	}
	b.scalars(p, id, typ)
	for _, k := range p.kids {
		b.prim(k, id)
	}
}

// claim says that the comments in a prim's blocks are about a part.
func (b *builder) claim(p *composed, id scene.PartID) {
	if id == scene.NoPart {
		return
	}
	for _, o := range p.opinions {
		if _, ok := b.parts[o.prim]; !ok {
			b.parts[o.prim] = id
		}
	}
}

// kindOf returns what kind of part a prim of a type is.
func kindOf(typ string) scene.PartKind {
	switch typ {
	case "Camera":
		return scene.CameraPart
	case "Skeleton", "SkelAnimation":
		return scene.SkeletonRoot
	case "Mesh", "Sphere", "Cube", "Cylinder", "Cylinder_1", "Cone", "Capsule", "Capsule_1", "Plane",
		"Points", "BasisCurves", "NurbsCurves", "NurbsPatch", "HermiteCurves", "TetMesh", "PointInstancer", "Volume":
		return scene.Mesh
	}
	if strings.HasSuffix(typ, "Light") || strings.HasSuffix(typ, "Light_1") {
		return scene.LightPart
	}
	return scene.Node
}

// part adds a part for a prim.
func (b *builder) part(p *composed, parent scene.PartID, kind scene.PartKind) scene.PartID {
	h := p.header()
	return b.add(scene.Part{
		Parent: parent, Name: p.name, Path: p.path, Kind: kind, Figure: kind == scene.SkeletonRoot,
		Def: h.span(h.prim.header), NameSpan: h.span(h.prim.nameAt), Body: h.span(h.prim.body),
	})
}

// add adds a part and makes its path unique.
func (b *builder) add(p scene.Part) scene.PartID {
	for b.paths[p.Path] {
		p.Path += "+"
	}
	b.paths[p.Path] = true
	p.ID = scene.PartID(len(b.scene.Parts))
	b.scene.Parts = append(b.scene.Parts, p)
	return p.ID
}

// clips reports animation kept in value clips.
func (b *builder) clips(p *composed) {
	for _, o := range p.opinions {
		if o.prim.clips {
			b.problems.Add(scene.Unsupported, o.span(o.prim.header),
				"the value clips of %s are not read, so the animation in them is not studied", p.path)
			return
		}
	}
}

// once reports what is left out, once for each kind.
func (b *builder) once(kind string, at scene.Span, format string, args ...any) {
	if !b.unused[kind] {
		b.unused[kind] = true
		b.problems.Add(scene.Unsupported, at, format, args...)
	}
}

// allowances gives the allowances in the comments to their parts.
func (b *builder) allowances(first *layer) {
	for _, f := range b.files {
		l := b.layers[f.Path]
		if l == nil {
			continue
		}
		for _, c := range l.notes {
			c.allow.Part = scene.NoPart
			n := c.prim
			for n != &l.root {
				if id, ok := b.parts[n]; ok {
					c.allow.Part = id
					break
				}
				n = n.parent
			}
			if c.allow.Part != scene.NoPart || c.prim == &l.root && l == first {
				b.scene.Allows = append(b.scene.Allows, c.allow)
			}
		}
	}
}

// keyRange sets the range of the scene from its keys if the file gives none.
func (b *builder) keyRange() {
	s := b.scene
	if s.RangeKnown {
		return
	}
	first, last := math.Inf(1), math.Inf(-1)
	for i := range s.Channels {
		if t := s.Channels[i].Curve.Times; len(t) > 0 {
			first, last = min(first, t[0]), max(last, t[len(t)-1])
		}
	}
	if first <= last {
		s.First, s.Last = first, last
	}
}

// defaultCamera finds the camera that the layer marks as the shot's: by path
// in its metadata, or by the render settings.
func (b *builder) defaultCamera(m *layerMeta) {
	path := m.camera
	if p := b.prims[path]; p != nil && p.typ() == "RenderSettings" {
		path = p.target("camera")
	}
	if path == "" {
		for _, p := range b.prims {
			if p.typ() != "RenderSettings" {
				continue
			}
			t := p.target("camera")
			if path != "" && t != path {
				return // settings that disagree mark none
			}
			path = t
		}
	}
	for i := range b.scene.Cameras {
		if id := b.scene.Cameras[i].Part; b.scene.Parts[id].Path == path {
			b.scene.DefaultCamera = id
		}
	}
}
