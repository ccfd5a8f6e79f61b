package gltf

import (
	"slices"
	"sync"
	"sync/atomic"

	"curvelint/parse/scene"
)

// valuesPerByte bounds how many numbers are decoded for a byte of the file and
// its buffers. Accessors may overlap, so that a small file could ask for more
// numbers than there is memory.
const valuesPerByte = 4

// shape is what an accessor is read as: keys of so many numbers.
type shape struct {
	width int
	// cubic keys have three times as many: tangent, value, tangent.
	cubic bool
	// quaternion keys stay together and are turned from x y z w to w x y z;
	// of others each component becomes a column.
	quaternion bool
	// share numbers are parts of a whole, whatever the accessor says.
	share bool
}

// staysSingle reports whether numbers in single precision stay so: not those of
// one component, which may be times, nor those with tangents, which are few.
func (sh shape) staysSingle() bool { return !sh.cubic && sh.width >= 3 }

// columnKey is an accessor read as a shape.
type columnKey struct {
	accessor int
	shape    shape
}

// output is an accessor, decoded once its job has run. For quaternions values[0] holds all keys, else
// values[j] component j.
type output struct {
	n               int
	in, values, out [][]float64 // in and out are nil unless cubic
	single          [][]float32 // in place of values, which then is nil
	float32         bool
	step            float64 // of whole numbers, else 0
	lacking         bool    // it was reported that some are missing
	failed          bool    // it was reported that it cannot be decoded
}

// read returns an accessor as a shape; nil, with a problem, when it cannot be.
// at is where the reference to it stands.
func (p *parser) read(index int, at scene.Span, sh shape) *output {
	key := columnKey{index, sh}
	if o, ok := p.columns[key]; ok {
		return o
	}
	o := p.decode(index, at, sh)
	p.columns[key] = o
	return o
}

func (p *parser) decode(index int, at scene.Span, sh shape) *output {
	if index < 0 || index >= len(p.accessors) {
		if index >= 0 || !at.Empty() {
			p.missing(at, "accessor", index, len(p.accessors))
		}
		return nil
	}
	a := &p.accessors[index]
	width, ok := p.widthOf(a, sh)
	if !ok {
		return nil
	}
	perKey := sh.width
	if sh.cubic {
		perKey *= 3
	}
	elements := perKey / width // of a key
	o := &output{float32: a.component == 5126}
	if a.count%elements != 0 {
		o.lacking = true
		p.problems.Add(scene.PartialExport, a.countSpan, "expected a multiple of %d elements in this accessor, found %d; the keys that are whole are used", elements, a.count)
	}
	n := a.count / elements
	bl := block{component: a.component}
	if a.view >= 0 {
		found := 0
		if bl, found, ok = p.locate(a, a.span, n*elements, width*componentSizes[a.component]); !ok {
			return nil
		}
		o.lacking = found < n*elements
		n = found / elements
	}
	if n > p.budget/perKey {
		p.tooMany(a.span)
		return nil
	}
	p.budget -= n * perKey
	if top, whole := largest[a.component]; whole && (a.normalized || sh.share) {
		bl.scale, o.step = top, 1/top
	}
	o.n = n
	j := &job{o: o, a: a, block: bl, n: n * elements, width: width, lanes: o.lanes(sh, o.float32 && a.sparse == nil && sh.staysSingle())}
	p.jobs = append(p.jobs, j)
	return o
}

// tooMany reports that the budget is spent.
func (p *parser) tooMany(at scene.Span) {
	p.problems.Once(scene.Unsupported, at, "budget", "the accessors ask for more numbers than buffers of this size are given; those from here on are left out")
}

// job is an accessor whose numbers are still to be decoded into an output.
type job struct {
	o     *output
	a     *accessor
	block block // of nothing when the accessor is all zeros
	n     int   // elements
	width int
	lanes []lane
	err   error
}

// run decodes the jobs with the given number of goroutines.
func (p *parser) run(workers int) {
	var next atomic.Int64
	work := func() {
		for {
			i := int(next.Add(1)) - 1
			if i >= len(p.jobs) {
				return
			}
			if j := p.jobs[i]; j.block.b != nil {
				j.err = j.block.read(j.n, j.width, slices.Clone(j.lanes))
			}
		}
	}
	var wg sync.WaitGroup
	for range min(workers, len(p.jobs)) - 1 {
		wg.Go(work)
	}
	work()
	wg.Wait()
	for _, j := range p.jobs {
		if j.err != nil {
			j.o.failed = true
			p.corrupt(j.block.b, j.err)
		} else if j.a.sparse != nil {
			p.override(j.a, j.block.scale, j.width, j.n, j.lanes)
		}
	}
	p.jobs = nil
}

// widthOf checks the type of an accessor against a shape and returns its
// number of components.
func (p *parser) widthOf(a *accessor, sh shape) (int, bool) {
	width := kindWidths[a.kind]
	switch {
	case a.count < 0:
		if !p.r.failed && a.countSpan.Empty() {
			p.syntax(a.span, "expected count in this accessor; it is left out")
		}
	case componentSizes[a.component] == 0:
		p.syntax(a.span, "expected a componentType of 5120, 5121, 5122, 5123, 5125 or 5126, found %d; this accessor is left out", a.component)
	case width == 0:
		p.syntax(a.span, "expected a type such as SCALAR or VEC3, found %s; this accessor is left out", quote(a.kind))
	case width != sh.width && width != 1 || sh.quaternion && width != 4:
		p.syntax(a.span, "expected an accessor of %s a value, found %s; it is left out", plural(sh.width, "number"), quote(a.kind))
	default:
		return width, true
	}
	return 0, false
}

// lanes makes the columns of an output and returns where each number of a key
// goes.
func (o *output) lanes(sh shape, single bool) []lane {
	if single {
		return o.singleLanes(sh)
	}
	groups := []*[][]float64{&o.values}
	if sh.cubic {
		groups = []*[][]float64{&o.in, &o.values, &o.out}
	}
	var lanes []lane
	for _, group := range groups {
		if sh.quaternion {
			all := make([]float64, 4*o.n)
			*group = [][]float64{all}
			for _, place := range [...]int{1, 2, 3, 0} { // x y z w
				lanes = append(lanes, lane{to: all, pos: place, step: 4})
			}
			continue
		}
		all := make([]float64, sh.width*o.n)
		for j := range sh.width {
			column := all[j*o.n : (j+1)*o.n : (j+1)*o.n]
			*group = append(*group, column)
			lanes = append(lanes, lane{to: column, step: 1})
		}
	}
	return lanes
}

// singleLanes is lanes in single precision.
func (o *output) singleLanes(sh shape) []lane {
	all := make([]float32, sh.width*o.n)
	var lanes []lane
	if sh.quaternion {
		o.single = [][]float32{all}
		for _, place := range [...]int{1, 2, 3, 0} { // x y z w
			lanes = append(lanes, lane{single: all, pos: place, step: 4})
		}
		return lanes
	}
	for j := range sh.width {
		column := all[j*o.n : (j+1)*o.n : (j+1)*o.n]
		o.single = append(o.single, column)
		lanes = append(lanes, lane{single: column, step: 1})
	}
	return lanes
}

// columns returns the number of columns of values.
func (o *output) columns() int { return len(o.values) + len(o.single) }

// override puts the elements of a sparse accessor in their places.
func (p *parser) override(a *accessor, scale float64, width, elements int, lanes []lane) {
	s := a.sparse
	if s.count <= 0 {
		return
	}
	s.values.component = a.component
	switch s.indices.component {
	case 5121, 5123, 5125:
	default:
		p.syntax(s.span, "expected a componentType of 5121, 5123 or 5125 for the indices of a sparse accessor, found %d", s.indices.component)
		return
	}
	if s.indices.view < 0 || s.values.view < 0 {
		p.syntax(s.span, "expected a bufferView for the indices and for the values of a sparse accessor")
		return
	}
	where, n, ok := p.locate(&s.indices, s.span, s.count, componentSizes[s.indices.component])
	if !ok {
		return
	}
	what, m, ok := p.locate(&s.values, s.span, min(n, s.count), width*componentSizes[a.component])
	if !ok || m > p.budget/(width+1) {
		return
	}
	p.budget -= m * (width + 1)
	what.scale = scale
	index, value := make([]float64, m), make([]float64, m*width)
	if where.read(m, 1, []lane{{to: index, step: 1}}) != nil || what.read(m, width, []lane{{to: value, step: 1}}) != nil {
		return
	}
	for i, e := range index {
		if int(e) >= elements {
			p.problems.Once(scene.Syntax, s.span, "sparse", "the sparse accessor replaces element %d of %d", int(e), elements)
			continue
		}
		for c := range width {
			q := int(e)*width + c
			l := &lanes[q%len(lanes)]
			l.to[l.pos+q/len(lanes)*l.step] = value[i*width+c]
		}
	}
}
