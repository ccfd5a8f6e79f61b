package solve

import (
	"math"
	"sort"

	"curvelint/parse/scene"
)

// EvalCurve writes the value of c at time t (display frames) to dst, which has
// at least c.Stride elements, and reports whether there is one: a curve
// without keys, a blank segment and ExtrapNone have no value and leave dst as
// it is.
//
// A Bezier segment is the cubic in (time, value) through the key, the handles
// and the next key, evaluated at the root of its time polynomial; quaternions
// between linear keys run along the short great arc (slerp), between Bezier
// keys component-wise and normalised (glTF 2.0, Appendix C).
func EvalCurve(c *scene.Curve, t float64, dst []float64) bool {
	n := c.Len()
	if n == 0 {
		return false
	}
	i := keyFrom(c.Times, t)
	if i < n && c.Times[i] == t {
		c.Row(i, dst)
		return true
	}
	return evalBetween(c, i, t, dst)
}

// keyFrom returns the first key at or after t. Most curves have a key on every
// frame, of which the number of frames from the first tells which it is.
func keyFrom(times []float64, t float64) int {
	if n := t - times[0]; n > 0 && n < float64(len(times)) {
		if i := int(n); times[i] == t && times[i-min(i, 1)] < t {
			return i
		}
	}
	return sort.SearchFloat64s(times, t)
}

// evalBetween is EvalCurve for a time strictly between key i-1 and key i (i may
// be 0 or n).
func evalBetween(c *scene.Curve, i int, t float64, dst []float64) bool {
	n := c.Len()
	switch {
	case i == 0:
		return extrapolate(c, c.Pre, c.PreSlope, t, 0, dst)
	case i == n:
		return extrapolate(c, c.Post, c.PostSlope, t, n-1, dst)
	}
	return evalSegment(c, i-1, t, dst)
}

// evalSegment evaluates between key i and key i+1, t strictly inside.
func evalSegment(c *scene.Curve, i int, t float64, dst []float64) bool {
	w := c.Stride
	t0, t1 := c.Times[i], c.Times[i+1]
	switch c.SegmentInterp(i) {
	case scene.Blank:
		return false
	case scene.Held:
		c.Row(i, dst)
		return true
	case scene.Bezier:
		if c.Handles != nil {
			bezier(c, i, t, dst)
			return true
		}
	}
	s := (t - t0) / (t1 - t0)
	if w == 4 {
		var a, b [4]float64
		c.Row(i, a[:])
		c.Row(i+1, b[:])
		slerp(dst, a[:], b[:], s)
		return true
	}
	if c.PreValues != nil {
		a := c.Value(i)
		dst[0] = a + (c.PreValues[i+1]-a)*s
		return true
	}
	for j := range w {
		a, b := c.Value(i*w+j), c.Value((i+1)*w+j)
		dst[j] = a + (b-a)*s
	}
	return true
}

// bezier evaluates the Bezier segment from key i at t.
func bezier(c *scene.Curve, i int, t float64, dst []float64) {
	h, w := c.Handles, c.Stride
	t0, d := c.Times[i], c.Times[i+1]-c.Times[i]
	s := (t - t0) / d
	if h.OutT != nil {
		x1, x2 := h.OutT[i]/d, 1+h.InT[i+1]/d
		s = bezierParameter(x1, x2, s)
	}
	u := 1 - s
	b0, b1, b2, b3 := u*u*u, 3*u*u*s, 3*u*s*s, s*s*s
	for j := range w {
		v0, v1 := c.Value(i*w+j), c.Value((i+1)*w+j)
		if c.PreValues != nil {
			v1 = c.PreValues[i+1]
		}
		dst[j] = b0*v0 + b1*(v0+h.OutV[i*w+j]) + b2*(v1+h.InV[(i+1)*w+j]) + b3*v1
	}
	if w == 4 {
		normalise4(dst)
	}
}

// bezierParameter solves x(s) = 3(1-s)^2 s x1 + 3(1-s) s^2 x2 + s^3 = x for s
// in [0, 1], x(s) being monotone: Newton steps kept inside a shrinking bracket.
func bezierParameter(x1, x2, x float64) float64 {
	c1, c2, c3 := 3*x1, 3*(x2-2*x1), 1+3*(x1-x2)
	lo, hi, s := 0.0, 1.0, x
	for range 64 {
		f := ((c3*s+c2)*s+c1)*s - x
		if math.Abs(f) < 1e-15 {
			break
		}
		if f > 0 {
			hi = s
		} else {
			lo = s
		}
		next := s - f/((3*c3*s+2*c2)*s+c1)
		if !(next > lo && next < hi) {
			next = (lo + hi) / 2
		}
		if next == s {
			break
		}
		s = next
	}
	return s
}

// extrapolate evaluates outside the keys; edge is the index of the end key.
func extrapolate(c *scene.Curve, how scene.Extrap, slope, t float64, edge int, dst []float64) bool {
	w, n := c.Stride, c.Len()
	before := edge == 0 && c.PreValues != nil
	switch how {
	case scene.ExtrapNone:
		return false
	case scene.ExtrapLinear, scene.ExtrapSloped:
		if w != 1 {
			break
		}
		if how == scene.ExtrapLinear {
			slope = endSlope(c, edge)
		}
		v := c.Value(edge)
		if before {
			v = c.PreValues[0]
		}
		dst[0] = v + slope*(t-c.Times[edge])
		return true
	case scene.LoopRepeat, scene.LoopReset, scene.LoopOscillate:
		if n > 1 {
			return evalLoop(c, how, t, dst)
		}
	}
	if before {
		dst[0] = c.PreValues[0]
	} else {
		c.Row(edge, dst)
	}
	return true
}

// endSlope is the slope per frame of the curve at its first or last key, seen
// from inside.
func endSlope(c *scene.Curve, edge int) float64 {
	n := c.Len()
	if n < 2 {
		return 0
	}
	i := 0
	if edge != 0 {
		i = n - 2
	}
	d := c.Times[i+1] - c.Times[i]
	switch c.SegmentInterp(i) {
	case scene.Held, scene.Blank:
		return 0
	case scene.Bezier:
		if h := c.Handles; h != nil {
			dt, dv := d/3, 0.0
			if edge == 0 {
				dv = h.OutV[0]
				if h.OutT != nil {
					dt = h.OutT[0]
				}
			} else {
				dv = h.InV[n-1]
				dt = -d / 3
				if h.InT != nil {
					dt = h.InT[n-1]
				}
			}
			if dt == 0 {
				return 0
			}
			return dv / dt
		}
	}
	return (c.Value(i+1) - c.Value(i)) / d
}

// evalLoop evaluates a looping extrapolation by folding t into the keys' range.
func evalLoop(c *scene.Curve, how scene.Extrap, t float64, dst []float64) bool {
	w, n := c.Stride, c.Len()
	t0, span := c.Times[0], c.Times[n-1]-c.Times[0]
	cycle := math.Floor((t - t0) / span)
	in := t0 + math.Min(math.Max(t-t0-cycle*span, 0), span)
	if how == scene.LoopOscillate && math.Mod(math.Abs(cycle), 2) == 1 {
		in = t0 + span - (in - t0)
	}
	i := sort.SearchFloat64s(c.Times, in)
	if i < n && c.Times[i] == in {
		c.Row(i, dst)
	} else if !evalSegment(c, i-1, in, dst) {
		return false
	}
	if how == scene.LoopRepeat && w == 1 {
		dst[0] += cycle * (c.Value(n-1) - c.Value(0))
	}
	return true
}

// slerp writes the point s of the short great arc from a to b (unit
// quaternions, w x y z) to dst, normalised.
func slerp(dst, a, b []float64, s float64) {
	dot := a[0]*b[0] + a[1]*b[1] + a[2]*b[2] + a[3]*b[3]
	sign := 1.0
	if dot < 0 {
		dot, sign = -dot, -1
	}
	p, q := 1-s, s
	if dot < 0.9995 {
		th := math.Acos(dot)
		k := 1 / math.Sin(th)
		p, q = math.Sin((1-s)*th)*k, math.Sin(s*th)*k
	}
	q *= sign
	for j := range 4 {
		dst[j] = p*a[j] + q*b[j]
	}
	normalise4(dst)
}

// normalise4 scales the quaternion q to unit length; zero becomes the identity.
func normalise4(q []float64) {
	n := math.Sqrt(q[0]*q[0] + q[1]*q[1] + q[2]*q[2] + q[3]*q[3])
	if n == 0 {
		q[0], q[1], q[2], q[3] = 1, 0, 0, 0
		return
	}
	for j := range 4 {
		q[j] /= n
	}
}

// SampleCurve evaluates c at the n whole frames first, first+1, ... into dst
// (n*stride). Frames without a value take fallback (stride elements). It walks
// the keys once.
func SampleCurve(c *scene.Curve, first float64, n int, fallback, dst []float64) {
	w, keys := c.Stride, c.Len()
	i := sort.SearchFloat64s(c.Times, first)
	if i+n <= keys && c.Times[i] == first && c.Times[i+n-1] == first+float64(n-1) {
		// A bake on whole frames: the columns are already what we want. Ascending
		// times with both ends right are whole frames unless some lie between.
		if wholeFrames(c.Times[i:i+n], first) {
			copyRows(c, i, n, dst)
			return
		}
	}
	for f := range n {
		t := first + float64(f)
		for i < keys && c.Times[i] < t {
			i++
		}
		out := dst[f*w : (f+1)*w]
		if i < keys && c.Times[i] == t {
			c.Row(i, out)
		} else if keys == 0 || !evalBetween(c, i, t, out) {
			copy(out, fallback)
		}
	}
}

// copyRows writes n keys from key i to dst.
func copyRows(c *scene.Curve, i, n int, dst []float64) {
	w := c.Stride
	if c.Single == nil {
		copy(dst, c.Values[i*w:(i+n)*w])
		return
	}
	for k, v := range c.Single[i*w : (i+n)*w] {
		dst[k] = float64(v)
	}
}

// wholeFrames reports whether times are first, first+1, first+2, ...
func wholeFrames(times []float64, first float64) bool {
	for i, t := range times {
		if t != first+float64(i) {
			return false
		}
	}
	return true
}
