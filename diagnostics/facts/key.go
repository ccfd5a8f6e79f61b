package facts

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/motion/solve"
	"curvelint/diagnostics/motion/track"
	"curvelint/parse/scene"
)

// Key is what there is to know of one channel at one frame.
type Key struct {
	Part    scene.PartID
	Channel scene.ChannelID
	// Frame is the display frame, Index the whole frame at or before it.
	Frame float64
	Index int
	// Values are the channel's components at the frame, in the channel's own
	// unit.
	Values []float64
	// Authored is true when a key on the frame was set by hand rather than
	// baked.
	Authored bool
	// World is where the part's origin is, in scene units; HasWorld is false
	// for weights and free numbers.
	World    r3.Vec
	HasWorld bool
	// Tracks are the key's place on what the audience sees move because of it:
	// first on the channel's own motion, then on the part's tracked point.
	Tracks []OnTrack
	// Lag is by how many frames the part is behind its parent in the move, when
	// HasLag.
	Lag    float64
	HasLag bool
	// Starts are the groups that set off with the move, in the order of their starts.
	Starts []GroupStart
}

// OnTrack is the place of a frame on a track.
type OnTrack struct {
	Track *track.Track
	// Before and After are the spacings to the frames beside it, in the
	// track's unit; NaN at the ends of the clip.
	Before, After float64
	// Speed is that after the frame, in units a second.
	Speed float64
	// Move is the stroke that holds the frame, when InMove; else Rest is the
	// rest, when InRest.
	Move   Move
	InMove bool
	Rest   track.Rest
	InRest bool
	// Breakdown is how far along the chord of its move the frame is, 0 to 1,
	// when HasBreakdown.
	Breakdown    float64
	HasBreakdown bool
	// OnTwos is true for motion on twos.
	OnTwos bool
}

// GroupStart is when a group starts in a beat, in frames after the first.
type GroupStart struct {
	Name  string
	After int
}

// At returns what there is to know of a channel at a display frame.
func At(s *motion.Study, id scene.ChannelID, frame float64) Key {
	c := &s.Scene.Channels[id]
	k := Key{Part: c.Part, Channel: id, Frame: frame, Index: s.Index(frame), Values: make([]float64, max(c.Curve.Stride, 1))}
	if !solve.EvalCurve(&c.Curve, frame, k.Values) {
		k.Values = nil
	}
	if i := solve.KeyAt(&c.Curve, frame); i >= 0 && c.Curve.Times[i] == frame {
		k.Authored = solve.Authored(&c.Curve, i)
	}
	switch s.Scene.Parts[c.Part].Kind {
	case scene.Weight, scene.Scalar, scene.PictureTrack:
	default:
		k.World, k.HasWorld = s.WorldPosition(c.Part, frame), true
	}
	if s.N == 0 {
		return k
	}
	own := TrackOf(s, id)
	if own != nil {
		k.Tracks = append(k.Tracks, onTrack(own, k.Index))
	}
	if k.HasWorld { // a number is nowhere in space
		if t := PointTrack(s, c.Part); t != nil {
			k.Tracks = append(k.Tracks, onTrack(t, k.Index))
		}
	}
	if own != nil {
		k.Lag, k.HasLag = lagToParent(s, c.Part, own, k.Index)
	}
	k.Starts = startsAt(s, c.Part, k.Index)
	return k
}

// onTrack returns the place of frame index i on a track.
func onTrack(t *track.Track, i int) OnTrack {
	o := OnTrack{Track: t, Before: math.NaN(), After: math.NaN(), OnTwos: t.Stepping() == 2}
	spacing := t.Spacing()
	if i > 0 && i <= len(spacing) {
		o.Before = spacing[i-1]
	}
	if i < len(spacing) {
		o.After = spacing[i]
		o.Speed = t.Speed()[i]
	}
	if stroke, ok := t.StrokeAt(i); ok {
		o.Move, o.InMove = newMove(t, stroke), true
		o.Breakdown, o.HasBreakdown = t.Breakdown(stroke.First, i, stroke.Last)
	} else {
		o.Rest, o.InRest = t.RestAt(i)
	}
	return o
}

// LagAt returns by how many frames a part is behind the nearest part above it that
// moves, in the move that holds a frame index; ok is false where neither leads.
func LagAt(s *motion.Study, p scene.PartID, i int) (frames float64, ok bool) {
	own := LeadingTrack(s, p)
	if own == nil {
		return 0, false
	}
	return lagToParent(s, p, own, i)
}

// StartIn returns how many frames after the first group of its action the group of
// a part starts, and what starts first, at a frame index; ok is false where the
// part's group leads or rests.
func StartIn(s *motion.Study, p scene.PartID, i int) (after int, first string, ok bool) {
	fig := s.FigureOf(p)
	if fig == nil {
		return 0, "", false
	}
	g := fig.GroupOf(p)
	starts := startsAt(s, p, i)
	if g == nil || len(starts) < 2 {
		return 0, "", false
	}
	for _, x := range starts[1:] {
		if x.Name == g.Name {
			return x.After, starts[0].Name, true
		}
	}
	return 0, "", false
}

// lagMargin is how much longer than the move a comparison of speeds looks, in
// seconds to both sides.
const lagMargin = 0.6

// lagToParent returns by how many frames a part is behind the nearest part
// above it that moves, in the move that holds frame index i.
func lagToParent(s *motion.Study, p scene.PartID, own *track.Track, i int) (frames float64, ok bool) {
	k, ok := own.StrokeAt(i)
	if !ok {
		return 0, false
	}
	var lead *track.Track
	for up := s.Scene.Parts[p].Parent; up != scene.NoPart && lead == nil; up = s.Scene.Parts[up].Parent {
		lead = LeadingTrack(s, up)
	}
	if lead == nil {
		return 0, false
	}
	margin := s.Window(lagMargin)
	a, b := max(0, k.First-margin), min(s.N-1, k.Last+margin)
	lag, ok := track.BestLag(lead.Speed()[a:b], own.Speed()[a:b], s.Rate)
	if !ok || lag.Correlation < likeness {
		return 0, false
	}
	return lag.Seconds * s.Rate, true
}

// likeness is the correlation of speeds from which on one part follows another.
const likeness = 0.7

// oneAction is within how many seconds of a move the others must start to be part of
// the same action to an audience; common practice, no source. Strokes of polished
// motion overlap for so long that a beat may hold several.
const oneAction = 0.35

// startsAt returns the order in which the groups start that set off with the move of
// a part's group at frame index i, and nil where that group rests.
func startsAt(s *motion.Study, p scene.PartID, i int) []GroupStart {
	fig := s.FigureOf(p)
	if fig == nil {
		return nil
	}
	g := fig.GroupOf(p)
	for _, b := range fig.Beats() {
		if i < b.First || i > b.Last {
			continue
		}
		for j := range b.Strokes {
			if k := &b.Strokes[j]; k.Group == g && k.Stroke.First <= i && i <= k.Stroke.Last {
				return startsBeside(&b, k.Stroke.First, s.Window(oneAction))
			}
		}
	}
	return nil
}

// startsBeside returns the first starts of a beat's groups that lie no more than near
// frames from one.
func startsBeside(b *motion.FigureBeat, at, near int) []GroupStart {
	var starts []GroupStart
	for _, g := range b.Groups() {
		first := -1
		for j := range b.Strokes {
			k := &b.Strokes[j]
			if f := k.Stroke.First; k.Group == g && f >= at-near && f <= at+near && (first < 0 || f < first) {
				first = f
			}
		}
		if first >= 0 {
			starts = append(starts, GroupStart{g.Name, first})
		}
	}
	slices.SortStableFunc(starts, func(a, b GroupStart) int { return cmp.Compare(a.After, b.After) })
	for j := len(starts) - 1; j >= 0; j-- {
		starts[j].After -= starts[0].After
	}
	return starts
}
