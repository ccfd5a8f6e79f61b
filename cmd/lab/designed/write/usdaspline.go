package write

import (
	"io"
	"math"
	"strconv"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/cmd/lab/designed"
)

// splineTolerance is how far, in degrees or in hundredths of what the shot's
// unit was designed as, a spline may pass from the designed motion.
const splineTolerance = 0.004

// fine is how many times finer than frames the motion is looked at for slopes.
const fine = 16

// keyedShare is the same for keys as an animator would set them, as a share of
// what the component does in the whole shot.
const keyedShare = 0.01

// USDASplines writes a take with Bezier splines, one a component, on as few
// knots as carry the motion closely.
func USDASplines(w io.Writer, t *designed.Take) error { return usdaSplines(w, t, "bezier", 0) }

// USDAHermite is USDASplines with Hermite splines.
func USDAHermite(w io.Writer, t *designed.Take) error { return usdaSplines(w, t, "hermite", 0) }

// USDAKeyed writes a take with Bezier splines on few knots, as an animator would
// set them: poses, and handles as long as the strokes between want. It passes
// within 1 % of every component's range of the designed motion.
func USDAKeyed(w io.Writer, t *designed.Take) error { return usdaSplines(w, t, "bezier", keyedShare) }

// USDAMixed writes every other part with Bezier splines and the rest with a
// sample a frame, like a file of which a part was baked.
func USDAMixed(w io.Writer, t *designed.Take) error {
	s := newSplines(w, t, "bezier", 0)
	s.usda.stack = func(i int) {
		if i%2 == 0 {
			s.usda.transform(i)
		} else {
			s.transform(i)
		}
	}
	return s.write()
}

func usdaSplines(w io.Writer, t *designed.Take, kind string, share float64) error {
	return newSplines(w, t, kind, share).write()
}

func newSplines(w io.Writer, t *designed.Take, kind string, share float64) *splines {
	s := &splines{usda: newUSDA(w, t), kind: kind, share: share, close: t.Shot.TakeBetween(t.Rate, fine)}
	s.usda.stack = s.transform
	return s
}

func (s *splines) write() error {
	s.header()
	for _, root := range s.t.Shot.Roots() {
		s.prim(root)
	}
	return s.usda.close()
}

// splines writes transform stacks of single components.
type splines struct {
	*usda
	kind  string
	share float64        // of a component's range that it may be off
	close *designed.Take // the same shot, fine times as many frames
	knots []float64      // seconds at which the component was keyed, if that is told
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
			s.knots = s.t.Shot.Parts[i].Knots[c]
			component3("rotate", [...]string{"X", "Y", "Z"}[c], func(f int) float64 { return angles[f][c] }, s.t.AngleDecimals()+1, splineTolerance)
		}
		s.knots = nil
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
	f := fitSpline(s.t, at, tolerance, math.Pow10(-decimals), s.share, s.knots)
	if f == nil {
		s.begin()
		s.text(attr, " = ")
		s.number(at(0), decimals)
		s.text("\n")
		return
	}
	s.line(attr, ".spline = {")
	s.depth++
	s.line(s.kind, ",")
	last := -1
	for k := range f.keep {
		if !f.keep[k] {
			continue
		}
		var in float64
		if last >= 0 {
			var out float64
			out, in = f.slopes(last, k)
			s.text("; post curve ")
			s.tangent(f.out[last], out, decimals)
			s.text(",\n")
		}
		s.begin()
		s.text(strconv.Itoa(s.t.Frame(k)), ": ")
		s.number(at(k*fine), decimals)
		if last >= 0 {
			s.text("; pre ")
			s.tangent(f.in[k], in, decimals)
		}
		last = k
	}
	s.text(",\n")
	s.shut()
}

// tangent writes a tangent of a width in frames.
func (s *splines) tangent(width, slope float64, decimals int) {
	s.text("(")
	if s.kind == "bezier" {
		s.number(width, 8)
		s.text(", ")
	}
	s.number(slope, decimals+2)
	s.text(")")
}
