package bvh

import (
	"math"
	"slices"
	"strings"

	"curvelint/parse/scene"
	"curvelint/parse/text"
)

// motionHeader reads what stands between MOTION and the first frame line.
func (p *parser) motionHeader() {
	if !p.hasMotion {
		end := len(p.src)
		p.rowsStart = end
		if p.cutOff {
			return
		}
		p.problems.Add(scene.PartialExport, span(end, end), "expected MOTION with the frames, found the end of the file; export it again if it should move")
		return
	}
	timed := false
	for {
		p.i = skip(p.src, p.i, blank|lineEnd)
		if p.i == len(p.src) || startsNumber(p.src, p.i) {
			break
		}
		switch {
		case p.label("frames"):
			p.frameCount()
		case p.label("frame", "time"), p.label("frametime"):
			p.frameDuration()
			timed = true
		default:
			end := until(p.src, p.i, lineEnd)
			if end == len(p.src) {
				p.i = end // what is said below is enough
				continue
			}
			p.syntax(span(p.i, end), "expected Frames: or Frame Time: or a frame line, found %s; the line is read over", p.found(p.i, end))
			p.i = end
		}
		if timed && p.framesKnown {
			break
		}
	}
	p.rowsStart = p.i
	if p.i == len(p.src) && !(timed && p.framesKnown) {
		p.problems.Add(scene.PartialExport, span(p.i, p.i), "the file ends before the frames: expected Frames:, Frame Time: and the frame lines; export it again")
		return
	}
	if !p.framesSeen {
		p.syntax(p.motion, "expected Frames: with the number of frames after MOTION, found none; the frame lines are counted")
	}
	if !timed {
		p.syntax(p.motion, "expected Frame Time: with the seconds of one frame after MOTION, found none; give fps in the configuration")
	}
}

// startsNumber reports whether a number, good or bad, starts at i.
func startsNumber(src []byte, i int) bool {
	if _, _, ok := text.Float(src, i); ok {
		return true
	}
	return i < len(src) && strings.IndexByte("+-.0123456789", src[i]) >= 0
}

// label goes past a label of the given words with its colon, or stays before
// anything else.
func (p *parser) label(words ...string) bool {
	i := p.i
	for n, w := range words {
		if n > 0 {
			i = skip(p.src, i, blank)
		}
		if len(p.src)-i < len(w) || !strings.EqualFold(string(p.src[i:i+len(w)]), w) {
			return false
		}
		i += len(w)
	}
	after := skip(p.src, i, blank)
	if after < len(p.src) && p.src[after] == ':' {
		after++
	} else if after == i && i < len(p.src) && class[p.src[i]] == 0 {
		return false
	}
	p.i = after
	return true
}

// frameCount reads the number of frames that the file claims.
func (p *parser) frameCount() {
	start, end := p.next()
	p.framesSpan, p.framesSeen = span(start, end), true
	v, _, ok := p.number("Frames:")
	if !ok {
		return
	}
	if v < 0 || v != math.Trunc(v) || v > 1<<53 {
		p.syntax(p.framesSpan, "expected a whole number of frames, found %s; the frame lines are counted", p.found(start, end))
		return
	}
	p.frames, p.framesKnown = int(v), true
}

// frameDuration reads the seconds of one frame.
func (p *parser) frameDuration() {
	start, end := p.next()
	v, step, ok := p.number("Frame Time:")
	if !ok {
		return
	}
	if v <= 0 || v > 1e6 {
		p.syntax(span(start, end), "expected the seconds of one frame, above 0, found %s; give fps in the configuration", p.found(start, end))
		return
	}
	p.frameTime, p.timeStep = v, step
}

// defaultRate is used when the file gives no frame time.
const defaultRate = 24

// rate returns the frames per second and whether they are known.
func (p *parser) rate(o scene.ReadOptions) (float64, bool) {
	if o.Rate > 0 {
		return o.Rate, true
	}
	if p.frameTime == 0 {
		return defaultRate, false
	}
	return snap(p.frameTime, p.timeStep), true
}

// snap returns the rate of a frame time whose last printed digit counts step:
// the standard rate that rounds to these digits, a whole one before a 1000/1001
// one when they do not tell the two apart; else one whose digits were cut off
// instead of rounded; else the reciprocal.
func snap(seconds, step float64) float64 {
	rate := 1 / seconds
	for _, tolerance := range []float64{step / 2 / seconds, step / seconds} {
		r := scene.SnapRate(rate, max(tolerance, 1e-9))
		if !slices.Contains(scene.StandardRates, r) {
			continue
		}
		if whole := math.Round(r * 1.001); math.Abs(whole-rate) <= tolerance*whole {
			return whole
		}
		return r
	}
	return rate
}
