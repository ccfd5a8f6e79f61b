package motion

import (
	"sort"
	"sync"
	"sync/atomic"

	"curvelint/diagnostics/motion/body"
	"curvelint/diagnostics/motion/track"
	"curvelint/parse/scene"
)

// Group is a group of a figure and how it moves.
type Group struct {
	*body.Group
	Figure *Figure

	once    sync.Once
	strokes []GroupStroke
	picked  atomic.Pointer[groupPicks] // what strokes is made of
}

// GroupStroke is a stroke of a group: of the member track that moves most in it.
type GroupStroke struct {
	Group  *Group
	Track  *track.Track
	Stroke track.Stroke
}

// minProminence is how much a member must move for its stroke to count as the
// group's: 0.01 figure sizes, 0.6 degrees, 2 % of a range.
const minProminence = 0.2

// Strokes returns the strokes of the group seen from its members' parents, in
// order: of the overlapping strokes of its members each time the largest.
func (g *Group) Strokes() []GroupStroke {
	g.once.Do(func() {
		p := g.pick()
		g.strokes = make([]GroupStroke, len(p.picks))
		for i, k := range p.picks {
			t := p.tracks[k.track]
			g.strokes[i] = GroupStroke{g, t, t.Strokes()[k.stroke]}
		}
		g.picked.Store(p)
	})
	return g.strokes
}

// EventsIn returns the events of the group's leading track in the frames a to
// b: the member that moves most there. It returns no track when none moves.
func (g *Group) EventsIn(a, b int) ([]track.Event, *track.Track) {
	var lead *track.Track
	best := 0.0
	for _, t := range g.ownTracks() {
		sum := 0.0
		strokes := t.Strokes()
		for i := sort.Search(len(strokes), func(i int) bool { return strokes[i].Last > a }); i < len(strokes) && strokes[i].First < b; i++ {
			sum += t.Prominence(strokes[i])
		}
		if sum > best && sum >= minProminence {
			best, lead = sum, t
		}
	}
	if lead == nil {
		return nil, nil
	}
	return lead.PlainEvents(a, b), lead
}

// ownTracks are the tracks of the group's members seen from their parents. The
// root of a figure whose carrier is no parent of it goes along with the carrier:
// of it counts the path relative to that.
func (g *Group) ownTracks() []*track.Track {
	fig := g.Figure
	if fig.Carrier == scene.NoPart || fig.GroupOf(fig.Root) != g || fig.study.IsAncestor(fig.Carrier, fig.Root) {
		return g.LocalTracks()
	}
	var out []*track.Track
	for _, p := range g.Parts {
		if p != fig.Root {
			out = append(out, fig.study.LocalTracks(p)...)
		}
	}
	for i := range fig.Points {
		if fig.Points[i].Part == fig.Root {
			out = append(out, fig.CarriedTrack(i))
		}
	}
	return out
}
