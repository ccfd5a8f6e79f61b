package checks

import (
	"curvelint/diagnostics/motion"
	"curvelint/parse/scene"
)

// briefly is how long a contact may be interrupted and still be the same one: a
// foot that jumps off the floor for a frame lands on nothing.
const briefly = 0.12

// nearContact reports whether a foot lands or lifts, or a hand takes or lets
// go, within 1/24 s of frame index i.
func (c *Context) nearContact(fig *motion.Figure, i int) bool {
	w, gap, n := c.Study.Window(1.0/24), c.Study.Window(briefly), c.Study.N
	near := func(list []motion.Contact) bool {
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
		if p.Role == motion.HandPoint && near(fig.HandContacts(j)) {
			return true
		}
	}
	return false
}

// jumps reports whether the body is in the air at some time between two frame
// indices: for 2/24 s no foot stands, though one does before or after.
func (c *Context) jumps(fig *motion.Figure, first, last int) bool {
	feet := fig.Feet()
	stands := func(i int) bool {
		for _, f := range feet {
			if motion.ContactAt(f.Contacts, i) {
				return true
			}
		}
		return false
	}
	some := false
	for _, f := range feet {
		some = some || len(f.Contacts) > 0
	}
	if !some {
		return false
	}
	need, run := c.Study.Window(2.0/24), 0
	for i := max(0, first); i <= min(last, c.Study.N-1); i++ {
		if run++; stands(i) {
			run = 0
		}
		if run >= need {
			return true
		}
	}
	return false
}

// inContact reports whether the part carries a point that touches something for
// most of the hold.
func (c *Context) inContact(fig *motion.Figure, p scene.PartID, h hold) bool {
	for j, pt := range fig.Points {
		if pt.Role != motion.HandPoint || !(c.Study.IsAncestor(p, pt.Part) || pt.Part == p) {
			continue
		}
		if g := fig.GroupOf(p); g == nil || g != fig.GroupOf(pt.Part) {
			continue // a chest does not touch what its hand holds
		}
		for _, k := range fig.HandContacts(j) {
			if 2*(min(k.Last, h.last)-max(k.First, h.first)) > h.last-h.first {
				return true
			}
		}
	}
	return false
}

// stepTime is how long before or after its foot lands or lifts, in seconds, the
// floor still has a say in how a leg moves.
const stepTime = 0.16

// stepsOff reports whether the part belongs to a leg whose foot stands at frame
// index i or about then: such a leg gives way to the body, and the floor pushes it
// off and stops it.
func (c *Context) stepsOff(fig *motion.Figure, p scene.PartID, i int) bool {
	g := fig.GroupOf(p)
	if g == nil || g.Label.Body != motion.Leg {
		return false
	}
	w := c.Study.Window(stepTime)
	for _, f := range fig.Feet() {
		if fig.GroupOf(fig.Points[f.Points[0]].Part) != g {
			continue
		}
		for _, k := range f.Contacts {
			if k.First-w <= i && i <= k.Last+w {
				return true
			}
		}
	}
	return false
}

// landsNear reports whether a foot lands or lifts between frame indices a and b:
// the jolt of it runs through the whole body.
func (c *Context) landsNear(fig *motion.Figure, a, b int) bool {
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
