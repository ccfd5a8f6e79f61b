package scene

// ChannelID is an index into Scene.Channels.
type ChannelID int32

// NoChannel stands for the absence of a channel.
const NoChannel ChannelID = -1

// Quantity says what a channel's numbers measure.
type Quantity uint8

// The quantities.
const (
	Length     Quantity = iota // scene units
	Angle                      // degrees
	Factor                     // scale
	Quaternion                 // w x y z, stride 4
	Transform                  // matrix, column-vector, row-major, stride 16
	Share                      // a shape weight
	Number                     // anything else
)

// Channel is one animated value: a scalar component of a translate, rotate or
// scale op, a whole quaternion or matrix, a shape weight or a free number.
type Channel struct {
	Part PartID
	// Op indexes the part's Ops, or is NoOp.
	Op int
	// Component is the first component of the op that the channel drives; it
	// drives Curve.Stride of them.
	Component int
	// Name is short and unique within the part, in the file's own words where
	// it has any: "rotateXYZ.x", "Zrotation", "translate.y", "weight".
	Name     string
	Quantity Quantity
	Curve    Curve
	Def      Span // the attribute's header: where the channel is declared
	Block    Span // the whole text of its animation, for re-reading
}

// Interp is how a curve runs from one key to the next.
type Interp uint8

// The interpolations. Linear means the short great arc (slerp) for a
// quaternion and component-wise for a matrix.
const (
	Linear Interp = iota
	Held          // the key's value until the next key
	Bezier        // a cubic with the handles of Curve.Handles
	Blank         // no value in between (USD "none", a None sample)
)

// Extrap is how a curve goes on outside its keys.
type Extrap uint8

// The extrapolations.
const (
	ExtrapHeld    Extrap = iota
	ExtrapLinear         // with the slope of the end segment
	ExtrapSloped         // with a slope of its own
	LoopRepeat           // repeats, each cycle offset so that it joins
	LoopReset            // repeats without offset
	LoopOscillate        // every other cycle runs backwards
	ExtrapNone           // no value
)

// Curve is the animation of one channel, as columns. For n keys and stride w,
// Times has n elements and Values n*w; component j of key i is Values[i*w+j].
type Curve struct {
	// Times are strictly ascending display frames. Several curves may share
	// one column.
	Times  []float64
	Values []float64
	Stride int
	// Single has the values in place of Values when the file stores them in
	// single precision, which halves their memory; then Values is nil. Value
	// and Row read either.
	Single []float32

	// Default is the interpolation of every segment when Interp is nil;
	// else Interp[i] runs from key i to key i+1 (len n; the last is unused).
	Default Interp
	Interp  []Interp
	// Handles is nil unless some segment is a Bezier.
	Handles *Handles
	// PreValues is nil unless some key has two values: then PreValues[i] is
	// the value just before key i (len n, stride 1 curves only).
	PreValues []float64

	Pre, Post           Extrap
	PreSlope, PostSlope float64 // per frame, for ExtrapSloped

	// File is where the keys are written. Spans[i*SpanStride+j] is the byte
	// offset of the first byte of the value of key i, component j; a nil
	// Spans means that keys have no place of their own (notes then sit on
	// the channel's Def). SpanStride is 1 or Stride. Use Scene.KeySpan.
	File       FileID
	Spans      []uint32
	SpanStride int

	// Step is the size of one unit in the last printed decimal, the largest
	// precision among the keys (0.001 when some key has three decimals); 0
	// when unknown.
	Step float64
	// Float32 is true when the format stores single precision.
	Float32 bool
}

// Handles are the control points of Bezier segments, as offsets from the key:
// the segment from key i to i+1 is the cubic through
//
//	(t_i, v_i), (t_i+OutT_i, v_i+OutV_i), (t_i+1+InT_i+1, v_i+1+InV_i+1), (t_i+1, v_i+1)
//
// with InT negative as a rule. OutT and InT are frames (len n); nil means a
// third of the segment, so that a Hermite segment with slope m per frame and
// length d has OutV = m*d/3. OutV and InV are len n*stride.
type Handles struct {
	InT, OutT []float64
	InV, OutV []float64
}

// Len returns the number of keys.
func (c *Curve) Len() int { return len(c.Times) }

// Value returns element i of the values: component j of key k is element
// k*Stride+j.
func (c *Curve) Value(i int) float64 {
	if c.Single != nil {
		return float64(c.Single[i])
	}
	return c.Values[i]
}

// Row writes the components of key i to dst, which has at least Stride elements.
func (c *Curve) Row(i int, dst []float64) {
	w := c.Stride
	if c.Single == nil {
		copy(dst, c.Values[i*w:(i+1)*w])
		return
	}
	for j, v := range c.Single[i*w : (i+1)*w] {
		dst[j] = float64(v)
	}
}

// Numbers returns how many values there are.
func (c *Curve) Numbers() int { return len(c.Values) + len(c.Single) }

// Doubles returns all values in double precision: those of the curve, which
// must not be written to, or a copy.
func (c *Curve) Doubles() []float64 {
	if c.Single == nil {
		return c.Values
	}
	all := make([]float64, len(c.Single))
	for i, v := range c.Single {
		all[i] = float64(v)
	}
	return all
}

// SegmentInterp returns the interpolation from key i to key i+1.
func (c *Curve) SegmentInterp(i int) Interp {
	if c.Interp == nil {
		return c.Default
	}
	return c.Interp[i]
}

// KeySpan returns where component j of key i of the channel is written, or the
// channel's Def when keys have no place of their own. While the text of the file
// is put away the span is open: it has a Start, but its End is 0.
func (s *Scene) KeySpan(ch ChannelID, i, j int) Span {
	c := &s.Channels[ch]
	k := &c.Curve
	if k.Spans == nil || i < 0 || i >= k.Len() {
		return c.Def
	}
	if k.SpanStride <= 1 {
		j = 0
	}
	start := k.Spans[i*max(k.SpanStride, 1)+j]
	if s.Files[k.File].Away > 0 {
		return Span{File: k.File, Start: start}
	}
	return Span{File: k.File, Start: start, End: uint32(ValueEnd(s.Files[k.File].Text, int(start)))}
}

// Closed returns the span of a key with its end where it is open, which takes
// the text of its file.
func (s *Scene) Closed(span Span) Span {
	if span.End < span.Start && s.Files[span.File].Away == 0 {
		span.End = uint32(ValueEnd(s.Files[span.File].Text, int(span.Start)))
	}
	return span
}

// ValueEnd returns the offset just past the value that starts at offset start
// of src: a bracketed group to its closing bracket, else a run of bytes up to
// white space, a comma, a semicolon, a closing bracket, a quote or a '<'.
func ValueEnd(src []byte, start int) int {
	if start >= len(src) {
		return len(src)
	}
	if c := src[start]; c == '(' || c == '[' {
		depth := 0
		for i := start; i < len(src); i++ {
			switch src[i] {
			case '(', '[':
				depth++
			case ')', ']':
				if depth--; depth == 0 {
					return i + 1
				}
			}
		}
		return len(src)
	}
	for i := start; i < len(src); i++ {
		switch src[i] {
		case ' ', '\t', '\r', '\n', ',', ';', ')', ']', '}', '"', '\'', '<':
			if i == start {
				return start + 1
			}
			return i
		}
	}
	return len(src)
}
