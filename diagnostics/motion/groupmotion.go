package motion

import (
	"slices"
	"sort"

	"curvelint/parse/scene"
)

// Prominence ranks strokes of different qualities: the stroke's length in units
// of the slowest motion that counts, so that 0.05 figure sizes, 3 degrees and a
// tenth of a weight's range weigh the same.
func (t *Track) Prominence(k Stroke) float64 { return k.Length / FloorSpeed(t.Quality) }

// GroupStroke is a stroke of a group: of the member track that moves most in it.
type GroupStroke struct {
	Group  *Group
	Track  *Track
	Stroke Stroke
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
func (g *Group) EventsIn(a, b int) ([]Event, *Track) {
	var lead *Track
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
	return lead.plainEvents(a, b), lead
}

// minLeg is how far a track must go on both sides of a turn for an audience to
// see the turn, in the measure of Prominence: 0.02 figure sizes, 1.2 degrees,
// 4 % of a range.
const minLeg = 0.4

// plainEvents returns the starts and stops of the track in the frames a to b,
// and those turns that are more than a tremble.
func (t *Track) plainEvents(a, b int) []Event {
	in := t.Events()
	in = in[sort.Search(len(in), func(i int) bool { return in[i].Frame >= a }):]
	in = in[:sort.Search(len(in), func(i int) bool { return in[i].Frame > b })]
	leg := minLeg * FloorSpeed(t.Quality)
	out := in[:0:0]
	before := a
	for i, e := range in {
		if e.Kind == Turn {
			next := b
			for _, f := range in[i+1:] {
				if distance(t.at(e.Frame), t.at(f.Frame)) >= leg || f.Kind != Turn {
					next = f.Frame
					break
				}
			}
			if distance(t.at(e.Frame), t.at(before)) < leg || distance(t.at(e.Frame), t.at(next)) < leg {
				continue
			}
		}
		before = e.Frame
		out = append(out, e)
	}
	return out
}

// FigureBeat is a stretch of time in which a figure's strokes overlap or follow
// each other within a quarter of a second.
type FigureBeat struct {
	First, Last int
	Strokes     []GroupStroke
}

// beatGap is the longest pause inside a beat, in seconds.
const beatGap = 0.25

// ownTracks are the tracks of the group's members seen from their parents. The
// root of a figure whose carrier is no parent of it goes along with the carrier:
// of it counts the path relative to that.
func (g *Group) ownTracks() []*Track {
	fig := g.Figure
	if fig.Carrier == scene.NoPart || fig.GroupOf(fig.Root) != g || fig.study.IsAncestor(fig.Carrier, fig.Root) {
		return g.LocalTracks()
	}
	var out []*Track
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

// carries reports whether the group is what carries the body: parts above the
// hips that belong to no body, like a deck that is the root of the figure on it.
func (g *Group) carries() bool {
	core := g.Figure.Core()
	for _, p := range g.Parts {
		if p == core || g.Figure.labels[p].Body != NoBody || !g.Figure.study.IsAncestor(p, core) {
			return false
		}
	}
	return true
}

// Beats returns the beats of the figure, from the strokes of all its living
// groups. What carries the body has no part in them: a deck that rolls on and
// on would join all beats into one.
func (fig *Figure) Beats() []FigureBeat {
	fig.beatsOnce.Do(func() {
		var all []GroupStroke
		for _, g := range fig.Groups {
			if fig.study.NatureOf(g.Top()) == Living && !g.carries() {
				all = append(all, g.Strokes()...)
			}
		}
		all = byFirst(all)
		gap := Window(fig.study.Rate, beatGap)
		first, last := 0, 0 // the beat is all[first:i], and reaches frame last
		for i, k := range all {
			if i > first && k.Stroke.First-last >= gap {
				fig.beats = append(fig.beats, FigureBeat{all[first].Stroke.First, last, all[first:i:i]})
				first, last = i, 0
			}
			last = max(last, k.Stroke.Last)
		}
		if first < len(all) {
			fig.beats = append(fig.beats, FigureBeat{all[first].Stroke.First, last, all[first:]})
		}
	})
	return fig.beats
}

// byFirst sorts strokes by their first frames, those of one frame as they stand.
// It sorts what tells the order, which is a tenth of what is to be ordered.
func byFirst(all []GroupStroke) []GroupStroke {
	order := make([]uint64, len(all))
	for i := range all {
		order[i] = uint64(all[i].Stroke.First)<<32 | uint64(i)
	}
	slices.Sort(order)
	out := make([]GroupStroke, len(all))
	for i, k := range order {
		out[i] = all[uint32(k)]
	}
	return out
}

// Groups returns the groups that move in the beat, in the order of their first
// starts.
func (b *FigureBeat) Groups() []*Group {
	var out []*Group
	for _, k := range b.Strokes {
		if !slices.Contains(out, k.Group) {
			out = append(out, k.Group)
		}
	}
	return out
}

// FocusGroup is the group the audience should watch: as configured, else the
// head; nil when the figure has neither.
func (fig *Figure) FocusGroup() *Group {
	if f := fig.study.Options.Focus; f != "" {
		return fig.Group(f)
	}
	return fig.Group(Head.String())
}

// Nearness weighs how near a part is to the focus of the audience: 1 for the
// focus group and the face, 0.7 for the rest of the trunk and the hands, 0.5
// for everything else.
func (fig *Figure) Nearness(p scene.PartID) float64 {
	if g := fig.groupOf[p]; g != nil && g == fig.FocusGroup() {
		return 1
	}
	switch l := fig.labels[p]; {
	case l.Body == Head || l.Body.Face():
		return 1
	case l.Body == Neck || l.Body == Chest || l.Body == Hips || l.Place == End && l.Body == Arm:
		return 0.7
	}
	return 0.5
}
