package x3d

import (
	"bytes"
	"hash/maphash"
	"math"
	"runtime"
	"sync"
	"sync/atomic"

	"curvelint/parse/scene"
	"curvelint/parse/text"
)

// keyColumn are the keys of one or several interpolators: fractions of a
// cycle, ascending. Interpolators whose keys are the same text share one.
type keyColumn struct {
	at       field
	label    string // of the first interpolator, for messages
	values   []float64
	bad      []int // keys that are not finite or step back, in order
	printed  precision
	problems scene.Problems
}

// motion is what an interpolator holds, as columns: one per component, but a
// single one of quaternions.
type motion struct {
	node     *node
	keys     *keyColumn
	times    []float64 // fractions, those of keys unless some were left out
	values   [][]float64
	spans    [][]uint32
	step     []float64
	tangents *tangents // of splines, else nil
	problems scene.Problems
}

// stride is how many numbers one key of a column has.
func (m *motion) stride() int {
	if m.node.kind.shape() == rotation {
		return 4
	}
	return 1
}

// readMotions reads the interpolators in use, on all processors, and returns
// them by node. Problems are added in the order of the nodes.
func (d *document) readMotions(interps []*node) map[*node]*motion {
	motions := make(map[*node]*motion, len(interps))
	list := make([]*motion, len(interps))
	shared := newKeyTable()
	for i, n := range interps {
		list[i] = &motion{node: n, keys: shared.column(d, n)}
		motions[n] = list[i]
	}
	parallel(len(shared.all), func(i int) { d.readKeys(shared.all[i]) })
	parallel(len(list), func(i int) { d.readValues(list[i]) })
	for _, k := range shared.all {
		d.take(&k.problems)
	}
	for _, m := range list {
		d.take(&m.problems)
	}
	return motions
}

// take moves the problems of a part of the work to the document.
func (d *document) take(p *scene.Problems) {
	for _, problem := range p.List() {
		d.problems.Add(problem.Kind, problem.Span, "%s", problem.Message)
	}
}

// parallel calls work for 0 to n-1 on as many processors as there are.
func parallel(n int, work func(i int)) {
	workers := min(n, runtime.GOMAXPROCS(0))
	if workers <= 1 {
		for i := range n {
			work(i)
		}
		return
	}
	var next atomic.Int64
	var group sync.WaitGroup
	for range workers {
		group.Go(func() {
			for i := int(next.Add(1)) - 1; i < n; i = int(next.Add(1)) - 1 {
				work(i)
			}
		})
	}
	group.Wait()
}

// keyTable finds columns of keys by their text.
type keyTable struct {
	seed maphash.Seed
	by   map[uint64]*keyColumn
	all  []*keyColumn
}

func newKeyTable() *keyTable {
	return &keyTable{seed: maphash.MakeSeed(), by: make(map[uint64]*keyColumn)}
}

// column returns the column for the keys of an interpolator.
func (t *keyTable) column(d *document, n *node) *keyColumn {
	f, _ := n.find("key")
	src := d.src[f.start:f.end]
	sum := maphash.Bytes(t.seed, src)
	if k := t.by[sum]; k != nil && bytes.Equal(src, d.src[k.at.start:k.at.end]) {
		return k
	}
	k := &keyColumn{at: f, label: n.label()}
	t.by[sum] = k
	t.all = append(t.all, k)
	return k
}

// readKeys reads a column of keys.
func (d *document) readKeys(k *keyColumn) {
	r := d.numbers(k.at, &k.problems, "key of "+k.label)
	k.values = make([]float64, 0, d.tally(k.at))
	last := math.Inf(-1)
	for {
		v, decimals, at, ok := r.next()
		if !ok {
			break
		}
		switch {
		case !isFinite(v) || math.Abs(v) > maxSeconds:
			k.bad = append(k.bad, len(k.values))
		case v < last:
			k.problems.Add(scene.Syntax, span(at, r.pos), "expected the keys of %s to ascend, found %s after %g; the key is left out", k.label, text.Quote(d.src[at:r.pos]), last)
			k.bad = append(k.bad, len(k.values))
		default:
			last = v
			k.printed.add(v, decimals)
		}
		k.values = append(k.values, v)
	}
}

// tally returns how many numbers a field holds, or a little more.
func (d *document) tally(f field) int {
	n, gap := 0, true
	for _, c := range d.src[f.start:f.end] {
		b := class[c]&blank != 0
		if gap && !b {
			n++
		}
		gap = b
	}
	return n
}

// readValues reads the values of an interpolator, as many as there are keys.
func (d *document) readValues(m *motion) {
	f, written := m.node.find("keyValue")
	keys := m.keys.values
	if !written && len(keys) == 0 {
		return
	}
	shape := m.node.kind.shape()
	width := [...]int{one: 1, three: 3, rotation: 4}[shape]
	r := d.numbers(f, &m.problems, "keyValue of "+m.node.label())
	// A number takes a byte and one to part it from the next.
	n := min(len(keys), (int(f.end-f.start)/2+1)/width+1)
	var bad []int
	var count int
	if shape == rotation {
		count, bad = d.readRotations(m, &r, n)
	} else {
		count, bad = m.readColumns(&r, n, width)
	}
	m.times = keys[:count]
	d.judgeCount(m, &r, f, count, width)
	m.drop(mergeBad(m.keys.bad, bad, count))
	if k := m.node.kind; k == splinePos || k == splineScalar {
		m.tangents = d.readTangents(m, width)
	}
}

// readColumns reads n keys of width numbers, each component a column of its
// own. It returns how many keys are whole and which of them are spoilt.
func (m *motion) readColumns(r *numbers, n, width int) (count int, bad []int) {
	values := make([]float64, n*width)
	spans := make([]uint32, n*width)
	for j := range width {
		m.values = append(m.values, values[j*n:(j+1)*n])
		m.spans = append(m.spans, spans[j*n:(j+1)*n])
	}
	var printed [3]precision
	defer func() {
		for j := range width {
			m.values[j], m.spans[j] = m.values[j][:count], m.spans[j][:count]
			m.step = append(m.step, printed[j].step())
		}
	}()
	for ; count < n; count++ {
		whole := true
		for j := range width {
			v, decimals, at, ok := r.next()
			if !ok {
				return count, bad
			}
			printed[j].add(v, decimals)
			whole = whole && isFinite(v)
			m.values[j][count], m.spans[j][count] = v, uint32(at)
		}
		if !whole {
			bad = append(bad, count)
		}
	}
	return count, bad
}

// readRotations reads n keys of an axis and an angle as unit quaternions, each
// in the half of the sphere where its neighbour lies.
func (d *document) readRotations(m *motion, r *numbers, n int) (count int, bad []int) {
	values := make([]float64, 0, 4*n)
	spans := make([]uint32, 0, n)
	var printed precision
	defer func() {
		m.values, m.spans = [][]float64{values}, [][]uint32{spans}
		m.step = []float64{printed.step()}
	}()
	last := [4]float64{1}
	for ; count < n; count++ {
		v, first, ok := r.four(&printed)
		if !ok {
			break
		}
		q := quaternion(v[0], v[1], v[2], v[3]*d.radian)
		if !isFinite(v[0] + v[1] + v[2] + v[3]) {
			q = last
			bad = append(bad, count)
		}
		if q[0]*last[0]+q[1]*last[1]+q[2]*last[2]+q[3]*last[3] < 0 {
			q[0], q[1], q[2], q[3] = -q[0], -q[1], -q[2], -q[3]
		}
		values = append(values, q[0], q[1], q[2], q[3])
		spans = append(spans, uint32(first))
		last = q
	}
	return count, bad
}

// quaternion returns the unit quaternion w x y z of a turn by angle (radians)
// about an axis of any length; no axis, no turn.
func quaternion(x, y, z, angle float64) [4]float64 {
	length := math.Sqrt(x*x + y*y + z*z)
	if length == 0 || !isFinite(length) {
		return [4]float64{1}
	}
	sin, cos := math.Sincos(angle / 2)
	s := sin / length
	return [4]float64{cos, x * s, y * s, z * s}
}

// judgeCount reports when there are fewer or more values than keys ask for.
func (d *document) judgeCount(m *motion, r *numbers, f field, count, width int) {
	keys := len(m.keys.values)
	at := span(int(f.start), int(f.end))
	if f.end == 0 {
		at = m.node.head
	}
	if count < keys && d.ended && int(f.end) == len(d.src) {
		return // the early end of the file was reported
	}
	if count < keys {
		m.problems.Add(scene.PartialExport, at, "expected %d numbers in keyValue of %s, %d for each of %d keys, found enough for %d; those are used",
			keys*width, m.node.label(), width, keys, count)
		return
	}
	if _, _, at, ok := r.next(); ok {
		m.problems.Add(scene.Surplus, span(at, int(f.end)), "expected %d numbers in keyValue of %s, %d for each of %d keys; found more, which are left out; add their keys, or export again",
			keys*width, m.node.label(), width, keys)
	}
}

// mergeBad returns the keys below count that either list names, in order.
func mergeBad(a, b []int, count int) []int {
	if len(a) == 0 {
		return b
	}
	var all []int
	for len(a)+len(b) > 0 {
		var next int
		switch {
		case len(b) == 0 || len(a) > 0 && a[0] < b[0]:
			next, a = a[0], a[1:]
		case len(a) == 0 || b[0] < a[0]:
			next, b = b[0], b[1:]
		default:
			next, a, b = a[0], a[1:], b[1:]
		}
		if next < count {
			all = append(all, next)
		}
	}
	return all
}

// drop leaves out the keys at the given indices.
func (m *motion) drop(bad []int) {
	if len(bad) == 0 {
		return
	}
	m.times = without(m.times, bad, 1)
	for j := range m.values {
		m.values[j] = without(m.values[j], bad, m.stride())
		m.spans[j] = without(m.spans[j], bad, 1)
	}
}

// without returns a copy of a column of groups of the given stride without the
// groups at the indices bad.
func without[T any](column []T, bad []int, stride int) []T {
	out := make([]T, 0, len(column))
	from := 0
	for _, i := range bad {
		out = append(out, column[from*stride:i*stride]...)
		from = i + 1
	}
	return append(out, column[from*stride:]...)
}
