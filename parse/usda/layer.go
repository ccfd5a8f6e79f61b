package usda

import (
	"math"
	"slices"

	"curvelint/parse/scene"
)

// specifier says how strongly a prim is declared.
type specifier uint8

const (
	over specifier = iota
	class
	def
)

// layer is one text as written.
type layer struct {
	file  scene.FileID
	path  string // under which its file is known
	src   []byte
	meta  layerMeta
	root  prim // its kids are the prims of the layer
	notes []comment
	size  int // number of prims
}

// layerMeta is what composition and building need of the layer's metadata;
// numbers that are not written are NaN.
type layerMeta struct {
	timeCodes, frames, start, end, meters float64
	up, defaultPrim, camera               string
	subLayers                             []arc
}

// newMeta returns metadata in which nothing is written.
func newMeta() layerMeta {
	n := math.NaN()
	return layerMeta{timeCodes: n, frames: n, start: n, end: n, meters: n}
}

// comment is an allowance found in a comment.
type comment struct {
	prim  *prim
	allow scene.Allow
}

// arc points to a layer, a prim in it, or both.
type arc struct {
	owner         *layer // that writes it
	asset         string
	path          path
	offset, scale float64
	at            extent
}

// same reports whether two arcs lead to the same place.
func (a arc) same(b arc) bool {
	return a.asset == b.asset && a.path.text == b.path.text && a.offset == b.offset && a.scale == b.scale
}

// listOp is a list that a layer sets, or edits as weaker layers have it.
type listOp struct {
	explicit                bool
	items                   []arc // when explicit
	prepend, append, delete []arc
}

// apply returns the list that results from editing a weaker one.
func (l *listOp) apply(weaker []arc) []arc {
	if l.explicit {
		return l.items
	}
	without := func(list, gone []arc) []arc {
		return slices.DeleteFunc(slices.Clone(list), func(a arc) bool {
			return slices.ContainsFunc(gone, a.same)
		})
	}
	list := without(weaker, l.delete)
	list = append(slices.Clone(l.prepend), without(list, l.prepend)...)
	return append(without(list, l.append), l.append...)
}

// empty reports whether the layer says nothing.
func (l *listOp) empty() bool {
	return !l.explicit && len(l.prepend)+len(l.append)+len(l.delete) == 0
}

// prim is a prim as one layer writes it; a variant is one too.
type prim struct {
	spec     specifier
	typ      string
	name     string
	header   extent // from its first word to its name
	nameAt   extent
	body     extent // header and block
	parent   *prim
	variant  bool // this is a variant of its parent
	kids     []*prim
	props    []*property
	variants []*variantSet

	references, payloads, inherits, specializes listOp
	selections                                  []selection
	active                                      int8 // 0 not written, 1 true, -1 false
	clips                                       bool

	kidNames  map[string]*prim
	propNames map[string]*property
}

// variantSet is a set of variants as one prim writes it.
type variantSet struct {
	name     string
	variants []*prim
}

// selection chooses a variant of a set.
type selection struct{ set, variant string }

// kid returns the child with the name, nil if none.
func (p *prim) kid(name string) *prim {
	if p.kidNames == nil && len(p.kids) < 8 {
		for _, k := range p.kids {
			if k.name == name {
				return k
			}
		}
		return nil
	}
	if len(p.kidNames) != len(p.kids) {
		p.kidNames = make(map[string]*prim, len(p.kids))
		for _, k := range p.kids {
			p.kidNames[k.name] = k
		}
	}
	return p.kidNames[name]
}

// prop returns the property with the name, nil if none.
func (p *prim) prop(name string) *property {
	if p.propNames == nil && len(p.props) < 8 {
		for _, q := range p.props {
			if q.name == name {
				return q
			}
		}
		return nil
	}
	if len(p.propNames) != len(p.props) {
		p.propNames = make(map[string]*property, len(p.props))
		for _, q := range p.props {
			p.propNames[q.name] = q
		}
	}
	return p.propNames[name]
}

// property is an attribute or relationship as one prim writes it.
type property struct {
	name     string
	typ      valueType
	relation bool
	uniform  bool
	header   extent // from its first word to its name
	value    extent // of the static value, empty when none is written
	blocked  bool   // the static value is None
	samples  *samples
	spline   *spline
	// sampled and splined are the headers of the animations.
	sampled, splined extent
	targets          listOp
}

// declared returns the header of the animation, else of the property.
func (q *property) declared() extent {
	switch {
	case q.samples != nil && q.sampled.end > q.sampled.start: // a second one may have been cut off
		return q.sampled
	case q.spline != nil && q.splined.end > q.splined.start:
		return q.splined
	}
	return q.header
}

// hasValue reports whether a static value is written.
func (q *property) hasValue() bool { return q.value.end > q.value.start }
