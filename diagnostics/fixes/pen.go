package fixes

import (
	"bytes"
	"math"
	"slices"
	"strconv"
	"strings"

	"curvelint/parse/scene"
)

// pen rewrites the numbers of keys where they are written. Formats write some
// numbers in another unit than the model's (radians, an offset, a matrix on its
// side); the pen finds out how from the text itself.
type pen struct {
	sc      *scene.Scene
	edits   []Edit
	inserts map[sample]map[scene.ChannelID]float64
}

// put writes new values for a key of a channel, one for each component. A value
// that would be printed as before is left alone.
func (p *pen) put(id scene.ChannelID, key int, values []float64) error {
	c := &p.sc.Channels[id].Curve
	if c.Spans == nil {
		return errNone // the numbers are not text
	}
	if c.Stride > 1 && c.SpanStride <= 1 {
		return p.putTuple(id, key, values)
	}
	for j, v := range values {
		if err := p.number(id, key, j, v); err != nil {
			return err
		}
	}
	return nil
}

// number rewrites one component of a key that has a place of its own.
func (p *pen) number(id scene.ChannelID, key, j int, v float64) error {
	c := &p.sc.Channels[id].Curve
	at := p.sc.KeySpan(id, key, j)
	old := string(p.text(at))
	was, err := strconv.ParseFloat(old, 64)
	if err != nil {
		return refuse("the number %q cannot be rewritten", old)
	}
	factor, ok := p.factor(id, j)
	if !ok {
		return refuse("the numbers of %s are written in another form than that of the model", p.sc.Channels[id].Name)
	}
	p.replace(at, old, was+factor*(v-c.Value(key*c.Stride+j)), c.Step)
	return nil
}

func (p *pen) text(at scene.Span) []byte { return p.sc.Files[at.File].Text[at.Start:at.End] }

// replace notes an edit unless the printed number stays the same.
func (p *pen) replace(at scene.Span, old string, v, step float64) {
	if s := printed(old, v, step); s != old {
		p.edits = append(p.edits, Edit{at, s})
	}
}

// factor returns by how much the written number changes when the value in the
// model changes by one.
func (p *pen) factor(id scene.ChannelID, j int) (float64, bool) {
	c := &p.sc.Channels[id].Curve
	low, high := 0, 0
	for i := range c.Times {
		v := c.Value(i*c.Stride + j)
		if v < c.Value(low*c.Stride+j) {
			low = i
		}
		if v > c.Value(high*c.Stride+j) {
			high = i
		}
	}
	a, errA := strconv.ParseFloat(string(p.text(p.sc.KeySpan(id, low, j))), 64)
	b, errB := strconv.ParseFloat(string(p.text(p.sc.KeySpan(id, high, j))), 64)
	if errA != nil || errB != nil {
		return 0, false
	}
	span := c.Value(high*c.Stride+j) - c.Value(low*c.Stride+j)
	if span == 0 {
		return 1, alike(a, c.Value(low*c.Stride+j))
	}
	f := (b - a) / span
	if alike(f, 1) {
		f = 1
	}
	return f, f != 0 && !math.IsInf(f, 0) && !math.IsNaN(f)
}

// alike allows for what single precision and a few printed digits leave open.
func alike(a, b float64) bool { return math.Abs(a-b) <= 1e-4*max(1, math.Abs(a), math.Abs(b)) }

// putTuple rewrites a vector that has one place, number by number, in the
// order in which it is written.
func (p *pen) putTuple(id scene.ChannelID, key int, values []float64) error {
	c := &p.sc.Channels[id].Curve
	at := p.sc.KeySpan(id, key, 0)
	old := keyRow(c, key)
	places := p.numbers(at, c.Stride)
	written := make([]float64, len(places))
	for i, n := range places {
		written[i] = n.value
	}
	if len(places) == c.Stride {
		if order := orderOf(written, old); order != nil {
			for i, n := range places {
				p.replace(n.at, n.text, values[order[i]], c.Step)
			}
			return nil
		}
		if isAxisAngle(written, old) {
			for i, v := range axisAngle(values) {
				p.replace(places[i].at, places[i].text, v, c.Step)
			}
			return nil
		}
	}
	return refuse("the numbers of %s are written in another form than that of the model", p.sc.Channels[id].Name)
}

// numbers returns the n numbers of a vector: those in its brackets, or those
// that follow one another from its place on.
func (p *pen) numbers(at scene.Span, n int) []placed {
	list := numbersIn(p.text(at))
	if len(list) < n && len(list) > 0 {
		text := p.sc.Files[at.File].Text
		list = numbersIn(text[at.Start:min(len(text), int(at.Start)+n*longestNumber)])
		list = list[:min(n, len(list))]
	}
	for i := range list {
		k := &list[i]
		k.at = scene.Span{File: at.File, Start: at.Start + uint32(k.start), End: at.Start + uint32(k.end)}
		k.text = string(p.text(k.at))
	}
	return list
}

// longestNumber is how much room a number and what parts it from the next may
// take.
const longestNumber = 40

// isAxisAngle reports whether four written numbers are an axis and an angle in
// radians that mean the same turn as a quaternion (X3D's SFRotation).
func isAxisAngle(written, q []float64) bool {
	if len(written) != 4 || len(q) != 4 {
		return false
	}
	r := fromAxisAngle(written)
	dot := r[0]*q[0] + r[1]*q[1] + r[2]*q[2] + r[3]*q[3]
	return alike(math.Abs(dot), 1)
}

// fromAxisAngle returns the unit quaternion (w x y z) of a turn about an axis by
// an angle in radians; no turn for an axis without length.
func fromAxisAngle(v []float64) [4]float64 {
	n := math.Sqrt(v[0]*v[0] + v[1]*v[1] + v[2]*v[2])
	if n == 0 {
		return [4]float64{1, 0, 0, 0}
	}
	sin, cos := math.Sincos(v[3] / 2)
	return [4]float64{cos, v[0] / n * sin, v[1] / n * sin, v[2] / n * sin}
}

// axisAngle is the inverse of fromAxisAngle, for a turn of at most half a turn.
func axisAngle(q []float64) [4]float64 {
	w, x, y, z := q[0], q[1], q[2], q[3]
	if w < 0 {
		w, x, y, z = -w, -x, -y, -z
	}
	n := math.Sqrt(x*x + y*y + z*z)
	if n == 0 {
		return [4]float64{0, 1, 0, 0}
	}
	return [4]float64{x / n, y / n, z / n, 2 * math.Atan2(n, w)}
}

// orderOf returns, for each number as written, which component of the value it
// is: as it stands, a matrix on its side, or a quaternion with its real part
// last; nil when it is none of them.
func orderOf(written, value []float64) []int {
	n := len(value)
	same := make([]int, n)
	for i := range same {
		same[i] = i
	}
	orders := [][]int{same}
	switch n {
	case 4:
		orders = append(orders, []int{1, 2, 3, 0})
	case 16:
		turned := make([]int, n)
		for i := range turned {
			turned[i] = i%4*4 + i/4
		}
		orders = append(orders, turned)
	}
	for _, o := range orders {
		fits := true
		for i := range written {
			fits = fits && alike(written[i], value[o[i]])
		}
		if fits {
			return o
		}
	}
	return nil
}

// placed is a number in a text.
type placed struct {
	start, end int // in the text searched
	value      float64
	at         scene.Span
	text       string
}

// numbersIn returns the numbers of a text, up to what is none.
func numbersIn(text []byte) []placed {
	var list []placed
	for i := 0; i < len(text); {
		if !strings.ContainsRune("+-.0123456789", rune(text[i])) {
			i++
			continue
		}
		j := i
		for j < len(text) && strings.ContainsRune("+-.0123456789eE", rune(text[j])) {
			j++
		}
		v, err := strconv.ParseFloat(string(text[i:j]), 64)
		if err != nil {
			return list
		}
		list = append(list, placed{start: i, end: j, value: v})
		i = j
	}
	return list
}

// mostDecimals bounds the decimals of a printed number.
const mostDecimals = 12

// printed writes a number the way its neighbours are written: with as many
// decimals as the curve has, zeros at the end left out unless the old text has
// them.
func printed(old string, v, step float64) string {
	decimals := decimalsOf(old)
	if step > 0 {
		decimals = max(decimals, int(math.Round(-math.Log10(step))))
	}
	if decimals == 0 {
		decimals = 4 // whole numbers by chance, or a coarse export
	}
	decimals = min(decimals, mostDecimals)
	s := strconv.FormatFloat(v, 'f', decimals, 64)
	if !strings.Contains(old, ".") || !strings.HasSuffix(old, "0") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" || s == "" {
		s = "0"
	}
	return s
}

func decimalsOf(s string) int {
	if strings.ContainsAny(s, "eE") {
		return 0
	}
	if i := strings.IndexByte(s, '.'); i >= 0 {
		return len(s) - i - 1
	}
	return 0
}

// done returns the edits in the order of their places, each once: components
// share the time of a sample.
func (p *pen) done() ([]Edit, error) {
	more, err := p.insertions()
	if err != nil {
		return nil, err
	}
	edits := append(p.edits, more...)
	slices.SortStableFunc(edits, func(a, b Edit) int {
		if a.Span.File != b.Span.File {
			return int(a.Span.File) - int(b.Span.File)
		}
		return int(int64(a.Span.Start) - int64(b.Span.Start))
	})
	edits = slices.CompactFunc(edits, func(a, b Edit) bool { return a.Span == b.Span })
	if len(edits) == 0 {
		return nil, errNone
	}
	return edits, nil
}

// Apply returns the text of a file of the scene with edits made: what an
// editor does with them.
func Apply(sc *scene.Scene, file scene.FileID, edits []Edit) []byte {
	var b bytes.Buffer
	src := sc.Files[file].Text
	at := uint32(0)
	for _, e := range edits {
		if e.Span.File != file {
			continue
		}
		b.Write(src[at:e.Span.Start])
		b.WriteString(e.Text)
		at = e.Span.End
	}
	b.Write(src[at:])
	return b.Bytes()
}

// keyRow returns the components of a key.
func keyRow(c *scene.Curve, key int) []float64 {
	v := make([]float64, c.Stride)
	c.Row(key, v)
	return v
}
