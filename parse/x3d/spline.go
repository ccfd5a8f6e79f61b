package x3d

import (
	"math"

	"curvelint/parse/scene"
)

// tangents are the derivatives of a spline by the share of a segment passed,
// one column per component: out of key i into segment i, and into key i out of
// segment i-1.
type tangents struct {
	out, in [][]float64
}

// readTangents returns the tangents of a spline interpolator (ISO/IEC 19775-1,
// clause 19, from memory): those that keyVelocity gives, else half of the way
// from the key before to the key behind, at the ends none unless the spline is
// closed. Tangents are scaled to the lengths of the two segments that meet at
// a key, so that the velocity does not jump there.
func (d *document) readTangents(m *motion, width int) *tangents {
	if len(m.times) < 2 {
		return nil
	}
	closed := d.isTrue(m.node, "closed") && m.closes()
	t := m.naturalTangents(width, closed)
	if given := d.readVelocities(m, width); given != nil {
		if d.isTrue(m.node, "normalizeVelocity") {
			m.normalize(given)
		}
		m.takeVelocities(t, given)
	}
	return m.scaleTangents(t, closed)
}

// readVelocities returns the velocities that keyVelocity gives, a column for
// each component, nil if it gives none.
func (d *document) readVelocities(m *motion, width int) [][]float64 {
	f, ok := m.node.find("keyVelocity")
	if !ok {
		return nil
	}
	r := d.numbers(f, &m.problems, "keyVelocity of "+m.node.label())
	columns := make([][]float64, width)
	for i := 0; i <= width*len(m.keys.values); i++ {
		v, _, _, ok := r.next()
		if !ok {
			break
		}
		if !isFinite(v) {
			v = 0
		}
		columns[i%width] = append(columns[i%width], v)
	}
	n, last := len(columns[0]), len(columns[width-1])
	if n == 0 {
		return nil
	}
	if n != last || n != 2 && n != len(m.keys.values) {
		m.problems.Add(scene.Syntax, span(int(f.start), int(f.end)), "expected keyVelocity of %s to have 2 velocities or one for each of %d keys; it is left out", m.node.label(), len(m.keys.values))
		return nil
	}
	return columns
}

// takeVelocities puts given velocities in the place of tangents: one for each
// key, or two for the ends. Where keys were left out the velocities belong to
// nobody knows which.
func (m *motion) takeVelocities(t, given [][]float64) {
	n := len(m.times)
	for j, column := range given {
		switch len(column) {
		case n:
			copy(t[j], column)
		case 2:
			t[j][0], t[j][n-1] = column[0], column[1]
		}
	}
}

// closes reports whether the last value is the first one again.
func (m *motion) closes() bool {
	n := len(m.times)
	for _, column := range m.values {
		if column[0] != column[n-1] {
			return false
		}
	}
	return n > 2
}

// naturalTangents returns half of the way from the key before to the key
// behind.
func (m *motion) naturalTangents(width int, closed bool) [][]float64 {
	n := len(m.times)
	out := make([][]float64, width)
	for j, v := range m.values {
		out[j] = make([]float64, n)
		for i := 1; i < n-1; i++ {
			out[j][i] = (v[i+1] - v[i-1]) / 2
		}
		if closed {
			out[j][0] = (v[1] - v[n-2]) / 2
			out[j][n-1] = out[j][0]
		}
	}
	return out
}

// normalize gives all velocities the length of the whole path, as
// normalizeVelocity asks.
func (m *motion) normalize(velocities [][]float64) {
	total := 0.0
	for i := 1; i < len(m.times); i++ {
		total += length(m.values, i, i-1)
	}
	for i := range velocities[0] {
		size := length(velocities, i, -1)
		if size == 0 {
			continue
		}
		for j := range velocities {
			velocities[j][i] *= total / size
		}
	}
}

// length returns the distance from row k to row i of columns; k < 0 is zero.
func length(columns [][]float64, i, k int) float64 {
	sum := 0.0
	for _, c := range columns {
		x := c[i]
		if k >= 0 {
			x -= c[k]
		}
		sum += x * x
	}
	return math.Sqrt(sum)
}

// scaleTangents splits each tangent into one for the segment before and one
// for the segment behind.
func (m *motion) scaleTangents(t [][]float64, closed bool) *tangents {
	made := &tangents{}
	for _, column := range t {
		out := append([]float64(nil), column...)
		in := append([]float64(nil), column...)
		for i := range column {
			before, behind := m.segment(i-1, closed), m.segment(i, closed)
			if sum := before + behind; before > 0 && behind > 0 && isFinite(sum) {
				in[i] *= 2 * before / sum
				out[i] *= 2 * behind / sum
			}
		}
		made.out, made.in = append(made.out, out), append(made.in, in)
	}
	return made
}

// segment returns the length of segment i in cycles, 0 outside of the keys of
// an open spline.
func (m *motion) segment(i int, closed bool) float64 {
	n := len(m.times)
	if closed && i < 0 {
		i = n - 2
	}
	if closed && i > n-2 {
		i = 0
	}
	if i < 0 || i > n-2 {
		return 0
	}
	return m.times[i+1] - m.times[i]
}
