package usda

import (
	"bytes"

	"curvelint/parse/scene"
)

// isText reports whether src begins as a text layer does.
func isText(src []byte) bool {
	src = bytes.TrimPrefix(src, []byte("\uFEFF"))
	return bytes.HasPrefix(src, []byte("#usda ")) || bytes.HasPrefix(src, []byte("#sdf "))
}

// readLayer reads a whole text into a layer, and returns the problems of its
// text.
func readLayer(file scene.FileID, path string, src []byte, maxDepth int) (*layer, *scene.Problems) {
	l := &layer{file: file, path: path, src: src, meta: newMeta()}
	p := &parser{src: src, file: file, layer: l, prim: &l.root, maxDepth: maxDepth}
	p.jobs = startJobs(p)
	p.encoding()
	p.cookie()
	p.layerStatements()
	if p.jobs != nil {
		p.problems.Append(p.jobs.wait())
	}
	return l, &p.problems
}

// encoding reports bytes that are no UTF-8.
func (p *parser) encoding() {
	if i := validUTF8(p.src); i >= 0 {
		p.remark(syntax, i, i+1, "expected text in UTF-8, found the byte 0x%02X; save the file as UTF-8", p.src[i])
	}
}

// cookie reads the first line: #usda 1.0, or #sdf 1.4.32 in older files.
func (p *parser) cookie() {
	p.pos = len(p.src) - len(bytes.TrimPrefix(p.src, []byte("\uFEFF")))
	line := p.src[p.pos:]
	if n := bytes.IndexAny(line, "\r\n"); n >= 0 {
		line = line[:n]
	}
	if !isText(line) {
		p.problem(p.pos, p.pos+len(line), "expected '#usda 1.0' as the first line")
		p.bad = false
		return
	}
	version := bytes.Fields(line)[1:]
	if len(version) == 0 || !bytes.HasPrefix(version[0], []byte("1")) {
		p.problem(p.pos, p.pos+len(line), "expected version 1 in the first line, as in '#usda 1.0'; a newer version may hold what is not read here")
		p.bad = false
	}
	p.pos += len(line)
}

// layerStatements reads what follows the first line: metadata, then prims.
func (p *parser) layerStatements() {
	p.lines()
	p.metadata(layerPlace)
	for !p.bad || p.pos < len(p.src) {
		p.bad = false
		p.lines()
		if p.pos >= len(p.src) {
			return
		}
		start := p.pos
		switch p.word() {
		case "def", "over", "class":
			p.primBlock()
		case "reorder":
			p.pos += len("reorder")
			if p.word() != "rootPrims" {
				p.expected("'rootPrims' after 'reorder'")
			} else {
				p.order()
			}
			if !p.bad && !p.separator(0, false) {
				p.expected("a line end or ';' after this statement")
			}
		default:
			p.expected("'def', 'over' or 'class'")
		}
		if p.bad {
			p.recover(start, 0)
		}
	}
}
