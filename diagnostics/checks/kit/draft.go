package kit

import (
	"fmt"

	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/motion/track"
	"curvelint/diagnostics/note"
	"curvelint/diagnostics/words"
	"curvelint/parse/scene"
)

// Draft starts a note about a part and the channel that drives it (NoChannel:
// the part as a whole), from frame index a to b. It sits on the channel's value
// at a; the value at b is a related place.
func (c *Context) Draft(p scene.PartID, ch scene.ChannelID, a, b int) note.Note {
	s := c.Study
	n := note.Note{
		Severity: c.Severity,
		Part:     s.Scene.Parts[p].Path,
		First:    s.Frame(a),
		Last:     s.Frame(b),
		PartID:   p,
		Channel:  ch,
	}
	if ch == scene.NoChannel {
		n.Span = s.AnchorPart(p, a)
		return n
	}
	n.Span = s.Anchor(ch, a)
	if end := s.Anchor(ch, b); end != n.Span {
		n.Related = append(n.Related, note.Related{
			Span: end, Part: n.Part, First: s.Frame(b), Last: s.Frame(b), Message: "to here",
		})
	}
	return n
}

// Relate adds a related place: the channel's value at frame index i.
func (c *Context) Relate(n *note.Note, ch scene.ChannelID, i int, format string, args ...any) {
	s := c.Study
	part := s.Scene.Channels[ch].Part
	n.Related = append(n.Related, note.Related{
		Span: s.Anchor(ch, i), Part: s.Scene.Parts[part].Path,
		First: s.Frame(i), Last: s.Frame(i), Message: fmt.Sprintf(format, args...),
	})
}

// RelatePart adds a related place on a part at frame index i.
func (c *Context) RelatePart(n *note.Note, p scene.PartID, i int, format string, args ...any) {
	s := c.Study
	n.Related = append(n.Related, note.Related{
		Span: s.AnchorPart(p, i), Part: s.Scene.Parts[p].Path,
		First: s.Frame(i), Last: s.Frame(i), Message: fmt.Sprintf(format, args...),
	})
}

// Weigh ranks a note: how far what it speaks of travels (in figure sizes, or
// their like for turns and weights), how near that is to where the audience
// looks, and how serious it is.
func (c *Context) Weigh(fig *motion.Figure, p scene.PartID, travel float64) float64 {
	tenths := map[note.Severity]float64{note.Error: 10, note.Warning: 10, note.Information: 5, note.Hint: 2}[c.Severity]
	return tenths / 10 * travel * fig.Nearness(p)
}

// LikeFigures turns a length in a track's unit into figure sizes, turns and
// weights by what counts as the same amount of motion.
func LikeFigures(q track.Quality, v float64) float64 {
	return v / track.FloorSpeed(q) * track.FloorSpeed(track.Position)
}

// Span names frames the way people do: "frames 31-39", "frame 31".
func (c *Context) Span(a, b int) string {
	return words.Span(c.Study.Frame(a), c.Study.Frame(b))
}

// Name is what a person calls a part: its own name in the file, or its bone's
// for the end of a chain.
func (c *Context) Name(p scene.PartID) string {
	parts := c.Study.Scene.Parts
	if parts[p].Kind == scene.Tip && parts[p].Parent != scene.NoPart {
		p = parts[p].Parent
	}
	return words.Shorten(parts[p].Name)
}

// AnyChannel is the part's first channel, or NoChannel.
func AnyChannel(c *Context, p scene.PartID) scene.ChannelID {
	if ids := c.Study.Channels(p); len(ids) > 0 {
		return ids[0]
	}
	return scene.NoChannel
}

// Says puts a verb behind the name of a part: "head travels", "hips travel".
func (c *Context) Says(p scene.PartID, verb string) string {
	name := c.Name(p)
	return name + " " + words.Does(name, verb)
}

// Driver is the channel that moves a track most around frame index i.
func Driver(c *Context, t *track.Track, i int) scene.ChannelID {
	w := DriverSpan.Frames(c.Study.Rate)
	d := c.Study.Drivers(t, max(0, i-w), min(c.Study.N-1, i+w))
	if len(d) == 0 {
		return scene.NoChannel
	}
	return d[0].Channel
}
