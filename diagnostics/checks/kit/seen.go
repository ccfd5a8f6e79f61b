package kit

import (
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/motion/body"
	"curvelint/diagnostics/motion/solve"
	"curvelint/diagnostics/motion/track"
	"curvelint/parse/scene"
)

// SeenTracks are the tracks whose spacing an audience sees: the world paths of
// tracked points, every part's own turning and every weight. A part's own
// shifting shows in the path of a point, but for the face, which has none.
func SeenTracks(fig *motion.Figure) []*track.Track {
	s := fig.Study()
	var out []*track.Track
	if vehicle(fig) {
		return nil
	}
	if !fig.Locomotion() {
		// In a walk the paths of all points are mostly the walk; what the parts
		// add to it shows in their own turning.
		for i, t := range PointTracks(fig) {
			// The face rides on the head, whose point stands for it.
			if p := fig.Points[i]; p.Role != body.TipPoint || !fig.LabelOf(p.Part).Body.Face() {
				out = append(out, t)
			}
		}
	}
	for _, p := range fig.Parts {
		if s.NatureOf(p) != motion.Living {
			continue
		}
		for _, t := range s.LocalTracks(p) {
			if t.Quality == track.Position && !fig.LabelOf(p).Body.Face() {
				continue
			}
			out = append(out, t)
		}
	}
	return out
}

// vehicle reports whether the figure carries another and is no body itself: a
// deck, a cart. It moves as the sea or its engine wants.
func vehicle(fig *motion.Figure) bool {
	return !Acts(fig) && slices.ContainsFunc(fig.Study().Figures(), func(o *motion.Figure) bool {
		return o != fig && o.Carrier != scene.NoPart && slices.Contains(fig.Parts, o.Carrier)
	})
}

// PointTracks are the paths of the figure's tracked points, relative to what
// carries the figure.
func PointTracks(fig *motion.Figure) []*track.Track {
	out := make([]*track.Track, len(fig.Points))
	for i := range fig.Points {
		out[i] = fig.CarriedTrack(i)
	}
	return out
}

// Chord is the distance over w frames from frame index i.
func Chord(t *track.Track, i, w int) float64 { return r3.Norm(r3.Sub(t.At(i+w), t.At(i))) }

// Stays reports whether the change does not return at once: in the half second
// after the stroke the track keeps most of its way from where it began.
func Stays(k motion.GroupStroke) bool {
	t := k.Track
	from := t.At(k.Stroke.First)
	end := min(t.Len()-1, k.Stroke.Last+KeepsTime.Frames(t.Rate))
	for i := k.Stroke.Last; i <= end; i++ {
		if d := r3.Norm2(r3.Sub(t.At(i), from)); d < KeepsShare.Value*KeepsShare.Value*k.Stroke.Chord*k.Stroke.Chord {
			return false
		}
	}
	return k.Stroke.Chord > KeepsShare.Value*k.Stroke.Length
}

// Median is the middle of the values, which it reorders; 0 of none.
func Median(x []float64) float64 { return track.Percentile(x, 1/float64(2)) }

// Acts reports whether the figure has a body: a prop is moved by others and
// needs no anticipation.
func Acts(fig *motion.Figure) bool {
	return slices.ContainsFunc(fig.Groups, func(g *motion.Group) bool { return g.Label.Body != body.NoBody })
}

// SeenWorlds are the transforms of a part at the frame indices a to b-1 as an
// audience sees them: in the world, or on what carries the figure.
func SeenWorlds(c *Context, fig *motion.Figure, p scene.PartID, a, b int) []solve.Affine {
	s := c.Study
	seen := s.Worlds(p, a, b)
	if fig.Carrier != scene.NoPart {
		for i, m := range s.Worlds(fig.Carrier, a, b) {
			back := m.Inverse()
			seen[i] = back.Mul(&seen[i])
		}
	}
	return seen
}

// SeenTurn is how far a part turns from frame index a to b as an audience sees it,
// in degrees.
func SeenTurn(c *Context, fig *motion.Figure, p scene.PartID, a, b int) float64 {
	seen, way := SeenWorlds(c, fig, p, a, b+1), 0.0
	for i := 1; i < len(seen); i++ {
		way += seen[i-1].AngleTo(&seen[i])
	}
	return way
}

// CarriedWay is how far the joint of a part is carried from frame index a to b,
// in figure sizes: along its path and from end to end.
func CarriedWay(c *Context, fig *motion.Figure, p scene.PartID, a, b int) (path, chord float64) {
	seen := SeenWorlds(c, fig, p, a, b+1)
	size := fig.Size
	if fig.Carrier != scene.NoPart {
		up := c.Study.WorldAt(fig.Carrier, c.Study.Frame(a))
		size /= up.Scale()
	}
	for i := 1; i < len(seen); i++ {
		path += r3.Norm(r3.Sub(seen[i].Origin(), seen[i-1].Origin()))
	}
	chord = r3.Norm(r3.Sub(seen[len(seen)-1].Origin(), seen[0].Origin()))
	return path / size, chord / size
}
