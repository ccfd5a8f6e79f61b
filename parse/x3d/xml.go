package x3d

import (
	"strings"

	"curvelint/parse/scene"
	xmlscan "curvelint/parse/xml"
)

// xmlReader reads X3D in XML (ISO/IEC 19776-1).
type xmlReader struct {
	*xmlscan.Reader
	doc  *document
	open []element
}

// element is an open element: the node it belongs to and the field in which
// nodes inside it hang.
type element struct {
	node  *node
	typ   nodeType
	field string // of a fieldValue or field element, else ""
	// own is true for the element of the node itself.
	own bool
}

// readXML fills the document from XML text.
func readXML(d *document) {
	r := &xmlReader{doc: d}
	r.Reader = xmlscan.New(d.src, 0, d.maxDepth, &d.problems)
	r.OnComment = d.comment
	for {
		switch token := r.Next(); token.Kind {
		case xmlscan.EOF:
			return
		case xmlscan.Start:
			r.start(token)
		case xmlscan.End:
			r.end(token)
		}
	}
}

// start reads a start tag.
func (r *xmlReader) start(token xmlscan.Token) {
	above := element{}
	if len(r.open) > 0 {
		above = r.open[len(r.open)-1]
	} else if string(token.Name) != "X3D" {
		r.doc.syntax(span(token.Pos, token.End), "expected the root element <X3D>, found <%.40s>", token.Name)
	}
	above.own = false
	switch name := string(token.Name); name {
	case "X3D", "Scene", "head", "meta", "component", "EXPORT", "IS", "connect":
	case "unit":
		r.unit(token)
	case "ROUTE":
		r.route(token)
	case "IMPORT":
		r.doc.imports[r.imported()] = true
	case "ProtoDeclare", "ExternProtoDeclare":
		r.doc.protos[r.AttrValue("name")] = true
		r.Skip()
		return
	case "fieldValue", "field":
		above.field = r.AttrValue("name")
		if a, ok := r.Attr("value"); ok && name == "fieldValue" && above.node != nil {
			above.node.keep(above.typ, above.field, a.Start, a.End)
		}
	default:
		above = r.node(token, above)
	}
	r.open = append(r.open, above)
}

// end closes an element.
func (r *xmlReader) end(token xmlscan.Token) {
	if len(r.open) == 0 {
		return
	}
	closed := r.open[len(r.open)-1]
	r.open = r.open[:len(r.open)-1]
	if closed.own {
		closed.node.body.End = uint32(token.End)
		r.doc.finish(closed.node)
	}
}

// node reads the start tag of a node.
func (r *xmlReader) node(token xmlscan.Token, above element) element {
	hung := above.field
	if hung == "" {
		hung = "children"
	}
	if s := r.AttrValue("containerField"); s != "" {
		hung = s
	}
	typ := string(token.Name)
	if typ == "ProtoInstance" {
		typ = r.AttrValue("name")
		r.doc.protos[typ] = true
	}
	whole := span(token.Pos, token.End)
	nameAt := span(token.Pos+1, token.Pos+1+len(token.Name))
	if a, ok := r.Attr("USE"); ok {
		r.doc.addUse(above.node, hung, r.Value(a), whole, span(a.Start, a.End))
		return element{node: &node{kind: script, typ: typ}}
	}
	def := ""
	if a, ok := r.Attr("DEF"); ok {
		def, nameAt = r.Value(a), span(a.Start, a.End)
	}
	n, t := r.doc.begin(above.node, hung, typ, def)
	n.head, n.name, n.body = whole, nameAt, whole
	for _, a := range r.Attrs() {
		n.keep(t, string(a.Name), a.Start, a.End)
	}
	return element{node: n, typ: t, own: true}
}

// route reads a ROUTE element.
func (r *xmlReader) route(token xmlscan.Token) {
	at := route{
		from: r.AttrValue("fromNode"), fromField: r.AttrValue("fromField"),
		to: r.AttrValue("toNode"), toField: r.AttrValue("toField"), at: span(token.Pos, token.End),
	}
	if at.from == "" || at.fromField == "" || at.to == "" || at.toField == "" {
		r.doc.syntax(at.at, "expected fromNode, fromField, toNode and toField in ROUTE")
		return
	}
	r.doc.addRoute(at)
}

// imported returns the name under which an IMPORT element makes a node known.
func (r *xmlReader) imported() string {
	for _, name := range []string{"AS", "as", "importedDEF"} {
		if s := r.AttrValue(name); s != "" {
			return s
		}
	}
	return ""
}

// unit reads a unit element of the head.
func (r *xmlReader) unit(token xmlscan.Token) {
	a, ok := r.Attr("conversionFactor")
	factor := 0.0
	if ok {
		var faults scene.Problems
		list := r.doc.numbers(field{start: uint32(a.Start), end: uint32(a.End)}, &faults, "")
		factor, _, _, ok = list.next()
	}
	r.doc.unit(strings.TrimSpace(r.AttrValue("category")), factor, ok, span(token.Pos, token.End))
}
