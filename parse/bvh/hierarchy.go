package bvh

import (
	"fmt"
	"strings"

	"curvelint/parse/scene"
)

// block is one { } that is open: a joint or an end site.
type block struct {
	part   scene.PartID // NoPart when the block is read over
	braced bool         // its { was seen
	span   scene.Span   // keyword and name, for messages
}

type siblingName struct {
	parent scene.PartID
	name   string
}

// maxName is the longest part of a name that goes into a path, in bytes.
const maxName = 256

// hierarchy reads from the start to MOTION or the end of the file.
func (p *parser) hierarchy() {
	p.taken = make(map[siblingName]int)
	if strings.HasPrefix(string(p.src[:min(3, len(p.src))]), "\uFEFF") {
		p.i = 3
	}
	start, end := p.next()
	if p.is(start, end, "HIERARCHY") {
		p.i = end
	} else {
		p.syntax(span(start, end), "expected HIERARCHY at the start of a BVH file, found %s", p.found(start, end))
		if start < end && !p.keyword(start, end) {
			p.i = until(p.src, end, lineEnd)
		}
	}
	for p.statement() {
	}
	p.cutOff = len(p.open) > 0 && !p.hasMotion
	if len(p.open) > 0 {
		p.unclosed()
	}
	if len(p.parts) == 0 {
		p.syntax(span(start, end), "expected a ROOT with its joints before MOTION, found none")
	}
}

// statement reads one statement of the hierarchy and returns false at its end.
func (p *parser) statement() bool {
	start, end := p.next()
	if start == end {
		p.i = end
		return false
	}
	if len(p.open) > 0 && !p.open[len(p.open)-1].braced && p.src[start] != '{' {
		top := &p.open[len(p.open)-1]
		p.syntax(span(start, end), "expected { after %s, found %s", p.found(int(top.span.Start), int(top.span.End)), p.found(start, end))
		top.braced = true
	}
	p.i = end
	switch {
	case p.is(start, end, "{"):
		p.brace(start)
	case p.is(start, end, "}"):
		p.closeBlock(start)
	case p.is(start, end, "ROOT"):
		p.root(start)
	case p.is(start, end, "JOINT"):
		p.joint(start)
	case p.is(start, end, "END"), p.is(start, end, "ENDSITE"):
		p.tip(start)
	case p.is(start, end, "OFFSET"):
		p.offset(start)
	case p.is(start, end, "CHANNELS"):
		p.channelNames(start)
	case p.is(start, end, "MOTION"):
		p.hasMotion, p.motion = true, span(start, end)
		return false
	case p.keyword(start, end) && p.src[start]|0x20 == 'f':
		p.syntax(span(start, end), "expected MOTION before the frames, found %s", p.found(start, end))
		p.hasMotion, p.motion, p.i = true, span(start, end), start
		return false
	default:
		p.unknown(start, end)
	}
	return true
}

// unclosed reports blocks whose } is missing and ends them here.
func (p *parser) unclosed() {
	last := p.open[len(p.open)-1].span
	block := p.found(int(last.Start), int(last.End))
	at := p.motion
	if p.hasMotion {
		p.syntax(at, "expected } to close %s before the motion; %s", block, openBlocks(len(p.open)))
	} else {
		at = span(len(p.src), len(p.src))
		p.problems.Add(scene.PartialExport, at, "the file ends inside the hierarchy: expected } to close %s, and MOTION with the frames; export it again", block)
	}
	for len(p.open) > 0 {
		p.endBlock(int(at.Start))
	}
}

// openBlocks says how many blocks are open.
func openBlocks(n int) string {
	if n == 1 {
		return "one block is open"
	}
	return fmt.Sprintf("%d blocks are open", n)
}

func (p *parser) brace(start int) {
	if len(p.open) == 0 || p.open[len(p.open)-1].braced {
		p.syntax(span(start, start+1), "expected OFFSET, CHANNELS, JOINT, End Site or }, found another {; its block is read over")
		p.skipBlock()
		return
	}
	p.open[len(p.open)-1].braced = true
}

func (p *parser) closeBlock(start int) {
	if len(p.open) == 0 {
		p.syntax(span(start, start+1), "expected ROOT or MOTION, found a } that closes no block")
		return
	}
	p.endBlock(start + 1)
}

// endBlock ends the innermost block at offset end.
func (p *parser) endBlock(end int) {
	top := p.open[len(p.open)-1]
	p.open = p.open[:len(p.open)-1]
	if top.part == scene.NoPart {
		return
	}
	p.parts[top.part].Body.End = uint32(end)
	if !p.joints[top.part].hasOffset {
		p.syntax(top.span, "expected OFFSET x y z in %s, found none; it is taken as 0 0 0", p.found(int(top.span.Start), int(top.span.End)))
	}
}

// root begins a figure. One inside an open block means that a } is missing.
func (p *parser) root(start int) {
	if len(p.open) > 0 {
		p.syntax(span(start, p.i), "expected } before another ROOT; %s", openBlocks(len(p.open)))
		for len(p.open) > 0 {
			p.endBlock(start)
		}
	}
	p.begin(start, scene.Joint, p.name())
}

func (p *parser) joint(start int) {
	if len(p.open) == 0 {
		p.syntax(span(start, p.i), "expected ROOT before the first joint, found JOINT outside any block; it is taken as a root")
	}
	p.begin(start, scene.Joint, p.name())
}

// tip begins an End Site. Some writers give it a name.
func (p *parser) tip(start int) {
	keyword := p.i
	if from, to := p.next(); p.is(from, to, "SITE") {
		keyword, p.i = to, to
	}
	name := p.name()
	if name.Empty() {
		name = span(start, keyword)
	}
	if len(p.open) == 0 {
		p.syntax(span(start, keyword), "expected ROOT before the first end site, found it outside any block")
	}
	p.begin(start, scene.Tip, name)
}

// begin opens the block of a new part.
func (p *parser) begin(start int, kind scene.PartKind, name scene.Span) {
	b := block{part: scene.NoPart, span: span(start, int(name.End))}
	if name.Empty() {
		b.span.End = uint32(skipWord(p.src, start))
		p.syntax(b.span, "expected a name after %s, found none", p.found(start, int(b.span.End)))
	}
	parent := scene.NoPart
	if len(p.open) > 0 {
		parent = p.open[len(p.open)-1].part
	}
	switch {
	case len(p.open) > 0 && parent == scene.NoPart:
		// inside a block that is read over
	case len(p.open) >= p.maxDepth:
		p.problems.Once(scene.Syntax, b.span, "depth", "joints nested deeper than %d are left out, with their channels", p.maxDepth)
	default:
		b.part = p.addPart(parent, kind, name, b.span)
	}
	p.open = append(p.open, b)
}

// addPart adds a part, or returns NoPart when its path would make the scene
// grow out of proportion to the file.
func (p *parser) addPart(parent scene.PartID, kind scene.PartKind, at, def scene.Span) scene.PartID {
	name := string(p.src[at.Start:at.End])
	if name == "" {
		name, at = "unnamed", def
	}
	path := "/"
	if parent != scene.NoPart {
		path = p.parts[parent].Path + "/"
	}
	path += p.unique(parent, name)
	if p.pathBudget -= len(path); p.pathBudget < 0 {
		p.problems.Once(scene.Syntax, def, "names", "the names of nested joints are too long in all; the joints from here on are left out, with their channels")
		return scene.NoPart
	}
	id := scene.PartID(len(p.parts))
	p.parts = append(p.parts, scene.Part{
		ID: id, Parent: parent, Name: name, Path: path, Kind: kind,
		Rest: scene.Identity, HasRest: true, Figure: kind == scene.Joint && parent == scene.NoPart,
		Def: def, NameSpan: at, Body: span(int(def.Start), len(p.src)),
	})
	p.joints = append(p.joints, joint{})
	return id
}

// unique returns the name as the last element of a path: the second Spine
// below one parent is Spine[2].
func (p *parser) unique(parent scene.PartID, name string) string {
	if len(name) > maxName {
		name = strings.ToValidUTF8(name[:maxName], "")
	}
	for {
		key := siblingName{parent, name}
		p.taken[key]++
		if n := p.taken[key]; n > 1 {
			name = fmt.Sprintf("%s[%d]", name, n)
			continue
		}
		return name
	}
}

// top returns the joint of the innermost block, nil when the statement at
// [start, end) has none it could belong to (which is reported).
func (p *parser) top(start, end int) (scene.PartID, *joint) {
	if len(p.open) == 0 {
		p.syntax(span(start, end), "expected ROOT or MOTION, found %s outside any block", p.found(start, end))
		return scene.NoPart, nil
	}
	id := p.open[len(p.open)-1].part
	if id == scene.NoPart {
		return id, &joint{hasOffset: true}
	}
	return id, &p.joints[id]
}

// offset reads the three numbers of an OFFSET.
func (p *parser) offset(start int) {
	_, j := p.top(start, p.i)
	if j == nil {
		j = &joint{}
	}
	from := skip(p.src, p.i, blank|lineEnd)
	for axis := range j.offset {
		v, _, ok := p.number([...]string{"the x of OFFSET", "the y of OFFSET", "the z of OFFSET"}[axis])
		if ok {
			j.offset[axis] = v
		} else if s, e := p.next(); p.keyword(s, e) {
			break
		}
	}
	j.hasOffset = true
	j.offsetSpan = span(from, max(from, p.i))
}

// unknown reports a word that begins no statement and reads over its line and
// any block that follows.
func (p *parser) unknown(start, end int) {
	p.syntax(span(start, end), "expected OFFSET, CHANNELS, JOINT, End Site, ROOT, MOTION or }, found %s; the line is read over", p.found(start, end))
	p.i = until(p.src, end, lineEnd|brace)
	if p.i < len(p.src) && p.src[p.i] == '}' {
		return
	}
	if s, e := p.next(); p.is(s, e, "{") {
		p.i = e
		p.skipBlock()
	}
}

// skipBlock reads over everything up to the } that matches a { already read,
// but not past MOTION.
func (p *parser) skipBlock() {
	for depth := 1; depth > 0; {
		start, end := p.next()
		switch {
		case start == end, p.is(start, end, "MOTION"):
			return
		case p.src[start] == '{':
			depth++
		case p.src[start] == '}':
			depth--
		}
		p.i = end
	}
}
