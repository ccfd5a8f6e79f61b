package contact

import (
	_ "embed"
	"fmt"

	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/diagnostics/checks/kit"
	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/note"
)

//go:embed sliding_contact.md
var slidingContactDoc string

// The settings of sliding-contact.
var (
	slidingContactSlip = kit.Number{Name: "slip", Unit: "figure", Default: 0.02, Min: 0, Max: 1, Doc: "largest net way across the floor within one contact"}
)

// SlidingContact finds planted feet that slip.
var SlidingContact = &kit.Check{
	ID:       "sliding-contact",
	Severity: note.Warning,
	Group:    kit.Contact,
	Title:    "a planted foot that slips",
	Doc:      slidingContactDoc,
	Settings: []kit.Setting{&slidingContactSlip},
	Run:      runSlidingContact,
}

func runSlidingContact(c *kit.Context) []note.Note {
	var notes []note.Note
	for _, fig := range c.Living() {
		for _, foot := range fig.Feet() {
			if c.Ctx.Err() != nil {
				return nil
			}
			notes = append(notes, slips(c, fig, foot)...)
		}
	}
	return notes
}

type slipFinding struct {
	kit.Candidate
	net float64
}

// slips finds the slips of a foot. What slips in a step is what its stillest point
// in contact does: a foot that pivots on its ball, or rolls from heel to toe, moves
// one of them and is planted.
func slips(c *kit.Context, fig *motion.Figure, foot motion.Foot) []note.Note {
	s, up := c.Study, fig.Up()
	at := make([][]motion.Contact, len(foot.Points))
	for j, i := range foot.Points {
		at[j] = fig.PointContacts(i)
	}
	var all []slipFinding
	for _, whole := range foot.Contacts {
		f, ok := slip(c, fig, foot, at, whole, up)
		if !ok || f.net <= slidingContactSlip.In(c) || !s.Judged(f.First, f.Last) || pinned(c, fig, foot, at, whole, up) {
			continue
		}
		f.Drivers = s.Drivers(f.Track, f.First, f.Last)
		all = append(all, f)
	}
	var notes []note.Note
	for _, f := range kit.OneCause(fig, all, func(f *slipFinding) *kit.Candidate { return &f.Candidate }) {
		notes = append(notes, slipNote(c, fig, foot, f))
	}
	return notes
}

// longContact is the share of a foot's contact beyond which a point stands in it, and
// does not only touch down or push off.
const longContact = 0.6

// pinned reports whether some point stands through most of a contact and is hardly
// anywhere else at its end: the little ways of a foot that rocks do not add up.
func pinned(c *kit.Context, fig *motion.Figure, foot motion.Foot, at [][]motion.Contact, whole motion.Contact, up r3.Vec) bool {
	for j, i := range foot.Points {
		for _, k := range at[j] {
			if k.First < whole.First || k.Last > whole.Last || float64(k.Last-k.First) < longContact*float64(whole.Last-whole.First) {
				continue
			}
			if fig.CarriedTrack(i).Slip(k, up).Net <= slidingContactSlip.In(c) {
				return true
			}
		}
	}
	return false
}

// slip adds up how the stillest point moves across the floor in a contact, without
// its first 1/24 s and last 2/24 s: a foot lands and rolls off there.
func slip(c *kit.Context, fig *motion.Figure, foot motion.Foot, at [][]motion.Contact, whole motion.Contact, up r3.Vec) (slipFinding, bool) {
	w := c.Study.Window(1.0 / 24)
	a, b := max(whole.First, 0)+w, min(whole.Last, c.Study.N-1)-2*w
	if b <= a {
		return slipFinding{}, false
	}
	ways := make([]r3.Vec, 1, b-a+1) // the way until each frame from a on
	stills := make([]int, len(foot.Points))
	low := make([]float64, 0, b-a)
	for f := a; f < b; f++ {
		best, step := -1, r3.Vec{}
		var steps []r3.Vec
		for j, i := range foot.Points {
			if !motion.ContactAt(at[j], f) || !motion.ContactAt(at[j], f+1) {
				continue
			}
			d := fig.CarriedTrack(i).Step(f)
			d = r3.Sub(d, r3.Scale(r3.Dot(d, up), up))
			for _, e := range append(steps, d) {
				if m := stillest(d, e); best < 0 || r3.Norm2(m) < r3.Norm2(step) {
					best, step = j, m
				}
			}
			steps = append(steps, d)
		}
		ways = append(ways, r3.Add(ways[len(ways)-1], step))
		if best >= 0 {
			stills[best]++
			low = append(low, heightOver(c, fig, foot.Points[best], a, f, up))
		}
	}
	net := r3.Norm(ways[len(ways)-1])
	if net == 0 || len(low) == 0 || lifted(low) {
		return slipFinding{}, false // a low, slow step
	}
	most := 0
	for j, n := range stills {
		if n > stills[most] {
			most = j
		}
	}
	first, last := slipFrames(ways)
	if float64(last-first) < shortestSlide*c.Study.Rate {
		return slipFinding{}, false // it is quick enough to be the beginning of a step
	}
	return slipFinding{kit.Candidate{Track: fig.CarriedTrack(foot.Points[most]), First: a + first, Last: a + last, Size: net}, net}, true
}

// stillest is the smallest step of the points between two that take the steps d and
// e: a foot may pivot on its middle.
func stillest(d, e r3.Vec) r3.Vec {
	w := r3.Sub(e, d)
	n := r3.Norm2(w)
	if n == 0 {
		return d
	}
	return r3.Add(d, r3.Scale(min(max(-r3.Dot(d, w)/n, 0), 1), w))
}

// shortestSlide is how long, in seconds, most of a slip takes at least.
const shortestSlide = 0.15

// heightOver is how much higher a point is at frame index f than at a.
func heightOver(c *kit.Context, fig *motion.Figure, i, a, f int, up r3.Vec) float64 {
	t := fig.CarriedTrack(i)
	return r3.Dot(r3.Sub(t.At(f), t.At(a)), up)
}

// liftedHeight is how far, in figure sizes, a foot that slips may rise.
const liftedHeight = 0.01

// lifted reports whether the heights leave the ground in between: a step rises over
// where it begins and where it ends, a foot that lands or rolls off only over one.
func lifted(h []float64) bool {
	hi := h[0]
	for _, v := range h {
		hi = max(hi, v)
	}
	return hi-max(h[0], h[len(h)-1]) > liftedHeight
}

// slipFrames narrows a slip, given as the way until each frame, to the frames in
// which it happens: from the last one with less than a tenth of it done to the
// first with more than nine.
func slipFrames(ways []r3.Vec) (first, last int) {
	end := ways[len(ways)-1]
	whole := r3.Norm2(end)
	done := func(i int) float64 { return r3.Dot(ways[i], end) / whole }
	last = len(ways) - 1
	for last > 0 && done(last-1) > 0.9 {
		last--
	}
	for first = last; first > 0 && done(first) >= 0.1; first-- {
	}
	return first, last
}

func slipNote(c *kit.Context, fig *motion.Figure, foot motion.Foot, f slipFinding) note.Note {
	s := c.Study
	ch := limbDriver(c, fig, f.Track.Part, f.Drivers)
	p := s.Scene.Channels[ch].Part
	n := c.Draft(p, ch, f.First, f.Last)
	n.Message = fmt.Sprintf("%s: %s slips by %s while it stands; pin it for the whole contact", c.Span(f.First, f.Last), f.Track.Name, lengthOf(c, fig, f.net))
	n.Weight = c.Weigh(fig, f.Track.Part, 2*f.Size)
	n.Measures = []note.Measure{{Name: "slip", Value: f.net, Unit: "figure"}}
	n.Causes = append(n.Causes, p, f.Track.Part)
	for _, d := range f.Drivers {
		if d.Value > 0.25 && d.Channel != ch {
			c.Relate(&n, d.Channel, f.First, "also drives it: %s, %s", c.Name(s.Scene.Channels[d.Channel].Part), kit.Share(d.Value))
		}
	}
	return n
}
