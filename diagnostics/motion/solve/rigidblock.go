package solve

// rigidBlock holds the local transforms of a rigid part over a block of frames,
// as columns: a unit quaternion w x y z and a shift for each.
type rigidBlock struct {
	n          int
	w, x, y, z [BlockFrames]float64
	shift      [3][BlockFrames]float64

	sin, cos [3][BlockFrames]float64
	moved    [3][BlockFrames]float64 // of one shift
	samples  []float64
}

// locals evaluates a rigid stack at n <= BlockFrames frames from frame index
// start, which is display frame first.
func (b *rigidBlock) locals(r *rigid, start int, first float64, n int) {
	b.n = n
	turned, shifted := false, false
	for i := range r.steps {
		s := &r.steps[i]
		switch s.kind {
		case turnStep:
			b.turn(s, start, first, turned)
			turned = true
		case eulerStep:
			b.euler(s.turns, start, first)
			turned = true
		case orientStep:
			b.orient(s, start, first, turned)
			turned = true
		case shiftStep:
			b.move(s, start, first, turned, shifted)
			shifted = true
		}
	}
	if !turned {
		for f := range n {
			b.w[f], b.x[f], b.y[f], b.z[f] = 1, 0, 0, 0
		}
	}
	if !shifted {
		for axis := range b.shift {
			clear(b.shift[axis][:n])
		}
	}
}

// lane returns the samples of an input's component: every step-th element.
func (b *rigidBlock) lane(in *rigidInput, value []float64, start int, first float64) (v []float64, step int) {
	c := in.curve
	w := c.Stride
	if in.everyFrame && c.Single == nil {
		at := (in.base + start) * w
		return c.Values[at+in.offset : at+b.n*w], w
	}
	b.samples = resize(b.samples, b.n*w)
	if in.everyFrame {
		copyRows(c, in.base+start, b.n, b.samples)
	} else {
		SampleCurve(c, first, b.n, value, b.samples)
	}
	return b.samples[in.offset:], w
}

// euler makes the rotations of three turns about three axes, as turn would one
// after the other. Each of the three is driven by one input.
func (b *rigidBlock) euler(turns []rigidStep, start int, first float64) {
	n := b.n
	for k := range turns {
		in := &turns[k].inputs[0]
		v, step := b.lane(in, in.fallback, start, first)
		halfTurns(b.sin[k][:n], b.cos[k][:n], v, step)
	}
	s1, s2, s3 := b.sin[0][:n], b.sin[1][:n], b.sin[2][:n]
	c1, c2, c3 := b.cos[0][:n], b.cos[1][:n], b.cos[2][:n]
	columns := [3]*[BlockFrames]float64{&b.x, &b.y, &b.z}
	one, two, three := turns[0].axis, turns[1].axis, turns[2].axis
	w, x, y, z := b.w[:n], columns[one][:n], columns[two][:n], columns[three][:n]
	// Right-handed when the axes follow each other as X, Y and Z do.
	sign := 1.0
	if two != (one+1)%3 {
		sign = -1
	}
	for f := range w {
		w0, x0, y0, z0 := c1[f]*c2[f], s1[f]*c2[f], c1[f]*s2[f], sign*(s1[f]*s2[f])
		c, s := c3[f], sign*s3[f]
		w[f], z[f] = w0*c3[f]-z0*s3[f], z0*c3[f]+w0*s3[f]
		x[f], y[f] = x0*c+y0*s, y0*c-x0*s
	}
}

// turn multiplies a turn about an axis onto the rotations from the right.
func (b *rigidBlock) turn(s *rigidStep, start int, first float64, turned bool) {
	n := b.n
	sin, cos := b.sin[0][:n], b.cos[0][:n]
	if len(s.inputs) == 0 {
		if s.value[0] == 0 && turned {
			return
		}
		halfTurns(sin[:1], cos[:1], s.value, 1)
		for f := range sin {
			sin[f], cos[f] = sin[0], cos[0]
		}
	} else {
		in := &s.inputs[len(s.inputs)-1]
		v, step := b.lane(in, in.fallback, start, first)
		halfTurns(sin, cos, v, step)
	}
	w, p, q, r := b.w[:n], b.x[:n], b.y[:n], b.z[:n]
	switch s.axis {
	case 1:
		p, q, r = q, r, p
	case 2:
		p, q, r = r, p, q
	}
	if !turned {
		copy(w, cos)
		copy(p, sin)
		clear(q)
		clear(r)
		return
	}
	// With the axes named in turn from the turning one, (w p q r)(c s 0 0).
	for f := range w {
		c, s := cos[f], sin[f]
		w0, p0, q0, r0 := w[f], p[f], q[f], r[f]
		w[f], p[f] = w0*c-p0*s, p0*c+w0*s
		q[f], r[f] = q0*c+r0*s, r0*c-q0*s
	}
}

// orient multiplies orientations, made unit length, onto the rotations.
func (b *rigidBlock) orient(s *rigidStep, start int, first float64, turned bool) {
	v, step := s.value, 0
	if len(s.inputs) > 0 {
		v, step = b.lane(&s.inputs[0], s.inputs[0].fallback, start, first)
	}
	for f := range b.n {
		q := [4]float64(v[f*step : f*step+4])
		normalise4(q[:])
		if turned {
			q = mulQuaternion([4]float64{b.w[f], b.x[f], b.y[f], b.z[f]}, q)
		}
		b.w[f], b.x[f], b.y[f], b.z[f] = q[0], q[1], q[2], q[3]
	}
}

// mulQuaternion returns a*b: b turns first.
func mulQuaternion(a, b [4]float64) [4]float64 {
	return [4]float64{
		a[0]*b[0] - a[1]*b[1] - a[2]*b[2] - a[3]*b[3],
		a[0]*b[1] + a[1]*b[0] + a[2]*b[3] - a[3]*b[2],
		a[0]*b[2] - a[1]*b[3] + a[2]*b[0] + a[3]*b[1],
		a[0]*b[3] + a[1]*b[2] - a[2]*b[1] + a[3]*b[0],
	}
}

// move adds a shift, turned by what stands before it in the stack.
func (b *rigidBlock) move(s *rigidStep, start int, first float64, turned, shifted bool) {
	to := &b.moved
	if !turned && !shifted {
		to = &b.shift
	}
	for axis := range to {
		column := to[axis][:b.n]
		for f := range column {
			column[f] = s.value[axis]
		}
	}
	for i := range s.inputs {
		in := &s.inputs[i]
		v, step := b.lane(in, in.fallback, start, first)
		column := to[in.component][:b.n]
		for f := range column {
			column[f] = v[f*step]
		}
	}
	if to == &b.shift {
		return
	}
	for f := range b.n {
		x, y, z := to[0][f], to[1][f], to[2][f]
		if turned {
			m := linearOf(b.w[f], b.x[f], b.y[f], b.z[f])
			x, y, z = m[0]*x+m[1]*y+m[2]*z, m[3]*x+m[4]*y+m[5]*z, m[6]*x+m[7]*y+m[8]*z
		}
		if shifted {
			x, y, z = x+b.shift[0][f], y+b.shift[1][f], z+b.shift[2][f]
		}
		b.shift[0][f], b.shift[1][f], b.shift[2][f] = x, y, z
	}
}

// linearOf is the matrix of a unit quaternion.
func linearOf(w, x, y, z float64) [9]float64 {
	x2, y2, z2 := x+x, y+y, z+z
	xx, yy, zz := x*x2, y*y2, z*z2
	xy, xz, yz := x*y2, x*z2, y*z2
	wx, wy, wz := w*x2, w*y2, w*z2
	return [9]float64{
		1 - (yy + zz), xy - wz, xz + wy,
		xy + wz, 1 - (xx + zz), yz - wx,
		xz - wy, yz + wx, 1 - (xx + yy),
	}
}

// at returns the rotation of frame f.
func (b *rigidBlock) at(f int) [4]float64 {
	return [4]float64{b.w[f], b.x[f], b.y[f], b.z[f]}
}

// affines writes the transforms to dst.
func (b *rigidBlock) affines(dst []Affine) {
	for f := range dst {
		r := linearOf(b.w[f], b.x[f], b.y[f], b.z[f])
		dst[f] = Affine{r[0], r[1], r[2], b.shift[0][f], r[3], r[4], r[5], b.shift[1][f], r[6], r[7], r[8], b.shift[2][f]}
	}
}

// below writes up*local to dst: the world transforms of a part below up. The
// matrix of the quaternion is written out, as in linearOf: a call for each
// frame costs as much as the product.
func (b *rigidBlock) below(up, dst []Affine) {
	n := len(dst)
	up = up[:n]
	w, x, y, z := b.w[:n], b.x[:n], b.y[:n], b.z[:n]
	sx, sy, sz := b.shift[0][:n], b.shift[1][:n], b.shift[2][:n]
	for f := range dst {
		x2, y2, z2 := x[f]+x[f], y[f]+y[f], z[f]+z[f]
		xx, yy, zz := x[f]*x2, y[f]*y2, z[f]*z2
		xy, xz, yz := x[f]*y2, x[f]*z2, y[f]*z2
		wx, wy, wz := w[f]*x2, w[f]*y2, w[f]*z2
		r0, r1, r2 := 1-(yy+zz), xy-wz, xz+wy
		r3, r4, r5 := xy+wz, 1-(xx+zz), yz-wx
		r6, r7, r8 := xz-wy, yz+wx, 1-(xx+yy)
		u, v, s := sx[f], sy[f], sz[f]
		a, d := &up[f], &dst[f]
		d[0], d[1], d[2], d[3] = a[0]*r0+a[1]*r3+a[2]*r6, a[0]*r1+a[1]*r4+a[2]*r7, a[0]*r2+a[1]*r5+a[2]*r8, a[0]*u+a[1]*v+a[2]*s+a[3]
		d[4], d[5], d[6], d[7] = a[4]*r0+a[5]*r3+a[6]*r6, a[4]*r1+a[5]*r4+a[6]*r7, a[4]*r2+a[5]*r5+a[6]*r8, a[4]*u+a[5]*v+a[6]*s+a[7]
		d[8], d[9], d[10], d[11] = a[8]*r0+a[9]*r3+a[10]*r6, a[8]*r1+a[9]*r4+a[10]*r7, a[8]*r2+a[9]*r5+a[10]*r8, a[8]*u+a[9]*v+a[10]*s+a[11]
	}
}
