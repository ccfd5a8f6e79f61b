package kit

import (
	"slices"

	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/motion/body"
	"curvelint/diagnostics/motion/track"
)

// NearContact reports whether a foot lands or lifts, or a hand takes or lets
// go, within a film frame of frame index i.
func NearContact(c *Context, fig *motion.Figure, i int) bool {
	w, gap, n := FilmFrame.Frames(c.Study.Rate), Interruption.Frames(c.Study.Rate), c.Study.N
	near := func(list []track.Contact) bool {
		for j, k := range list {
			lands := k.First > 0 && (j == 0 || k.First-list[j-1].Last > gap)
			lifts := k.Last < n-1 && (j+1 == len(list) || list[j+1].First-k.Last > gap)
			if lands && abs(k.First-i) <= w || lifts && abs(k.Last-i) <= w {
				return true
			}
		}
		return false
	}
	for _, f := range fig.Feet() {
		if near(f.Contacts) {
			return true
		}
	}
	for j, p := range fig.Points {
		if p.Role == body.HandPoint && near(fig.HandContacts(j)) {
			return true
		}
	}
	return false
}

// LandsNear reports whether a foot lands or lifts between frame indices a and b:
// the jolt of it runs through the whole body.
func LandsNear(c *Context, fig *motion.Figure, a, b int) bool {
	for _, f := range fig.Feet() {
		for _, k := range f.Contacts {
			if (a <= k.First && k.First <= b && k.First > 0) || (a <= k.Last && k.Last <= b && k.Last < c.Study.N-1) {
				return true
			}
		}
	}
	return false
}

func abs(i int) int {
	if i < 0 {
		return -i
	}
	return i
}

// Pinned reports whether the group is a limb whose hand or foot keeps its place
// from frame index a to b. Its joints then only give way to what the body does:
// what shows in them is the body's.
func Pinned(fig *motion.Figure, g *motion.Group, a, b int) bool {
	if g == nil || (g.Label.Body != body.Arm && g.Label.Body != body.Leg) {
		return false
	}
	for i, p := range fig.Points {
		switch p.Role {
		case body.HandPoint, body.HeelPoint, body.ToePoint, body.TipPoint:
			if fig.GroupOf(p.Part) == g && fig.CarriedTrack(i).PathLength(a, b) < StandsStill.Value {
				return true
			}
		}
	}
	return false
}

// GivesWay reports whether a track shows in the frames a to b a joint of a
// pinned limb. A hand that turns by itself at the end of a still arm does not.
func GivesWay(c *Context, fig *motion.Figure, t *track.Track, a, b int) bool {
	return t.Space == track.Local && Pinned(fig, fig.GroupOf(t.Part), a, b) && !turnsHand(c, fig, t, a, b)
}

// turnsHand reports whether the track is the turning of a hand that the world
// sees, too: the joints above it do not make up for it.
func turnsHand(c *Context, fig *motion.Figure, t *track.Track, a, b int) bool {
	if t.Quality != track.Rotation || !slices.ContainsFunc(fig.Points, func(p body.Point) bool {
		return p.Role == body.HandPoint && p.Part == t.Part
	}) {
		return false
	}
	return SeenTurn(c, fig, t.Part, a, b) > OwnTurn.Value*t.PathLength(a, b)
}
