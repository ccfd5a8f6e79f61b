package passes

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"curvelint/diagnostics/words"
)

// PartChange says in one line what changed about a part, by its path in either
// pass: "head 1035-1047 path: arrives 2 frames sooner, arc depth 0.12 -> 0.20; 2 moves
// more"; "" when nothing did.
func PartChange(c *Comparison, path string) string {
	i, ok := c.byPath[path]
	if !ok {
		return beatOf(c, path)
	}
	p := &c.Parts[i]
	best := -1
	for i := range p.Moves {
		if best < 0 || p.Moves[i].Weight > p.Moves[best].Weight {
			best = i
		}
	}
	if best < 0 {
		return p.Name + ": " + c.Standing(p)
	}
	line := p.Name + " " + p.Moves[best].String()
	if n := len(p.Moves) - 1; n > 0 {
		line += "; " + words.Count(n, "move") + " more"
	}
	return line
}

// PartChangeAt says in one line what changed about a part at a display frame of
// the later pass: the move that holds the frame, or the hold, or else the beat; ""
// when nothing did.
func PartChangeAt(c *Comparison, path string, frame float64) string {
	if i, ok := c.byPath[path]; ok {
		p := &c.Parts[i]
		best := -1
		for i := range p.Moves {
			if m := &p.Moves[i]; m.First <= frame && frame <= m.Last && (best < 0 || m.Weight > p.Moves[best].Weight) {
				best = i
			}
		}
		if best >= 0 {
			return p.Name + " " + p.Moves[best].String()
		}
		for i := range p.Holds {
			if h := &p.Holds[i]; h.First <= frame && frame <= h.Last {
				return fmt.Sprintf("%s %s: %s", p.Name, words.Between(h.First, h.Last), h)
			}
		}
	}
	for i := range c.Beats {
		if b := &c.Beats[i]; b.First <= frame && frame <= b.Last && b.concerns(c, path) {
			return fmt.Sprintf("%s: %s", words.Between(b.First, b.Last), b)
		}
	}
	return ""
}

// beatOf says by how much the beat that moves a part comes later.
func beatOf(c *Comparison, path string) string {
	for i := range c.Beats {
		if b := &c.Beats[i]; b.concerns(c, path) {
			return fmt.Sprintf("%s: %s", words.Between(b.First, b.Last), b)
		}
	}
	return ""
}

// concerns reports whether a beat moves the part with a path in the later pass.
func (b *Beat) concerns(c *Comparison, path string) bool {
	id := c.After.Scene.Find(path)
	fig := c.After.FigureOf(id)
	if fig == nil || b.Figure != c.After.Scene.Parts[fig.Root].Path {
		return false
	}
	g := fig.GroupOf(id)
	return g != nil && slices.Contains(b.Groups, g.Name)
}

// String says what became of one stroke: its frames, then what changed, the
// plainest changes first.
func (m *Move) String() string {
	where := words.Between(m.First, m.Last)
	switch {
	case m.New:
		return where + ": a new move" + of(m.Motion)
	case m.Gone:
		return where + ": the move" + of(m.Motion) + " is gone"
	}
	var said []string
	if m.Strokes[0] > 1 && m.Strokes[1] == 1 {
		said = append(said, fmt.Sprintf("%d strokes became one", m.Strokes[0]))
	} else if m.Strokes[1] > 1 && m.Strokes[0] == 1 {
		said = append(said, fmt.Sprintf("one stroke became %d", m.Strokes[1]))
	}
	said = append(said, timingWords(m.Quantities)...)
	for _, q := range m.plainest() {
		said = append(said, q.String())
	}
	return where + of(m.Motion) + ": " + strings.Join(said, ", ")
}

// mostSaid is how many quantities a line has.
const mostSaid = 4

// plainest returns the quantities that changed most, frames of the timing aside.
func (m *Move) plainest() (out []*Quantity) {
	for i := range m.Quantities {
		if q := &m.Quantities[i]; q.Changed && q.Unit != "frame" {
			out = append(out, q)
		}
	}
	slices.SortStableFunc(out, func(a, b *Quantity) int { return cmp.Compare(b.weight(), a.weight()) })
	return out[:min(len(out), mostSaid)]
}

// of names the motion that a line is of.
func of(m Motion) string {
	switch m {
	case Path:
		return " path"
	case Slide:
		return " shift"
	case Value:
		return " value"
	}
	return " turn"
}

// timingWords says by how many frames a stroke starts, peaks and arrives later.
func timingWords(list []Quantity) (said []string) {
	d, changed := map[string]float64{}, map[string]bool{}
	for i := range list {
		d[list[i].Name], changed[list[i].Name] = list[i].Moved, list[i].Changed
	}
	if changed["start"] && changed["arrival"] && math.Round(d["start"]) == math.Round(d["arrival"]) {
		return []string{"comes " + words.Later(d["arrival"])}
	}
	for _, w := range [][2]string{{"start", "starts "}, {"arrival", "arrives "}, {"peak", "peaks "}} {
		if changed[w[0]] {
			said = append(said, w[1]+words.Later(d[w[0]]))
		}
	}
	return said
}

// ShiftLine says by how much everything comes later: "everything 3 frames later".
func (c *Comparison) ShiftLine() string { return "everything " + words.Later(c.Shift) }

// String says what became of a hold.
func (h *Hold) String() string {
	var said []string
	switch {
	case h.Gone:
		said = append(said, "moves now")
	case h.New:
		said = append(said, "holds now")
	}
	if h.Drift.Changed {
		said = append(said, h.Drift.String())
	}
	if h.Length.Changed {
		said = append(said, h.Length.String())
	}
	return strings.Join(said, ", ")
}

// fewLeads is up to how many groups an order is told as a whole.
const fewLeads = 4

// String says who follows whom differently: "brows, lids, eyes +1 -> brows, eyes +1,
// lids +2" or, of many, who leads and those that changed.
func (o *Order) String() string {
	if len(o.Was) <= fewLeads {
		return leadWords(o.Was) + " -> " + leadWords(o.Became)
	}
	was, became := o.Was[0].Group, o.Became[0].Group
	var said []string
	for _, l := range o.Became {
		for _, w := range o.Was {
			if w.Group == l.Group && w.Behind != l.Behind {
				said = append(said, fmt.Sprintf("%s %s -> %s", l.Group, words.Signed(w.Behind), words.Signed(l.Behind)))
			}
		}
	}
	if was != became {
		return fmt.Sprintf("%s led, now %s: %s frames", was, became, strings.Join(said, ", "))
	}
	return fmt.Sprintf("behind %s: %s frames", was, strings.Join(said, ", "))
}

func leadWords(list []Lead) string {
	names, behind := make([]string, len(list)), make([]float64, len(list))
	for i, l := range list {
		names[i], behind[i] = l.Group, l.Behind
	}
	return words.Follow(names, behind)
}

// String writes a quantity: "arc depth 0.02 -> 0.11", "leaves over 1 -> 4 frames".
func (q *Quantity) String() string {
	name, unit := strings.ReplaceAll(q.Name, "-", " "), q.Unit
	switch q.Name {
	case "leave":
		name = "leaves over"
	case "arrive":
		name = "arrives over"
	case "breakdown":
		unit = "share" // of the way
	}
	return name + " " + words.Change(unit, q.Was, q.Became)
}

// String says how a beat's timing changed: "arrives 2 frames sooner".
func (b *Beat) String() string {
	start, arrival := math.Round(b.Start), math.Round(b.Arrival)
	switch {
	case start == arrival && start != 0:
		return "arrives " + words.Later(b.Arrival)
	case start == 0 && arrival == 0:
		return "peaks " + words.Later(b.Peak)
	case start == 0:
		return "arrives " + words.Later(b.Arrival)
	case arrival == 0:
		return "starts " + words.Later(b.Start)
	}
	return "starts " + words.Later(b.Start) + ", arrives " + words.Later(b.Arrival)
}

// Standing says how far a part's pose is from what it was.
func (c *Comparison) Standing(p *Part) string {
	return words.Amount(c.SizeUnit(), p.Mean) + " from where it was, most at frame " + words.Frame(p.At)
}

// SizeUnit is the unit of how far poses are from what they were, by its name in
// package words: pictures where both scenes have one, else figure.
func (c *Comparison) SizeUnit() string {
	if c.HasPicture {
		return "pictures"
	}
	return "figure"
}
