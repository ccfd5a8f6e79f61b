package contact

import (
	_ "embed"
	"fmt"

	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/diagnostics/checks/kit"
	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/motion/track"
	"curvelint/diagnostics/note"
)

//go:embed sliding_contact.md
var slidingContactDoc string

// The settings of sliding-contact.
var (
	slidingContactSlip = kit.Number{Name: "slip", Unit: "figure", Default: 0.02, Min: 0, Max: 1, Doc: "largest net way across the floor within one contact"}
)

// The limits of sliding-contact.
var (
	slidingContactLongContact = kit.Limit{Name: "long_contact", Value: 0.6, Unit: "ratio",
		Doc:    "a point that is in contact for this share of its foot stands, and does not only touch down or push off",
		Source: "common practice, no source"}
	slidingContactShortestSlide = kit.Limit{Name: "shortest_slide", Value: 0.15, Unit: "s",
		Doc:    "most of a slip takes at least so long; what is quicker begins a step",
		Source: "common practice, no source"}
	slidingContactLifted = kit.Limit{Name: "lifted", Value: 0.01, Unit: "figure",
		Doc:    "a foot that rises more over both ends of its slip takes a low, slow step",
		Source: "common practice, no source"}
	slidingContactDone = kit.Limit{Name: "done", Value: 0.1, Unit: "ratio",
		Doc:    "the slip is named from this share of its way to as much before its end",
		Source: "common practice, no source"}
	slidingContactLanding = kit.Limit{Name: "landing", Value: 1, Unit: "count",
		Doc:    "so many film frames at the start of a contact belong to the landing",
		Source: "common practice, no source"}
	slidingContactRollingOff = kit.Limit{Name: "rolling_off", Value: 2, Unit: "count",
		Doc:    "so many at its end to the roll-off",
		Source: "common practice, no source"}
	slidingContactAlsoDrives = kit.Limit{Name: "also_drives", Value: 0.25, Unit: "ratio",
		Doc:    "a channel with more of the motion is named as well",
		Source: "ground rule of the tool"}
)

// SlidingContact finds planted feet that slip.
var SlidingContact = &kit.Check{
	ID:       "sliding-contact",
	Severity: note.Warning,
	Group:    kit.Contact,
	Title:    "a planted foot that slips",
	Doc:      slidingContactDoc,
	Settings: []kit.Setting{&slidingContactSlip},
	Limits:   []*kit.Limit{&slidingContactLongContact, &slidingContactShortestSlide, &slidingContactLifted, &slidingContactDone, &slidingContactLanding, &slidingContactRollingOff, &slidingContactAlsoDrives, &limbShare, &kit.FilmFrame, &smallestFigure, &largestFigure},
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

// slide is a foot that goes across the floor while it stands.
type slide struct {
	kit.Candidate
	net float64
}

// slips finds the slips of a foot. What slips in a step is what its stillest point
// in contact does: a foot that pivots on its ball, or rolls from heel to toe, moves
// one of them and is planted.
func slips(c *kit.Context, fig *motion.Figure, foot motion.Foot) []note.Note {
	s, up := c.Study, fig.Up()
	at := make([][]track.Contact, len(foot.Points))
	for j, i := range foot.Points {
		at[j] = fig.PointContacts(i)
	}
	var all []slide
	for _, whole := range foot.Contacts {
		f, ok := slip(c, fig, foot, at, whole, up)
		if !ok || f.net <= slidingContactSlip.In(c) || !s.Judged(f.First, f.Last) || standsThrough(c, fig, foot, at, whole, up) {
			continue
		}
		f.Drivers = s.Drivers(f.Track, f.First, f.Last)
		all = append(all, f)
	}
	var notes []note.Note
	for _, f := range kit.OneCause(fig, all, func(f *slide) *kit.Candidate { return &f.Candidate }) {
		notes = append(notes, slipNote(c, fig, foot, f))
	}
	return notes
}

// standsThrough reports whether some point stands through most of a contact and is hardly
// anywhere else at its end: the little ways of a foot that rocks do not add up.
func standsThrough(c *kit.Context, fig *motion.Figure, foot motion.Foot, at [][]track.Contact, whole track.Contact, up r3.Vec) bool {
	for j, i := range foot.Points {
		for _, k := range at[j] {
			if k.First < whole.First || k.Last > whole.Last || float64(k.Last-k.First) < slidingContactLongContact.Value*float64(whole.Last-whole.First) {
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
// its landing and its roll-off: a foot lands and rolls off there.
func slip(c *kit.Context, fig *motion.Figure, foot motion.Foot, at [][]track.Contact, whole track.Contact, up r3.Vec) (slide, bool) {
	w := kit.FilmFrame.Frames(c.Study.Rate)
	a := max(whole.First, 0) + int(slidingContactLanding.Value)*w
	b := min(whole.Last, c.Study.N-1) - int(slidingContactRollingOff.Value)*w
	if b <= a {
		return slide{}, false
	}
	ways := make([]r3.Vec, 1, b-a+1) // the way until each frame from a on
	stills := make([]int, len(foot.Points))
	low := make([]float64, 0, b-a)
	for f := a; f < b; f++ {
		best, step := -1, r3.Vec{}
		var steps []r3.Vec
		for j, i := range foot.Points {
			if !track.ContactAt(at[j], f) || !track.ContactAt(at[j], f+1) {
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
		return slide{}, false // a low, slow step
	}
	most := 0
	for j, n := range stills {
		if n > stills[most] {
			most = j
		}
	}
	first, last := slipFrames(ways)
	if float64(last-first) < slidingContactShortestSlide.Value*c.Study.Rate {
		return slide{}, false // it is quick enough to be the beginning of a step
	}
	return slide{kit.Candidate{Track: fig.CarriedTrack(foot.Points[most]), First: a + first, Last: a + last, Size: net}, net}, true
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

// heightOver is how much higher a point is at frame index f than at a.
func heightOver(c *kit.Context, fig *motion.Figure, i, a, f int, up r3.Vec) float64 {
	t := fig.CarriedTrack(i)
	return r3.Dot(r3.Sub(t.At(f), t.At(a)), up)
}

// lifted reports whether the heights leave the ground in between: a step rises over
// where it begins and where it ends, a foot that lands or rolls off only over one.
func lifted(h []float64) bool {
	hi := h[0]
	for _, v := range h {
		hi = max(hi, v)
	}
	return hi-max(h[0], h[len(h)-1]) > slidingContactLifted.Value
}

// slipFrames narrows a slip, given as the way until each frame, to the frames in
// which it happens: from the last one with less than a tenth of it done to the
// first with more than nine.
func slipFrames(ways []r3.Vec) (first, last int) {
	end := ways[len(ways)-1]
	whole := r3.Norm2(end)
	done := func(i int) float64 { return r3.Dot(ways[i], end) / whole }
	last = len(ways) - 1
	for last > 0 && done(last-1) > 1-slidingContactDone.Value {
		last--
	}
	for first = last; first > 0 && done(first) >= slidingContactDone.Value; first-- {
	}
	return first, last
}

func slipNote(c *kit.Context, fig *motion.Figure, foot motion.Foot, f slide) note.Note {
	s := c.Study
	ch := limbDriver(c, fig, f.Track.Part, f.Drivers)
	p := s.Scene.Channels[ch].Part
	n := c.Draft(p, ch, f.First, f.Last)
	n.Message = fmt.Sprintf("%s: %s slips by %s while it stands; pin it for the whole contact", c.Span(f.First, f.Last), f.Track.Name, lengthOf(c, fig, f.net))
	n.Weight = c.Weigh(fig, f.Track.Part, 2*f.Size)
	n.Measures = []note.Measure{{Name: "slip", Value: f.net, Unit: "figure"}}
	n.Causes = append(n.Causes, p, f.Track.Part)
	for _, d := range f.Drivers {
		if d.Value > slidingContactAlsoDrives.Value && d.Channel != ch {
			c.Relate(&n, d.Channel, f.First, "also drives it: %s, %s", c.Name(s.Scene.Channels[d.Channel].Part), kit.Share(d.Value))
		}
	}
	return n
}
