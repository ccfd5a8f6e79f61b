package write

import "strings"

// xmlSyntax is the XML encoding (ISO/IEC 19776-1).
type xmlSyntax struct{}

func (xmlSyntax) begin(x *x3d, node, def string, fields [][2]string) {
	x.endTag()
	x.begin()
	x.text("<", node)
	if def != "" {
		x.text(` DEF="`, def, `"`)
	}
	for _, f := range fields {
		x.text(" ", f[0], `="`, escape(f[1]), `"`)
	}
	x.unended = true
	x.depth++
}

func (xmlSyntax) list(x *x3d, field string, put func()) {
	x.text(" ", field, `="`)
	put()
	x.text(`"`)
}

func (xmlSyntax) end(x *x3d, node string) {
	x.depth--
	if x.unended {
		x.unended = false
		x.text("/>\n")
		return
	}
	x.line("</", node, ">")
}

func (xmlSyntax) route(x *x3d, from, to string) {
	a, b, _ := strings.Cut(from, ".")
	c, d, _ := strings.Cut(to, ".")
	x.line(`<ROUTE fromNode="`, a, `" fromField="`, b, `" toNode="`, c, `" toField="`, d, `"/>`)
}

// endTag ends a start tag that was left open for more attributes.
func (x *x3d) endTag() {
	if x.unended {
		x.unended = false
		x.text(">\n")
	}
}

// classicSyntax is the Classic VRML encoding (ISO/IEC 19776-2).
type classicSyntax struct{}

func (classicSyntax) begin(x *x3d, node, def string, fields [][2]string) {
	x.begin()
	if def != "" {
		x.text("DEF ", def, " ")
	}
	x.text(node, " {\n")
	x.depth++
	for _, f := range fields {
		x.line(f[0], " ", classicField(f[0], f[1]))
	}
	if node == "Transform" {
		x.line("children [")
		x.depth++
	}
}

// classicField writes a field's value: strings in quotes, booleans in capitals.
func classicField(name, value string) string {
	switch {
	case name == "description":
		return quote(value)
	case value == "true":
		return "TRUE"
	}
	return value
}

func (classicSyntax) list(x *x3d, field string, put func()) {
	x.begin()
	x.text(field, " [")
	put()
	x.text("]\n")
}

func (classicSyntax) end(x *x3d, node string) {
	if node == "Transform" {
		x.depth--
		x.line("]")
	}
	x.depth--
	x.line("}")
}

func (classicSyntax) route(x *x3d, from, to string) { x.line("ROUTE ", from, " TO ", to) }
