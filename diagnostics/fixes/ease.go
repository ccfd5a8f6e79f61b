package fixes

import (
	"math"

	"curvelint/diagnostics/facts"
	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/motion/body"
	"curvelint/diagnostics/motion/track"
	"curvelint/diagnostics/note"
	"curvelint/diagnostics/words"
	"curvelint/parse/scene"
)

const (
	// evenLimit is the evenness from which on a run no longer looks even, a
	// little more than what the check asks for.
	evenLimit = 0.12
	// evenShare is the share of the run that may stay even, and evenCount the
	// number of spacings that no check calls a run.
	evenShare, evenCount = 0.4, 4
)

// ease re-times an even run along its own path: it starts and ends at the
// speeds of its neighbours and is uneven in between. Every channel of the op
// that drives it, and of others on the way that drive it too, gets new values
// on the frames inside the run; its ends and everything outside stay.
func ease(s *motion.Study, n *note.Note) (Fix, error) {
	f := Fix{ID: "ease", Title: "Ease this run", Preferred: true}
	if n.Channel == scene.NoChannel {
		return f, errNone
	}
	a, b := s.Index(n.First), s.Index(n.Last)
	t := facts.TrackOf(s, n.Channel)
	if t == nil || b-a < 3 {
		return f, errNone
	}
	if t.Stepping() == 2 {
		return f, refuse("the run is on twos: easing it frame by frame would put it on ones")
	}
	if why := contactBelow(s, s.Scene.Channels[n.Channel].Part, a, b); why != "" {
		return f, refuse("%s: easing would make it slide", why)
	}
	p := easedProfile(t, a, b)
	w := func(i float64) float64 { return float64(a) + float64(b-a)*p.at((i-float64(a))/float64(b-a)) }
	f.Before, f.After, f.Unit = t.Spacing()[a:b], alongPath(t, a, b, w), facts.UnitOf(t)
	f.Title += ": " + f.preview()
	f.Numbers = span(s, a, b) + ", spacing a frame: " + words.Row(f.Unit, f.After, 0) + " " + words.UnitName(f.Unit)
	ink := pen{sc: s.Scene}
	for _, id := range drivers(s, n) {
		if err := ink.rewarp(s, id, a, b, w); err != nil {
			return f, err
		}
	}
	var err error
	f.Edits, err = ink.done()
	return f, err
}

// drivers returns the channels of the op that a note is about, and of those
// related to it as drivers on the way: the channels of the note's related
// places that belong to the same part or to a part above or below it.
func drivers(s *motion.Study, n *note.Note) []scene.ChannelID {
	t := facts.TrackOf(s, n.Channel)
	if p := pointBelow(s, n); p != nil {
		t = p
	}
	ids := opChannels(s, n.Channel)
	for _, d := range s.Drivers(t, s.Index(n.First), s.Index(n.Last)) {
		if d.Value <= driverShare || holdsChannel(ids, d.Channel) {
			continue
		}
		ids = append(ids, opChannels(s, d.Channel)...)
	}
	return ids
}

// driverShare is the share of a motion from which on a channel is one of its
// drivers.
const driverShare = 0.25

// pointBelow returns the tracked point that a note was seen on, when it names
// one, else nil.
func pointBelow(s *motion.Study, n *note.Note) *track.Track {
	for _, p := range n.Causes {
		if t := facts.PointTrack(s, p); t != nil && p != n.PartID {
			return t
		}
	}
	return nil
}

func holdsChannel(list []scene.ChannelID, id scene.ChannelID) bool {
	for _, x := range list {
		if x == id {
			return true
		}
	}
	return false
}

// profile is how far along a run is after a share u of its time: a cubic with
// the slopes in and out at its ends (1 is the mean speed), bent towards one end
// by favour:
//
//	w(u) = (u^3-2u^2+u) in + (3u^2-2u^3) + (u^3-u^2) out - favour u^2 (1-u)^2
type profile struct{ in, out, favour float64 }

func (p profile) at(u float64) float64 {
	u2, u3 := u*u, u*u*u
	return (u3-2*u2+u)*p.in + (3*u2 - 2*u3) + (u3-u2)*p.out - p.favour*u2*(1-u)*(1-u)
}

// easedProfile returns the profile for the run from frame index a to b: the
// least bent one that is no longer even and never turns back.
func easedProfile(t *track.Track, a, b int) profile {
	spacing := t.Spacing()
	mean := 0.0
	for _, v := range spacing[a:b] {
		mean += v / float64(b-a)
	}
	beside := func(i int) float64 {
		if i < 0 || i >= len(spacing) || mean == 0 {
			return 0
		}
		// A neighbour that is much faster is another move.
		return min(spacing[i]/mean, 1.5)
	}
	p := profile{in: beside(a - 1), out: beside(b)}
	side := 1.0
	if p.in > p.out {
		side = -1
	}
	for favour := 0.0; favour <= 2; favour += 0.25 {
		p.favour = side * favour
		if p.rises(b-a) && !p.even(b-a) {
			return p
		}
	}
	p.favour = 0
	return p
}

// rises reports whether the profile never stands still or turns back in n
// steps.
func (p profile) rises(n int) bool {
	for i := range n {
		if p.at(float64(i+1)/float64(n)) <= p.at(float64(i)/float64(n)) {
			return false
		}
	}
	return true
}

// even reports whether a run with this profile over n steps is still even for
// a good part of it.
func (p profile) even(n int) bool {
	v := make([]float64, n)
	for i := range v {
		v[i] = p.at(float64(i+1)/float64(n)) - p.at(float64(i)/float64(n))
	}
	run, ok := track.LongestEvenRun(v, evenLimit, 0, 2)
	return ok && run.Count > evenCount && float64(run.Count) > evenShare*float64(n)
}

// alongPath returns the spacings from frame index a to b after a warp, along
// the track's own path.
func alongPath(t *track.Track, a, b int, w warp) []float64 {
	spacing := t.Spacing()
	length := make([]float64, b-a+1)
	for i := range b - a {
		length[i+1] = length[i] + spacing[a+i]
	}
	at := func(i float64) float64 {
		x := min(max(i-float64(a), 0), float64(b-a))
		k := min(int(math.Floor(x)), b-a-1)
		return length[k] + (x-float64(k))*(length[k+1]-length[k])
	}
	after := make([]float64, b-a)
	for i := range after {
		after[i] = at(w(float64(a+i+1))) - at(w(float64(a+i)))
	}
	return after
}

// contactBelow returns what stands or is held, moved by a part, between the
// frame indices a and b: "the left foot is planted at frames 1040-1052", or "".
func contactBelow(s *motion.Study, part scene.PartID, a, b int) string {
	fig := s.FigureOf(part)
	if fig == nil {
		return ""
	}
	for _, foot := range fig.Feet() {
		for _, i := range foot.Points {
			if !s.IsAncestor(part, fig.Points[i].Part) {
				continue
			}
			if c, ok := overlapping(foot.Contacts, a, b); ok {
				return "the " + foot.Name + " is planted at " + span(s, c.First, c.Last)
			}
		}
	}
	for i, p := range fig.Points {
		if p.Role != body.HandPoint || !s.IsAncestor(part, p.Part) {
			continue
		}
		if c, ok := overlapping(fig.HandContacts(i), a, b); ok {
			return "the " + p.Name + " holds on at " + span(s, c.First, c.Last)
		}
	}
	return ""
}

// overlapping returns the first contact that shares frames with a to b.
func overlapping(list []track.Contact, a, b int) (track.Contact, bool) {
	for _, c := range list {
		if c.First < b && c.Last > a {
			return c, true
		}
	}
	return track.Contact{}, false
}
