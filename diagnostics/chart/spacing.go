package chart

import (
	"fmt"
	"math"

	"curvelint/diagnostics/facts"
	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/motion/track"
	"curvelint/diagnostics/words"
	"curvelint/parse/scene"
)

// Spacing draws how a part's move from one display frame to another is spaced:
// a tick for every frame along its path, straightened, and the way from each
// frame to the next as a bar. The part's tracked point is followed where it
// carries one, seen from what carries the figure, else its own motion. Motion
// on twos has a tick and a bar every second frame.
//
// An error says that there is nothing to draw: no such part or frames, or no
// motion.
func Spacing(s *motion.Study, p scene.PartID, first, last float64, o Options) ([]byte, error) {
	o = o.settled()
	r, err := asked(s, p, first, last)
	if err != nil {
		return nil, err
	}
	t := trackOf(s, p)
	if t == nil {
		return nil, still(s, p)
	}
	step := o.Step
	if step == 0 {
		step = t.Stepping()
	}
	c := spacingChart{study: s, part: p, now: spacingsOf(s, t, r, step)}
	if t := beforeTrack(o.Before, s, p, t); t != nil {
		c.before = spacingsBetween(o.Before, t, s.Frame(r.first), s.Frame(r.last), step)
	}
	c.unit = facts.UnitOf(t)
	c.beforeKey = o.Keys[1]
	c.first, c.last = s.Frame(r.first), s.Frame(r.last)
	title := fmt.Sprintf("%s spacing, %s", nameOf(s, p, t), words.Span(c.first, c.last))
	return picture(o, caption{title, c.describe()}, func(pen *pen) { c.draw(pen, title, &o) })
}

// spacings are the steps of a move: way[i] is from at[i] to at[i+1].
type spacings struct {
	at  []float64 // display frames
	way []float64 // in the unit shown
}

func spacingsOf(s *motion.Study, t *track.Track, r clip, step int) spacings {
	times := words.Times(facts.UnitOf(t))
	var out spacings
	for i := r.first; ; i += step {
		out.at = append(out.at, s.Frame(i))
		if i+step > r.last {
			break
		}
	}
	for _, v := range t.AppendSpacing(nil, r.first, r.last, step) {
		out.way = append(out.way, v*times)
	}
	return out
}

// spacingsBetween is spacingsOf for display frames of another study, which may
// not have them all.
func spacingsBetween(s *motion.Study, t *track.Track, first, last float64, step int) spacings {
	r, err := rangeOf(s, first, last)
	if err != nil {
		return spacings{}
	}
	return spacingsOf(s, t, r, step)
}

// sum is the length of the path.
func (s *spacings) sum() float64 {
	sum := 0.0
	for _, v := range s.way {
		sum += v
	}
	return sum
}

// most is the largest step.
func (s *spacings) most() float64 {
	most := 0.0
	for _, v := range s.way {
		most = max(most, v)
	}
	return most
}

type spacingChart struct {
	study       *motion.Study
	part        scene.PartID
	now, before spacings
	unit        string // by its name in package words
	beforeKey   string // what the earlier pass is called
	first, last float64
}

func (c *spacingChart) describe() string {
	said := func(k *spacings) string {
		times := words.Times(c.unit)
		return "together " + words.Amount(c.unit, k.sum()/times) + ", the largest " + words.Spacing(c.unit, k.most()/times)
	}
	s := words.Count(len(c.now.way), "spacing") + ", " + said(&c.now)
	if len(c.before.way) > 0 {
		s += "; " + c.beforeKey + " " + said(&c.before)
	}
	return s + "."
}

func (c *spacingChart) draw(p *pen, title string, o *Options) {
	rest := p.heading(title, len(c.before.way) > 0)
	strip := box{rest.x0, rest.y0, rest.x1, rest.y0 + c.stripHeight(p)}
	c.drawPath(p, strip)
	most := max(c.now.most(), c.before.most())
	b := box{rest.x0, strip.y1 + p.letter() + 8, rest.x1, rest.y1 - p.letter() - 5}
	b.x0 += p.axisRoom(most, b.height())
	c.drawBars(p, b, most, o)
}

func (c *spacingChart) stripHeight(p *pen) float64 {
	if len(c.before.way) > 0 {
		return 3.6 * p.letter()
	}
	return 2.6 * p.letter()
}

// drawPath draws the straightened path with a tick for each position, that of
// the earlier pass below it.
func (c *spacingChart) drawPath(p *pen, b box) {
	y := b.y0 + 1.9*p.letter()
	p.ticks(&c.now, b, y, p.palette.now, nil, 0.75*p.letter())
	p.tickNames(&c.now, b, y-0.75*p.letter()-3)
	if len(c.before.way) > 0 {
		p.ticks(&c.before, b, y+1.3*p.letter(), p.palette.before, beforeDash, 0.5*p.letter())
	}
}

// places returns where along a box the positions of a path lie.
func (s *spacings) places(b box) []float64 {
	x := scale{0, s.sum(), b.x0 + 2, b.x1 - 2}
	out := make([]float64, 0, len(s.way)+1)
	sum := 0.0
	for _, v := range s.way {
		out = append(out, x.at(sum))
		sum += v
	}
	return append(out, x.at(sum))
}

func (p *pen) ticks(s *spacings, b box, y float64, c colour, dash []float64, half float64) {
	at := s.places(b)
	p.line(c, 1.2, dash, point{b.x0 + 2, y}, point{b.x1 - 2, y})
	drawn := math.Inf(-1)
	for i, x := range at {
		end := i == 0 || i == len(at)-1
		if x-drawn < 1 && !end {
			continue
		}
		drawn = x
		width := 1.4
		if end {
			width = 2.4
		}
		p.line(c, width, nil, point{x, y - half}, point{x, y + half})
	}
}

// tickNames writes frame numbers over the ticks: both ends, and as many between
// as fit.
func (p *pen) tickNames(s *spacings, b box, y float64) {
	at := s.places(b)
	last := len(at) - 1
	end := words.Frame(s.at[last])
	stop := b.x1 - p.width(end) - 6
	free := math.Inf(-1)
	for i, x := range at[:last] {
		name := words.Frame(s.at[i])
		w := p.width(name)
		x0 := max(x-w/2, b.x0)
		if x0 < free+6 || x0+w > stop {
			continue
		}
		p.label(p.palette.quiet, point{x0, y}, left, name)
		free = x0 + w
	}
	p.label(p.palette.quiet, point{b.x1, y}, right, end)
}

// drawBars draws the steps of this pass as bars and those of the earlier one as
// a dashed outline.
func (c *spacingChart) drawBars(p *pen, b box, most float64, o *Options) {
	x := scale{c.first, c.last, b.x0, b.x1}
	notes := notesOn(c.study, o.Notes, c.part, c.first, c.last)
	p.noteAreas(b, x, notes)
	shown := words.UnitName(c.unit)
	unit := shown + " a frame"
	if len(c.now.at) > 1 && c.now.at[1]-c.now.at[0] > 1 {
		unit = shown + " in two frames"
	}
	if len(notes) > 0 {
		unit = shown
	}
	y := p.valueAxis(b, most, "")
	p.frameAxis(b, x, c.first, c.last)
	gap := min(2, 0.15*(x.at(c.first+1)-x.at(c.first)))
	for _, bar := range merged(&c.now, x) {
		p.fill(p.palette.now, box{bar.x0 + gap, y.at(bar.v), bar.x1 - gap, b.y1})
	}
	c.outline(p, x, y)
	free := p.width(unit) + 8
	p.label(p.palette.quiet, point{rest(b), b.y0 - 6}, left, unit)
	p.noteNames(b, x, b.x0+free, notes)
}

// rest is where the text over a value axis begins: at the edge of its numbers.
func rest(b box) float64 { return b.x0 - 5 }

// bar is a step of a move on its way into the picture.
type bar struct{ x0, x1, v float64 }

// merged returns the bars of steps; those thinner than two pixels become one of
// the largest.
func merged(s *spacings, x scale) []bar {
	var out []bar
	for i, v := range s.way {
		b := bar{x.at(s.at[i]), x.at(s.at[i+1]), v}
		if n := len(out); n > 0 && b.x1-out[n-1].x0 < 2 {
			out[n-1].x1, out[n-1].v = b.x1, max(out[n-1].v, v)
			continue
		}
		out = append(out, b)
	}
	return out
}

func (c *spacingChart) outline(p *pen, x, y scale) {
	var pts []point
	for _, bar := range merged(&c.before, x) {
		pts = append(pts, point{bar.x0, y.at(bar.v)}, point{bar.x1, y.at(bar.v)})
	}
	p.line(p.palette.paper, 4, nil, pts...)
	p.line(p.palette.before, 2, beforeDash, pts...)
}
