package x3d

import (
	"strings"

	"curvelint/parse/scene"
	"curvelint/parse/text"
)

// shape says how many numbers a field takes, and of what kind.
type shape uint8

const (
	noShape  shape = iota
	one            // a number
	three          // a point or factors
	rotation       // an axis and an angle
)

// fieldShapes are the fields that may be animated, of all kinds of nodes.
var fieldShapes = map[string]shape{
	"translation": three, "scale": three, "center": three, "position": three, "location": three,
	"rotation": rotation, "scaleOrientation": rotation, "orientation": rotation,
	"weight": one, "fieldOfView": one,
}

// shape returns what the interpolator's values are.
func (k kind) shape() shape {
	switch k {
	case position, splinePos:
		return three
	case orientation, squad:
		return rotation
	case scalar, splineScalar:
		return one
	}
	return noShape
}

func (s shape) String() string {
	return [...]string{"nothing", "a number", "three numbers", "a rotation"}[s]
}

// target is a field of a node.
type target struct {
	node  *node
	field string
}

// drive is what moves a target: an interpolator by a time sensor.
type drive struct {
	clock, interp *node
}

// wiring is what the routes of a document come to.
type wiring struct {
	doc    *document
	from   map[*node][]int // the routes that leave a node
	clocks []*node         // time sensors that drive something, in the order of their routes
	drives map[target][]drive
	order  []target // the keys of drives in the order of the routes
	routed map[*node]bool
	// left bounds what routes from field to field may multiply.
	left int
}

// wire follows the routes from time sensors through interpolators to fields.
func (d *document) wire() *wiring {
	w := &wiring{doc: d, from: make(map[*node][]int), drives: make(map[target][]drive), routed: make(map[*node]bool),
		left: 1000 + 8*len(d.routes)}
	for i := range d.routes {
		r := &d.routes[i]
		if d.resolve(r) {
			w.from[r.source] = append(w.from[r.source], i)
			w.routed[r.sink] = true
		}
	}
	clocked := make(map[*node]bool)
	for i := range d.routes {
		r := &d.routes[i]
		if r.source == nil || r.sink == nil || r.source.kind != timeSensor || r.fromField != "fraction_changed" {
			continue
		}
		if w.start(r) {
			clocked[r.sink] = true
		}
	}
	w.reportIdle(clocked)
	return w
}

// resolve finds the nodes that a route names.
func (d *document) resolve(r *route) bool {
	for _, end := range []struct {
		name string
		node **node
	}{{r.from, &r.source}, {r.to, &r.sink}} {
		if *end.node == nil {
			*end.node = d.defs[end.name]
		}
		if *end.node == nil && d.imports[end.name] {
			d.leaveOut(r.at, "what comes from or goes to another file by IMPORT is left out")
			return false
		}
		if *end.node == nil {
			d.syntax(r.at, "expected the name of a node in ROUTE, found %s, which no DEF defines", text.Quote([]byte(end.name)))
			return false
		}
	}
	return true
}

// start follows one route from a time sensor; it returns whether it leads to
// an interpolator that is read.
func (w *wiring) start(r *route) bool {
	sink := r.sink
	if !sink.kind.interpolates() {
		if sink.kind == script || sink.kind == leftOut || sink.kind == unknown {
			w.doc.leaveOut(sink.head, printable(sink.typ)+" is driven by a time sensor but not read; what it moves stays still")
		}
		return false
	}
	if field := strings.TrimPrefix(r.toField, "set_"); field != "fraction" {
		w.doc.syntax(r.at, "expected a route to %s.set_fraction, found %s", printable(r.to), text.Quote([]byte(r.toField)))
		return false
	}
	if len(w.from[r.source]) > 0 && !w.hasClock(r.source) {
		w.clocks = append(w.clocks, r.source)
	}
	w.follow(drive{r.source, sink})
	return true
}

func (w *wiring) hasClock(n *node) bool {
	// Routes of one sensor mostly stand together, so look from the end.
	for i := len(w.clocks) - 1; i >= 0; i-- {
		if w.clocks[i] == n {
			return true
		}
	}
	return false
}

// follow finds all fields that a drive reaches: those its interpolator is
// routed to, and those that are routed on from there.
func (w *wiring) follow(dr drive) {
	seen := make(map[target]bool)
	queue := []target{{dr.interp, "value"}}
	for len(queue) > 0 {
		at := queue[0]
		queue = queue[1:]
		for _, i := range w.from[at.node] {
			r := &w.doc.routes[i]
			if strings.TrimSuffix(r.fromField, "_changed") != at.field {
				continue
			}
			to := target{r.sink, strings.TrimPrefix(r.toField, "set_")}
			if !seen[to] && w.reach(dr, to, r) {
				seen[to] = true
				queue = append(queue, to)
			}
		}
	}
}

// reach notes that a drive moves a field, if the field is one that is studied.
func (w *wiring) reach(dr drive, to target, r *route) bool {
	switch k := to.node.kind; {
	case k == script || k == unknown || k == leftOut:
		w.doc.leaveOut(to.node.head, printable(to.node.typ)+" is driven by an interpolator but not read; what it moves stays still")
		return false
	case k.interpolates():
		w.doc.leaveOut(r.at, "an interpolator that is driven by another one is not read; what it moves stays still")
		return false
	case k == inert || !w.doc.animates(to):
		return false
	}
	want, got := fieldShapes[to.field], dr.interp.kind.shape()
	if want != got {
		w.doc.syntax(r.at, "expected a route of %s to %s.%s, found one of %s (%s)", want, printable(r.to), printable(r.toField), got, dr.interp.typ)
		return false
	}
	if dr.interp.kind == squad {
		w.doc.leaveOut(dr.interp.head, dr.interp.typ+" is read as straight turns from key to key; how it rounds them is left out")
	}
	if w.left--; w.left < 0 {
		w.doc.leaveOut(r.at, "routes from field to field multiply too far; the rest is not followed")
		return false
	}
	if w.drives[to] == nil {
		w.order = append(w.order, to)
	}
	w.drives[to] = append(w.drives[to], dr)
	return true
}

// animates reports whether a field of a node is among what is studied.
func (d *document) animates(to target) bool {
	return fieldShapes[to.field] != noShape && d.known(to.node.typ).keeps(to.field)
}

// reportIdle notes the interpolators that move something but have no clock.
func (w *wiring) reportIdle(clocked map[*node]bool) {
	for i := range w.doc.routes {
		r := &w.doc.routes[i]
		if r.source == nil || r.sink == nil || !r.source.kind.interpolates() || clocked[r.source] {
			continue
		}
		if w.doc.animates(target{r.sink, strings.TrimPrefix(r.toField, "set_")}) {
			w.doc.leaveOut(r.source.head, "no TimeSensor is routed to this interpolator; what it moves stays still")
		}
	}
}

// clip chooses among time sensors that move the same fields: such sensors are
// clips of which one plays, all others play along. It returns what moves each
// field and the names of the clips, the chosen one first.
func (w *wiring) clip(want string) (map[target]drive, []*node) {
	rival := make(map[*node]bool)
	for _, to := range w.order {
		list := w.drives[to]
		for _, dr := range list[1:] {
			if dr.clock != list[0].clock {
				rival[dr.clock], rival[list[0].clock] = true, true
			}
		}
	}
	var clips []*node
	for _, c := range w.clocks {
		if rival[c] {
			clips = append(clips, c)
		}
	}
	for i, c := range clips {
		if c.def == want {
			copy(clips[1:i+1], clips[:i])
			clips[0] = c
			break
		}
	}
	chosen := make(map[target]drive, len(w.order))
	for _, to := range w.order {
		if dr, ok := choose(w.drives[to], rival, clips); ok {
			chosen[to] = dr
		}
	}
	return chosen, clips
}

// choose picks the drive of the chosen clip, or the one that belongs to none.
func choose(list []drive, rival map[*node]bool, clips []*node) (drive, bool) {
	for _, dr := range list {
		if !rival[dr.clock] || dr.clock == clips[0] {
			return dr, true
		}
	}
	return drive{}, false
}

// reportTwins notes fields that two interpolators of one sensor move at once.
func (w *wiring) reportTwins() {
	for _, to := range w.order {
		list := w.drives[to]
		for _, dr := range list[1:] {
			if dr.clock == list[0].clock && dr.interp != list[0].interp {
				w.doc.syntax(dr.interp.head, "expected one interpolator for %s of %s, found several; the first routed is used", to.field, to.node.label())
				break
			}
		}
	}
}

// clock is the cycle of a time sensor.
type clock struct {
	seconds float64
	slack   float64 // half a unit in the last digit printed, if it has a fraction
	loop    bool
}

// cycle reads a time sensor.
func (d *document) cycle(n *node) clock {
	c := clock{seconds: 1, loop: d.isTrue(n, "loop")}
	f, ok := n.find("cycleInterval")
	if !ok {
		return c
	}
	v := d.number(n, "cycleInterval", 1)
	if !(v > 0 && v <= maxSeconds) {
		d.syntax(span(int(f.start), int(f.end)), "expected cycleInterval of %s to be more than 0 and at most %g seconds, found %g; 1 second is used", n.label(), float64(maxSeconds), v)
		return c
	}
	c.seconds = v
	var faults scene.Problems
	r := d.numbers(f, &faults, "")
	if _, decimals, _, _ := r.next(); decimals > 0 {
		c.slack = 0.5 * text.Step(decimals)
	}
	return c
}

// maxSeconds bounds the length of a cycle: about eleven days.
const maxSeconds = 1e6
