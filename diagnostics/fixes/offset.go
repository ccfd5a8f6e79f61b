package fixes

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/motion/solve"
	"curvelint/diagnostics/note"
	"curvelint/diagnostics/words"
	"curvelint/parse/scene"
)

// offset1, offset2 and offset3 let the followers of parts that change on the same frames come that
// many frames later.
func offset1(s *motion.Study, n *note.Note) (Fix, error) { return offset(s, n, 1) }
func offset2(s *motion.Study, n *note.Note) (Fix, error) { return offset(s, n, 2) }
func offset3(s *motion.Study, n *note.Note) (Fix, error) { return offset(s, n, 3) }

// unit is the number of frames of one step of offset: one at 24 frames per
// second, two at 48, for less would not be seen.
func unit(rate float64) int { return max(1, int(math.Round(rate/24))) }

const (
	// blendSeconds is how long a baked channel takes to fall behind and to
	// catch up again, at least.
	blendSeconds = 0.25
	// blendPerFrame is how many frames of blend each frame of offset needs, so
	// that nothing runs backwards or much faster.
	blendPerFrame = 4
)

// follower is a group that is offset, and by how many frames.
type follower struct {
	name   string
	parts  []scene.PartID
	frames int
}

// offset moves the keys of the parts that follow. Of a pair the second follows
// by a number of steps; of several groups that change on one frame the first
// leads and the others follow by as many more each, up to three times. Authored keys
// get other times. A bake is warped: it falls behind in a blend zone before the
// change, runs late, and catches up in another zone behind it; outside
// the zones nothing changes.
func offset(s *motion.Study, n *note.Note, steps int) (Fix, error) {
	f := Fix{ID: "offset-" + strconv.Itoa(steps), Preferred: steps == 2}
	frames := steps * unit(s.Rate)
	list := followers(s, n, frames)
	if len(list) == 0 {
		return f, errNone
	}
	a, b := s.Index(n.First), s.Index(n.Last)
	ink := pen{sc: s.Scene}
	var said []string
	for _, who := range list {
		said = append(said, fmt.Sprintf("%s +%d", who.name, who.frames))
		for _, part := range who.parts {
			for _, id := range s.Channels(part) {
				if s.Scene.Channels[id].Curve.Len() < 2 || unchanging(s, &s.Scene.Channels[id].Curve, 0, s.N-1) {
					continue
				}
				if err := ink.delay(s, id, a, b, who.frames); err != nil {
					return f, err
				}
			}
		}
	}
	first, last := zones(s, a, b, frames)
	f.Title = fmt.Sprintf("Offset by %s: %s (blended within %s)", words.Count(frames, "frame"), strings.Join(said, ", "), span(s, first, last))
	f.Numbers = span(s, a, b) + ", later by: " + strings.Join(said, ", ")
	var err error
	f.Edits, err = ink.done()
	return f, err
}

// followers returns who follows: the groups of the note's parts without the
// first.
func followers(s *motion.Study, n *note.Note, frames int) []follower {
	var groups []*motion.Group
	for _, p := range n.Causes {
		fig := s.FigureOf(p)
		if fig == nil {
			continue
		}
		if g := fig.GroupOf(p); g != nil && !slices.Contains(groups, g) {
			groups = append(groups, g)
		}
	}
	var list []follower
	for i, g := range groups {
		if i > 0 {
			list = append(list, follower{g.Name, g.Parts, frames * min(i, 3)})
		}
	}
	return list
}

// delay lets a channel come later by a number of frames between the frame
// indices a and b.
func (p *pen) delay(s *motion.Study, id scene.ChannelID, a, b, frames int) error {
	c := &s.Scene.Channels[id].Curve
	if !solve.HasBake(c) {
		return p.delayKeys(s, id, a, b, frames)
	}
	first, last := zones(s, a, b, frames)
	through := float64(b + frames)
	w := func(i float64) float64 {
		late := float64(frames)
		switch {
		case i < float64(a):
			late *= smoothstep((i - float64(first)) / float64(a-first))
		case i > through && last > b+frames:
			late *= smoothstep((float64(last) - i) / (float64(last) - through))
		}
		return min(max(i-late, 0), float64(s.N-1))
	}
	end := last
	if last <= b+frames {
		end = s.N // the zone reaches the end of the clip: the last frame changes too
	}
	return p.rewarp(s, id, first, end, w)
}

// smoothstep rises from 0 to 1 with no slope at the ends: 3u^2 - 2u^3.
func smoothstep(u float64) float64 {
	u = min(max(u, 0), 1)
	return u * u * (3 - 2*u)
}

// zones returns the frame indices between which an offset of a change from a to
// b alters a bake.
func zones(s *motion.Study, a, b, frames int) (first, last int) {
	blend := max(s.Window(blendSeconds), blendPerFrame*frames)
	return max(0, a-blend), min(s.N-1, b+frames+blend)
}

// delayKeys gives the authored keys of a channel other times.
func (p *pen) delayKeys(s *motion.Study, id scene.ChannelID, a, b, frames int) error {
	c := &s.Scene.Channels[id].Curve
	if c.Spans == nil {
		return errNone
	}
	first, last := -1, -1
	for i, t := range c.Times {
		if t >= s.Frame(a)-0.5 && t <= s.Frame(b)+0.5 {
			if first < 0 {
				first = i
			}
			last = i
		}
	}
	if first < 0 {
		return nil
	}
	if last+1 < c.Len() && c.Times[last]+float64(frames) >= c.Times[last+1] {
		return refuse("the key at frame %s is in the way of those before it", words.Frame(c.Times[last+1]))
	}
	for i := first; i <= last; i++ {
		if err := p.retime(id, i, c.Times[i]+float64(frames)); err != nil {
			return err
		}
	}
	return nil
}

// retime writes another time in front of a key's value.
func (p *pen) retime(id scene.ChannelID, key int, frame float64) error {
	s, err := p.timeText(id, key, frame)
	if err != nil {
		return err
	}
	at, _, _ := p.timeOf(id, key)
	if s != string(p.text(at)) {
		p.edits = append(p.edits, Edit{at, s})
	}
	return nil
}

// timeText returns how the time of a display frame is written in front of the
// values of a channel, in whatever unit, given a key of it.
func (p *pen) timeText(id scene.ChannelID, key int, frame float64) (string, error) {
	c := &p.sc.Channels[id].Curve
	beside := key + 1
	if beside == c.Len() {
		beside = key - 1
	}
	if beside < 0 {
		return "", refuse("one key alone has no unit of time")
	}
	_, was, ok := p.timeOf(id, key)
	_, other, okToo := p.timeOf(id, beside)
	unit := (other - was) / (c.Times[beside] - c.Times[key])
	if !ok || !okToo || !(unit > 0) || math.IsInf(unit, 0) {
		return "", refuse("the time of the key at frame %s is not written in front of it", words.Frame(c.Times[key]))
	}
	v := was + unit*(frame-c.Times[key])
	return strconv.FormatFloat(math.Round(v*1e6)/1e6, 'f', -1, 64), nil
}

// timeOf returns the number in front of a key's value, "12: (0, 1, 0)", on the
// same line.
func (p *pen) timeOf(id scene.ChannelID, key int) (at scene.Span, v float64, ok bool) {
	value := p.sc.KeySpan(id, key, 0)
	text := p.sc.Files[value.File].Text
	colon := int(value.Start) - 1
	for colon >= 0 && text[colon] != ':' {
		if !strings.ContainsRune(" \t([,+-.0123456789eE", rune(text[colon])) {
			return at, 0, false
		}
		colon--
	}
	end := colon
	for end > 0 && (text[end-1] == ' ' || text[end-1] == '\t') {
		end--
	}
	start := end
	for start > 0 && strings.ContainsRune("+-.0123456789eE", rune(text[start-1])) {
		start--
	}
	if colon < 0 || start == end {
		return at, 0, false
	}
	v, err := strconv.ParseFloat(string(text[start:end]), 64)
	at = scene.Span{File: value.File, Start: uint32(start), End: uint32(end)}
	return at, v, err == nil
}
