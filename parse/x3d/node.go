package x3d

import (
	"curvelint/parse/scene"
	"curvelint/parse/text"
)

// node is one node as written. Nodes that matter in no way (geometry without
// a DEF) are read over and have none.
type node struct {
	kind kind
	typ  string // as written
	def  string // the DEF name, "" if none
	hung string // the field of the parent that holds the node
	// use is the name of the node that stands here by USE; such a node has
	// nothing of its own but its place, and target once it is known.
	use    string
	target *node

	fields   []field
	children []*node

	head, name, body scene.Span // as in scene.Part
}

// field is a field's value as written: the bytes [start, end) of the text,
// brackets of a list and quotes of an attribute excluded.
type field struct {
	name       string
	start, end uint32
}

// find returns the node's field of the given name.
func (n *node) find(name string) (field, bool) {
	for _, f := range n.fields {
		if f.name == name {
			return f, true
		}
	}
	return field{}, false
}

// label names a node in messages: its DEF name, else its type.
func (n *node) label() string {
	if n.def != "" {
		return printable(n.def)
	}
	return printable(n.typ)
}

// printable makes a name from the file fit for a message.
func printable(name string) string {
	q := text.Quote([]byte(name))
	return q[1 : len(q)-1]
}

// route is one ROUTE statement.
type route struct {
	from, fromField, to, toField string
	source, sink                 *node // nil until resolved
	at                           scene.Span
}

// document is what a reader makes of a file: the nodes and routes, and what
// was wrong with it.
type document struct {
	src      []byte
	maxDepth int
	problems scene.Problems

	roots  []*node
	defs   map[string]*node
	routes []route
	// skipped counts by message what is left out of the study, each reported
	// once at its first place.
	skipped  []skip
	skipping map[string]int // message -> index into skipped

	// allows are the allowances found in comments, without their parts;
	// commented is where the last comment ended.
	allows    []scene.Allow
	commented int

	protos  map[string]bool // the names of declared prototypes
	imports map[string]bool // the names taken from other files
	metres  float64         // of a length unit
	radian  float64         // of an angle unit

	unresolved []*node // uses of names that nothing before them defines
	ended      bool    // the end of the text inside a node was reported

	// left is how many parts may still be made of the nodes: what USE
	// multiplies must not grow without relation to the file.
	left int
}

type skip struct {
	message string
	at      scene.Span
	count   int
}

// maxPartsBase is how many parts even a small file may have.
const maxPartsBase = 20000

func newDocument(src []byte, o scene.ReadOptions) *document {
	d := &document{
		src:      src,
		maxDepth: o.MaxDepth,
		defs:     make(map[string]*node),
		skipping: make(map[string]int),
		protos:   make(map[string]bool),
		imports:  make(map[string]bool),
		metres:   1,
		radian:   1,
		left:     maxPartsBase + len(src)/16,
	}
	if d.maxDepth <= 0 {
		d.maxDepth = 256
	}
	return d
}

func (d *document) span(start, end int) scene.Span {
	return scene.Span{Start: uint32(start), End: uint32(end)}
}

// syntax notes a fault of the text.
func (d *document) syntax(at scene.Span, message string, args ...any) {
	d.problems.Add(scene.Syntax, at, message, args...)
}

// leaveOut notes that the study lacks something, once for each message.
func (d *document) leaveOut(at scene.Span, message string) {
	if i, ok := d.skipping[message]; ok {
		d.skipped[i].count++
		return
	}
	d.skipping[message] = len(d.skipped)
	d.skipped = append(d.skipped, skip{message, at, 1})
}

// reportSkipped turns what was left out into problems.
func (d *document) reportSkipped() {
	for _, s := range d.skipped {
		if s.count > 1 {
			d.problems.Add(scene.Unsupported, s.at, "%s (%d times)", s.message, s.count)
		} else {
			d.problems.Add(scene.Unsupported, s.at, "%s", s.message)
		}
	}
}

// define enters a node under its DEF name. A name may be given again; what
// follows then means the newer node (ISO/IEC 14772, 4.6.2).
func (d *document) define(n *node) {
	if n.def != "" {
		d.defs[n.def] = n
	}
}

// addRoute enters a route, resolving the names as far as they are known.
func (d *document) addRoute(r route) {
	r.source, r.sink = d.defs[r.from], d.defs[r.to]
	d.routes = append(d.routes, r)
}

// begin makes a node below parent. A node that matters in no way is made, for
// messages, but hangs nowhere.
func (d *document) begin(parent *node, hung, typ, def string) (*node, nodeType) {
	t := d.known(typ)
	n := &node{kind: t.kind, typ: typ, def: def, hung: hung}
	d.define(n)
	d.hang(parent, n)
	return n, t
}

// finish is called when a node has been read, with its place known. What moves
// things without any route is reported here.
func (d *document) finish(n *node) {
	switch n.typ {
	case "HAnimMotion", "RigidBodyCollection":
		if n.kind == leftOut {
			d.leaveOut(n.head, n.typ+" is not read; the motion that it holds or makes is left out")
		}
	}
}

// hang puts a node below its parent, or at the top, if it can place anything.
func (d *document) hang(parent, n *node) {
	if !n.kind.places() && n.kind != displacer && n.kind != inline && n.use == "" {
		return
	}
	if parent == nil {
		d.roots = append(d.roots, n)
	} else if parent.kind != inert && parent.kind != script {
		parent.children = append(parent.children, n)
	}
}

// addUse puts what was defined under a name below parent.
func (d *document) addUse(parent *node, hung, name string, whole, nameAt scene.Span) {
	n := &node{hung: hung, use: name, target: d.defs[name], head: whole, name: nameAt, body: whole}
	if n.target == nil {
		d.unresolved = append(d.unresolved, n)
	}
	d.hang(parent, n)
}

// endInside reports that the text ends inside something, once: what contains
// it ends there too.
func (d *document) endInside(at scene.Span, what string) {
	if d.ended {
		return
	}
	d.ended = true
	d.problems.Add(scene.PartialExport, at, "the file ends inside %s; the part written so far is used", what)
}

// unit takes in a UNIT statement: one length unit of the file in metres, one
// angle unit in radians.
func (d *document) unit(category string, factor float64, ok bool, at scene.Span) {
	if category != "length" && category != "angle" {
		return
	}
	if !ok || !(factor > 0) || factor > 1e30 {
		d.syntax(at, "expected a positive factor for the unit of %s", category)
		return
	}
	if category == "length" {
		d.metres = factor
	} else {
		d.radian = factor
	}
}
