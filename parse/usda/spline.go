package usda

import (
	"math"

	"curvelint/parse/scene"
)

// spline is an animation curve as written; times are time codes and slopes
// values per time code.
type spline struct {
	block     extent
	hermite   bool
	pre, post extrapolation
	loop      *innerLoop
	knots     []knot
}

// extrapolation is how a spline goes on outside its knots.
type extrapolation struct {
	kind  scene.Extrap
	slope float64
}

// innerLoop repeats the knots in [start, end) nPre times before and nPost
// times after, each time offset in value.
type innerLoop struct {
	start, end, offset float64
	nPre, nPost        int
	at                 extent
}

// knot is one key of a spline.
type knot struct {
	time, value          float64
	before               float64 // the value just before, value itself unless dual
	dual                 bool
	preWidth, preSlope   float64
	postWidth, postSlope float64
	next                 scene.Interp
	at                   uint32 // where the value is written
	decimals             int8
}

// spline reads { ... } after name.spline =.
func (p *parser) spline(q *property) {
	if q.typ.base != real || q.typ.rows != 0 || q.typ.array {
		p.expected("no spline for '%s': only half, float, double and timecode take one, not %s", q.name, q.typ.title())
		return
	}
	if p.peek() != '{' {
		p.expected("'{' to open the spline")
		return
	}
	start := p.pos
	s := &spline{}
	p.items('{', '}', "spline", start, func() bool { return p.splineItem(s) }, true)
	s.block = extent{uint32(start), uint32(p.pos)}
	q.spline = s
}

// splineItem reads the kind of curve, an extrapolation, the inner loop or a
// knot.
func (p *parser) splineItem(s *spline) bool {
	switch w := p.word(); w {
	case "bezier", "hermite":
		p.pos += len(w)
		s.hermite = w == "hermite"
		return true
	case "pre":
		return p.extrapolation(w, &s.pre)
	case "post":
		return p.extrapolation(w, &s.post)
	case "loop":
		return p.innerLoop(s)
	}
	k := knot{next: scene.Held}
	if !p.knot(s, &k) {
		return false
	}
	if !finite(k.time, k.value, k.before, k.preWidth, k.preSlope, k.postWidth, k.postSlope) {
		p.remark(syntax, int(k.at), p.pos, "expected finite numbers in this knot, found inf or nan; the knot is left out")
		return true
	}
	s.knots = append(s.knots, k)
	return true
}

func finite(numbers ...float64) bool {
	for _, v := range numbers {
		if v-v != 0 {
			return false
		}
	}
	return true
}

// extrapolation reads pre: or post: and what follows.
func (p *parser) extrapolation(side string, x *extrapolation) bool {
	p.pos += len(side)
	if !p.want(':', "after '"+side+"'") {
		return false
	}
	switch w := p.word(); w {
	case "none", "held", "linear":
		p.pos += len(w)
		x.kind = map[string]scene.Extrap{"none": scene.ExtrapNone, "held": scene.ExtrapHeld, "linear": scene.ExtrapLinear}[w]
		return true
	case "sloped":
		p.pos += len(w)
		x.kind = scene.ExtrapSloped
		if !p.want('(', "after 'sloped'") {
			return false
		}
		v, at, _, ok := p.plainNumber("a slope")
		if ok && !finite(v) {
			p.pos = at
			ok = p.expected("a finite slope")
		}
		x.slope = v
		return ok && p.want(')', "after the slope")
	case "loop":
		p.pos += len(w)
		w = p.word()
		kind, ok := map[string]scene.Extrap{"repeat": scene.LoopRepeat, "reset": scene.LoopReset, "oscillate": scene.LoopOscillate}[w]
		if !ok {
			return p.expected("repeat, reset or oscillate after 'loop'")
		}
		p.pos += len(w)
		x.kind = kind
		return true
	}
	return p.expected("none, held, linear, sloped(...) or loop")
}

// innerLoop reads loop: (start, end, nPre, nPost, offset).
func (p *parser) innerLoop(s *spline) bool {
	p.blank()
	start := p.pos
	p.pos += len("loop")
	if !p.want(':', "after 'loop'") {
		return false
	}
	if p.peek() != '(' {
		return p.expected("(start, end, loops before, loops after, offset)")
	}
	var v [5]float64
	n := 0
	open := p.pos
	ok := p.items('(', ')', "tuple", open, func() bool {
		if n == len(v) {
			return p.expected("')' after 5 numbers")
		}
		var ok bool
		v[n], _, _, ok = p.plainNumber("a number")
		n++
		return ok
	}, false)
	if !ok {
		return false
	}
	if n < len(v) {
		p.pos--
		return p.expected("5 numbers: (start, end, loops before, loops after, offset)")
	}
	if !finite(v[:]...) {
		p.problem(open, p.pos, "expected finite numbers in this loop")
		return false
	}
	most := float64(math.MaxInt32)
	s.loop = &innerLoop{v[0], v[1], v[4], int(max(0, min(v[2], most))), int(max(0, min(v[3], most))), extent{uint32(start), uint32(p.pos)}}
	return true
}

// knot reads time: [before &] value and the parts that follow.
func (p *parser) knot(s *spline, k *knot) bool {
	var ok bool
	if k.time, _, _, ok = p.plainNumber("the time of a knot, bezier, hermite, pre, post, loop or '}'"); !ok {
		return false
	}
	if !p.want(':', "after the time of a knot") {
		return false
	}
	v, at, decimals, ok := p.plainNumber("the value of a knot")
	if !ok {
		return false
	}
	k.before = v
	if p.eat('&') {
		k.dual = true
		if v, at, decimals, ok = p.plainNumber("the value of a knot after '&'"); !ok {
			return false
		}
	}
	k.value, k.at, k.decimals = v, uint32(at), int8(max(min(decimals, math.MaxInt8), math.MinInt8))
	for p.eat(';') {
		p.lines()
		if !p.knotPart(s, k) {
			return false
		}
	}
	return true
}

// knotPart reads pre (...), post kind (...) or { custom data }.
func (p *parser) knotPart(s *spline, k *knot) bool {
	switch w := p.word(); w {
	case "pre":
		p.pos += len(w)
		p.keyword("curve")
		return p.tangent(s, &k.preWidth, &k.preSlope)
	case "post":
		p.pos += len(w)
		w = p.word()
		kind, ok := map[string]scene.Interp{"none": scene.Blank, "held": scene.Held, "linear": scene.Linear, "curve": scene.Bezier}[w]
		if !ok {
			if p.peek() == '(' {
				return p.tangent(s, &k.postWidth, &k.postSlope)
			}
			return p.expected("none, held, linear or curve after 'post'")
		}
		p.pos += len(w)
		k.next = kind
		if p.peek() == '(' {
			return p.tangent(s, &k.postWidth, &k.postSlope)
		}
		return true
	}
	if p.peek() == '{' {
		return p.dictionary()
	}
	return p.expected("pre, post or custom data in braces after ';'")
}

// tangent reads (width, slope[, algorithm]), for Hermite splines (slope[,
// algorithm]). The algorithm says how a tool chose the numbers, which are
// taken as they are.
func (p *parser) tangent(s *spline, width, slope *float64) bool {
	if p.peek() != '(' {
		return p.expected("a tangent in parentheses")
	}
	var v []float64
	algorithm := false
	open := p.pos
	ok := p.items('(', ')', "tangent", open, func() bool {
		w := p.word()
		switch {
		case algorithm:
			return p.expected("')' after the tangent's algorithm")
		case (w == "custom" || w == "autoEase") && len(v) > 0:
			p.pos += len(w)
			algorithm = true
			return true
		case len(v) == 2:
			return p.expected("custom, autoEase or ')'")
		}
		n, _, _, ok := p.plainNumber("a number")
		v = append(v, n)
		return ok
	}, false)
	if !ok {
		return false
	}
	switch {
	case s.hermite && len(v) == 1:
		*slope = v[0]
	case !s.hermite && len(v) == 2:
		*width, *slope = v[0], v[1]
	case s.hermite:
		p.pos--
		return p.expected("(slope) for a Hermite tangent")
	default:
		p.pos--
		return p.expected("(width, slope) for a Bezier tangent")
	}
	if *width < 0 {
		p.problem(open, p.pos, "expected a width of 0 or more for this tangent")
		return false
	}
	return true
}
