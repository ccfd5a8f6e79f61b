package write

import (
	"io"
	"math"
	"strconv"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/diagnostics/designed"
)

// splineTolerance is how far, in degrees or in hundredths of what the shot's
// unit was designed as, a spline may pass from the designed motion.
const splineTolerance = 0.004

// fine is how many times finer than frames the motion is looked at for slopes.
const fine = 16

// USDASplines writes a take with Bezier splines, one a component, on as few
// knots as carry the motion: keys as an animator would set them.
func USDASplines(w io.Writer, t *designed.Take) error { return usdaSplines(w, t, "bezier") }

// USDAHermite is USDASplines with Hermite splines.
func USDAHermite(w io.Writer, t *designed.Take) error { return usdaSplines(w, t, "hermite") }

func usdaSplines(w io.Writer, t *designed.Take, kind string) error {
	s := &splines{usda: newUSDA(w, t), kind: kind, close: t.Shot.Take(t.Rate * fine)}
	s.usda.stack = s.transform
	s.header()
	for _, root := range t.Shot.Roots() {
		s.prim(root)
	}
	return s.usda.close()
}

// splines writes transform stacks of single components.
type splines struct {
	*usda
	kind  string
	close *designed.Take // the same shot, fine times as many frames
}

func (s *splines) transform(i int) {
	row := &s.close.Rows[i]
	scale := math.Pow(10, 4-float64(s.t.Decimals()-s.t.MoreDigits))
	var order []string
	component3 := func(op, axis string, at func(f int) float64, decimals int, tolerance float64) {
		attr := "xformOp:" + op + axis
		order = append(order, attr)
		s.component("double "+attr, at, decimals, tolerance)
	}
	if row.Moves || row.Move[0] != (r3.Vec{}) {
		for c, axis := range [...]string{"X", "Y", "Z"} {
			component3("translate", axis, func(f int) float64 { return component(row.Move[f], c) }, s.t.Decimals()+1, splineTolerance*scale)
		}
	}
	if angles := s.close.Angles(i, designed.OrderZYX, false); row.Turns || angles[0] != [3]float64{} {
		for _, c := range designed.OrderZYX {
			component3("rotate", [...]string{"X", "Y", "Z"}[c], func(f int) float64 { return angles[f][c] }, s.t.AngleDecimals()+1, splineTolerance)
		}
	}
	if row.Size != nil {
		for c, axis := range [...]string{"X", "Y", "Z"} {
			component3("scale", axis, func(f int) float64 { return component(row.Size[f], c) }, 6, 1e-5)
		}
	}
	if len(order) > 0 {
		s.line(`uniform token[] xformOpOrder = ["`, strings.Join(order, `", "`), `"]`)
		s.written = true
	}
}

// component writes one attribute: a value if it does not change, else a spline.
func (s *splines) component(attr string, at func(f int) float64, decimals int, tolerance float64) {
	knots := s.knots(at, tolerance)
	if knots == nil {
		s.begin()
		s.text(attr, " = ")
		s.number(at(0), decimals)
		s.text("\n")
		return
	}
	s.line(attr, ".spline = {")
	s.depth++
	s.line(s.kind, ",")
	for k, f := range knots {
		s.begin()
		s.text(strconv.Itoa(s.t.Frame(f)), ": ")
		s.number(at(f*fine), decimals)
		if k > 0 {
			s.text("; pre ")
			s.tangent(f-knots[k-1], slope(at, f*fine, -1), decimals)
		}
		if k+1 < len(knots) {
			s.text("; post curve ")
			s.tangent(knots[k+1]-f, slope(at, f*fine, 1), decimals)
		}
		s.text(",\n")
	}
	s.shut()
}

// tangent writes a tangent for a segment of n frames.
func (s *splines) tangent(n int, slope float64, decimals int) {
	s.text("(")
	if s.kind == "bezier" {
		s.number(float64(n)/3, 8)
		s.text(", ")
	}
	s.number(slope, decimals+2)
	s.text(")")
}

// slope is the change per frame at column f of the fine take, seen from the side
// dir (-1 or 1), exact for parabolas.
func slope(at func(f int) float64, f, dir int) float64 {
	return float64(dir) * fine * (4*at(f+dir) - at(f+2*dir) - 3*at(f)) / 2
}

// knots chooses the whole frames that get a knot: where rest turns into motion
// and back, extremes, and where the curve through them would miss by more than
// the tolerance. It returns nil for a value that does not change.
func (s *splines) knots(at func(f int) float64, tolerance float64) []int {
	n := s.t.N
	if n < 2 {
		return nil
	}
	keep := make([]bool, n)
	keep[0], keep[n-1] = true, true
	changes := false
	for f := 1; f < n-1; f++ {
		before, after := at(f*fine)-at((f-1)*fine), at((f+1)*fine)-at(f*fine)
		const eps = 1e-9
		keep[f] = (math.Abs(before) < eps) != (math.Abs(after) < eps) || before*after < 0
		changes = changes || math.Abs(before) > eps || math.Abs(after) > eps
	}
	if !changes && math.Abs(at(0)-at((n-1)*fine)) < 1e-9 {
		return nil
	}
	last := 0
	for f := 1; f < n; f++ {
		if keep[f] {
			bend(keep, last, f, at, tolerance)
			last = f
		}
	}
	var out []int
	for f := range keep {
		if keep[f] {
			out = append(out, f)
		}
	}
	return out
}

// bend marks in keep the frames between a and b that need a knot.
func bend(keep []bool, a, b int, at func(f int) float64, tolerance float64) {
	if b-a < 2 {
		return
	}
	d := float64(b - a)
	va, vb := at(a*fine), at(b*fine)
	ma, mb := slope(at, a*fine, 1)*d, slope(at, b*fine, -1)*d
	worst, where := tolerance, -1
	for f := a + 1; f < b; f++ {
		s := float64(f-a) / d
		h := va*(1+s*s*(2*s-3)) + ma*s*(1-s)*(1-s) + vb*s*s*(3-2*s) + mb*s*s*(s-1)
		if e := math.Abs(h - at(f*fine)); e > worst {
			worst, where = e, f
		}
	}
	if where < 0 {
		return
	}
	keep[where] = true
	bend(keep, a, where, at, tolerance)
	bend(keep, where, b, at, tolerance)
}
