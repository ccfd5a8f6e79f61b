package checks

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/note"
	"curvelint/parse/scene"
)

// draft starts a note about a part and the channel that drives it (NoChannel:
// the part as a whole), from frame index a to b. It sits on the channel's value
// at a; the value at b is a related place.
func (c *Context) draft(p scene.PartID, ch scene.ChannelID, a, b int) note.Note {
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

// relate adds a related place: the channel's value at frame index i.
func (c *Context) relate(n *note.Note, ch scene.ChannelID, i int, format string, args ...any) {
	s := c.Study
	part := s.Scene.Channels[ch].Part
	n.Related = append(n.Related, note.Related{
		Span: s.Anchor(ch, i), Part: s.Scene.Parts[part].Path,
		First: s.Frame(i), Last: s.Frame(i), Message: fmt.Sprintf(format, args...),
	})
}

// relatePart adds a related place on a part at frame index i.
func (c *Context) relatePart(n *note.Note, p scene.PartID, i int, format string, args ...any) {
	s := c.Study
	n.Related = append(n.Related, note.Related{
		Span: s.AnchorPart(p, i), Part: s.Scene.Parts[p].Path,
		First: s.Frame(i), Last: s.Frame(i), Message: fmt.Sprintf(format, args...),
	})
}

// weigh ranks a note: how far what it speaks of travels (in figure sizes, or
// their like for turns and weights), how near that is to where the audience
// looks, and how serious it is.
func (c *Context) weigh(fig *motion.Figure, p scene.PartID, travel float64) float64 {
	k := map[note.Severity]float64{note.Error: 1, note.Warning: 1, note.Information: 0.5, note.Hint: 0.2}[c.Severity]
	return k * travel * fig.Nearness(p)
}

// likeFigures turns a length in a track's unit into figure sizes, turns and
// weights by what counts as the same amount of motion.
func likeFigures(q motion.Quality, v float64) float64 {
	return v / motion.FloorSpeed(q) * motion.FloorSpeed(motion.Position)
}

// span names frames the way people do: "frames 31-39", "frame 31".
func (c *Context) span(a, b int) string {
	x, y := frameNumber(c.Study.Frame(a)), frameNumber(c.Study.Frame(b))
	if x == y {
		return "frame " + x
	}
	return "frames " + x + "-" + y
}

func frameNumber(f float64) string {
	return strconv.FormatFloat(math.Round(f*100)/100, 'f', -1, 64)
}

// name is what a person calls a part: its own name in the file, or its bone's
// for the end of a chain.
func (c *Context) name(p scene.PartID) string {
	parts := c.Study.Scene.Parts
	if parts[p].Kind == scene.Tip && parts[p].Parent != scene.NoPart {
		p = parts[p].Parent
	}
	return shorten(parts[p].Name)
}

// longestName bounds names in messages: they must stay readable in one line.
const longestName = 24

// shorten leaves out the middle of a name that is too long.
func shorten(name string) string {
	r := []rune(name)
	if len(r) <= longestName {
		return name
	}
	half := (longestName - 1) / 2
	return string(r[:half]) + "…" + string(r[len(r)-half:])
}

// percent writes a share as a whole percentage, at least 1 when it is not 0.
func percent(share float64) string {
	p := math.Round(share * 100)
	if p == 0 && share > 0.0005 {
		p = 1
	}
	return strconv.FormatFloat(p, 'f', 0, 64) + " %"
}

// share writes a driver's share: above 1 it works against a counter-move.
func share(v float64) string {
	if v > 1.05 {
		return "against a counter-move"
	}
	return percent(min(v, 1))
}

// amount writes a length of a quality with its unit.
func amount(q motion.Quality, v float64) string {
	switch q {
	case motion.Rotation:
		return strconv.FormatFloat(v, 'f', 1, 64) + " degrees"
	case motion.Value:
		return percent(v) + " of its range"
	}
	return strconv.FormatFloat(v, 'f', 3, 64) + " figure"
}

// unit names the unit of a quality in measures.
func unit(q motion.Quality) string {
	switch q {
	case motion.Rotation:
		return "degrees"
	case motion.Value:
		return "range"
	}
	return "figure"
}

// living returns the figures that are judged.
func (c *Context) living() []*motion.Figure {
	var out []*motion.Figure
	for _, fig := range c.Study.Figures() {
		if c.Study.NatureOf(fig.Root) == motion.Living {
			out = append(out, fig)
		}
	}
	return out
}

// anyChannel is the part's first channel, or NoChannel.
func (c *Context) anyChannel(p scene.PartID) scene.ChannelID {
	if ids := c.Study.Channels(p); len(ids) > 0 {
		return ids[0]
	}
	return scene.NoChannel
}

// rootChannel is the channel that moves the figure's root most between two
// frames, or its first.
func (c *Context) rootChannel(fig *motion.Figure, a, b int) scene.ChannelID {
	if t := fig.RootTrack(); t != nil {
		if d := c.Study.Drivers(t, a, b); len(d) > 0 {
			return d[0].Channel
		}
	}
	return c.anyChannel(fig.Root)
}

// plurals are body words that take a verb without s: "hips travel".
var plurals = map[string]bool{
	"hips": true, "lids": true, "brows": true, "eyes": true, "ears": true, "lips": true, "ribs": true, "toes": true,
	"wings": true, "fingers": true, "feet": true, "shoulders": true, "arms": true, "legs": true, "teeth": true,
}

// does conjugates a verb given in the form for one: does("hips", "travels") is
// "travel".
func does(name, verb string) string {
	words := motion.Words(name)
	if len(words) > 0 && plurals[words[len(words)-1]] {
		return strings.TrimSuffix(verb, "s")
	}
	return verb
}

// says puts a verb behind the name of a part: "head travels", "hips travel".
func (c *Context) says(p scene.PartID, verb string) string {
	name := c.name(p)
	return name + " " + does(name, verb)
}
