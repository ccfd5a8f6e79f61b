package motion

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/diagnostics/motion/body"
	"curvelint/diagnostics/motion/track"
	"curvelint/diagnostics/motion/vec"
	"curvelint/parse/scene"
)

// Foot is one foot of a figure: its points and when it stands.
type Foot struct {
	Name string
	Side body.Side
	// Points index the figure's Points: heel and toe, or the one there is.
	Points   []int
	Contacts []track.Contact
}

// contacts is what a figure touches, found once.
type contacts struct {
	feet       []Foot
	hands      map[int][]track.Contact // by point
	locomotion bool
}

// Feet returns the figure's feet with their contacts: heels and toes by name,
// else the tips of the lowest chains.
func (fig *Figure) Feet() []Foot { return fig.findContacts().feet }

// HandContacts returns when the hand point i is in contact: on a configured
// floor, or in a grip with a prop or the other hand.
func (fig *Figure) HandContacts(i int) []track.Contact { return fig.findContacts().hands[i] }

// Locomotion reports whether the figure walks or runs: its contacts alternate
// between the feet at least three times.
func (fig *Figure) Locomotion() bool { return fig.findContacts().locomotion }

// Up is the up direction as seen in the space of the figure's carried tracks.
func (fig *Figure) Up() r3.Vec {
	up := fig.study.Up()
	if fig.Carrier == scene.NoPart {
		return up
	}
	m := fig.study.WorldAt(fig.Carrier, fig.study.First)
	m = m.Inverse()
	v := m.Vector(up)
	if n := vec.Length(v); n > 0 {
		return r3.Scale(1/n, v)
	}
	return up
}

func (fig *Figure) findContacts() *contacts {
	fig.contactsOnce.Do(func() {
		c := &contacts{hands: map[int][]track.Contact{}}
		up := fig.Up()
		c.feet = fig.footPoints()
		for i := range c.feet {
			f := &c.feet[i]
			var each [][]track.Contact
			for _, p := range f.Points {
				each = append(each, fig.pointContacts(p, up))
			}
			f.Contacts = track.MergeContacts(each...)
		}
		c.locomotion = fig.alternates(c.feet)
		for i, p := range fig.Points {
			if p.Role == body.HandPoint {
				c.hands[i] = fig.handContacts(i, up)
			}
		}
		fig.contacts = c
	})
	return fig.contacts
}

// alternates reports whether the contacts pass from foot to foot: among all
// feet, or between the two of the front or the hind pair (a trot sets diagonal
// feet down together).
func (fig *Figure) alternates(feet []Foot) bool {
	pairs := map[byte][][]track.Contact{}
	var all [][]track.Contact
	for _, f := range feet {
		all = append(all, f.Contacts)
		pair := fig.LabelOf(fig.Points[f.Points[0]].Part).Pair
		pairs[pair] = append(pairs[pair], f.Contacts)
	}
	for _, p := range pairs {
		if len(p) > 1 && track.Locomotion(p...) {
			return true
		}
	}
	return len(all) > 1 && track.Locomotion(all...)
}

// PointContacts returns the contacts of the foot point i: see Feet.
func (fig *Figure) PointContacts(i int) []track.Contact { return fig.pointContacts(i, fig.Up()) }

// liftedReach is how far, in figure sizes, a foot's lowest height may lie over
// that of the lowest foot: two steps of a stair. One that stays higher than that
// is lifted all the time and stands on nothing.
const liftedReach = 0.12

// raisedSlip is how far, in figure sizes, a foot may slip that stands on something
// higher than the lowest foot's ground.
const raisedSlip = 0.01

// pointContacts are the contacts of a foot point: near its own lowest height,
// or on a configured floor.
func (fig *Figure) pointContacts(i int, up r3.Vec) []track.Contact {
	t := fig.CarriedTrack(i)
	var own []track.Contact
	switch over := fig.lowestHeight(i, up) - fig.groundUnder(up); {
	case over <= track.FootReach:
		own = t.FootContacts(up)
	case over <= liftedReach:
		// A step of a stair, or a foot in the air: what slides there is no contact.
		for _, c := range t.FootContacts(up) {
			if t.Slip(c, up).Net <= raisedSlip {
				own = append(own, c)
			}
		}
	}
	if !fig.study.Options.HasFloor {
		return own
	}
	return track.MergeContacts(own, t.FloorContacts(up, fig.floorHeight(t, up)))
}

// lowestHeight is the height that a foot point is seldom under, in figure sizes over
// the origin of the carried tracks' space.
func (fig *Figure) lowestHeight(i int, up r3.Vec) float64 {
	t := fig.CarriedTrack(i)
	return r3.Dot(vec.Of(t.Origin), up)/t.Unit + t.LowestHeight(up)
}

// groundUnder is the lowest of the figure's foot points.
func (fig *Figure) groundUnder(up r3.Vec) float64 {
	fig.groundOnce.Do(func() {
		fig.groundHeight = math.Inf(1)
		for _, f := range fig.footPoints() {
			for _, p := range f.Points {
				fig.groundHeight = min(fig.groundHeight, fig.lowestHeight(p, up))
			}
		}
	})
	return fig.groundHeight
}

// floorHeight is the configured floor's height over the track's first position,
// in the track's unit.
func (fig *Figure) floorHeight(t *track.Track, up r3.Vec) float64 {
	return (fig.study.Options.Floor - r3.Dot(vec.Of(t.Origin), up)) / t.Unit
}

// FloorHeight returns the configured floor's height over the first position of
// the figure's i-th carried track, in figure sizes.
func (fig *Figure) FloorHeight(i int) float64 {
	return fig.floorHeight(fig.CarriedTrack(i), fig.Up())
}

// handContacts are a hand's contacts with the floor and its grips.
func (fig *Figure) handContacts(i int, up r3.Vec) []track.Contact {
	t := fig.CarriedTrack(i)
	var all [][]track.Contact
	if fig.study.Options.HasFloor {
		all = append(all, t.FloorContacts(up, fig.floorHeight(t, up)))
	}
	for _, g := range fig.Grips(i) {
		all = append(all, []track.Contact{{First: g.First, Last: g.Last}})
	}
	return track.MergeContacts(all...)
}

// HandGrip is a grip of a hand with what it holds.
type HandGrip struct {
	track.Grip
	// Other is what is held: a point of another figure, or the other hand.
	Other *track.Track
}

// Grips returns the grips of the hand point i: with the figure's other hand, or
// with a point of another figure (a prop, a partner).
func (fig *Figure) Grips(i int) []HandGrip {
	hand := fig.PointTrack(i)
	var out []HandGrip
	try := func(o *track.Track) {
		for _, g := range fig.study.grips(hand, o) {
			out = append(out, HandGrip{g, o})
		}
	}
	for j, p := range fig.Points {
		if p.Role == body.HandPoint && j != i {
			try(fig.PointTrack(j))
		}
	}
	for _, o := range fig.study.Figures() {
		if o == fig {
			continue
		}
		for j := range o.Points {
			try(o.PointTrack(j))
		}
	}
	return out
}

// footPoints sorts heels and toes into feet.
func (fig *Figure) footPoints() []Foot {
	var feet []Foot
	for i, p := range fig.Points {
		if p.Role != body.HeelPoint && p.Role != body.ToePoint {
			continue
		}
		l := fig.LabelOf(p.Part)
		name := body.Label{Body: body.Leg, Side: l.Side, Pair: l.Pair}.GroupName()
		at := slices.IndexFunc(feet, func(f Foot) bool { return f.Name == name })
		if at < 0 {
			feet = append(feet, Foot{Name: name, Side: p.Side})
			at = len(feet) - 1
		}
		feet[at].Points = append(feet[at].Points, i)
	}
	if len(feet) == 0 {
		feet = fig.lowestTips()
	}
	return feet
}

// lowestTips are the ends of the lowest chains in the first pose, at least two
// and all below the root, when names tell of no feet.
func (fig *Figure) lowestTips() []Foot {
	up := fig.Up()
	height := func(i int) float64 {
		t := fig.CarriedTrack(i)
		return r3.Dot(vec.Of(t.Origin), up) / t.Unit
	}
	root, lowest := math.Inf(-1), math.Inf(1)
	for i, p := range fig.Points {
		switch p.Role {
		case body.RootPoint:
			root = height(i)
		case body.TipPoint:
			lowest = min(lowest, height(i))
		}
	}
	var feet []Foot
	for i, p := range fig.Points {
		l := fig.LabelOf(p.Part)
		if p.Role == body.TipPoint && height(i) < min(lowest+0.03, root-0.1) && !(l.Body == body.Tail || l.Body == body.Hair || l.Body == body.Coat || l.Body == body.Rope || l.Body == body.Strand || l.Body == body.Wing) {
			feet = append(feet, Foot{Name: p.Name, Side: p.Side, Points: []int{i}})
		}
	}
	if len(feet) < 2 {
		return nil
	}
	return feet
}
