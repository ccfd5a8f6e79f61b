package bvh

import (
	"strings"

	"curvelint/parse/scene"
	"curvelint/parse/text"
)

// channelNames reads a CHANNELS statement: a count and that many names. The
// names say what the columns are; a count that disagrees is reported.
func (p *parser) channelNames(start int) {
	id, j := p.top(start, p.i)
	if j == nil {
		j = &joint{}
	}
	at, claimed := p.count()
	found := 0
	for {
		s, e := p.next()
		axis, turn, known := channelName(p.src[s:e])
		if s == e || p.keyword(s, e) || !known && found >= claimed {
			break
		}
		if e == len(p.src) { // perhaps cut off
			p.i = e
			return
		}
		p.i = e
		found++
		p.column(id, j, column{part: id, axis: axis, turn: turn, span: span(s, e)}, known)
	}
	if s, e := p.next(); s == e {
		return // the end of the file says enough
	}
	if claimed >= 0 && found != claimed {
		p.syntax(at, "expected %d channel names here as CHANNELS says, found %d; what is found is used", claimed, found)
	}
}

// count reads the number of channels, -1 when there is none.
func (p *parser) count() (scene.Span, int) {
	start, end := p.next()
	v, stop, ok := text.Float(p.src, start)
	if ok && stop == end && v >= 0 && v <= 1e9 && v == float64(int(v)) {
		p.i = end
		return span(start, end), int(v)
	}
	p.syntax(span(start, end), "expected the number of channels, found %s", p.found(start, end))
	if _, _, channel := channelName(p.src[start:end]); !channel && !p.keyword(start, end) {
		p.i = end
	}
	return span(start, end), -1
}

// column declares the next number of every frame line.
func (p *parser) column(id scene.PartID, j *joint, c column, known bool) {
	name := string(p.src[c.span.Start:c.span.End])
	switch {
	case id == scene.NoPart:
		c.part = scene.NoPart
	case !known:
		p.problems.Once(scene.Unsupported, c.span, "channel "+shortened(name), "channel "+shortened(name)+" is read over; only X, Y and Z position and rotation move a joint")
		c.part = scene.NoPart
	case !c.turn && p.declared(j, c.axis):
		p.syntax(c.span, "%s is declared twice for %s; the second is read over", name, p.parts[id].Name)
		c.part = scene.NoPart
	default:
		j.columns = append(j.columns, len(p.columns))
		p.parts[id].Kind = scene.Joint
	}
	p.columns = append(p.columns, c)
}

// declared reports whether the joint has a position channel of the axis.
func (p *parser) declared(j *joint, axis int) bool {
	for _, c := range j.columns {
		if !p.columns[c].turn && p.columns[c].axis == axis {
			return true
		}
	}
	return false
}

// channelName says what a channel's name means.
func channelName(word []byte) (axis int, turn, known bool) {
	if len(word) < 2 {
		return 0, false, false
	}
	axis = strings.IndexByte("xyz", word[0]|0x20)
	rest := string(word[1:])
	turn = strings.EqualFold(rest, "rotation")
	return max(axis, 0), turn, axis >= 0 && (turn || strings.EqualFold(rest, "position"))
}

// shortened quotes a word of the file.
func shortened(word string) string { return quote([]byte(word)) }
