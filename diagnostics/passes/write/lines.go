package write

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/note"
	"curvelint/diagnostics/passes"
	"curvelint/diagnostics/words"
)

// section is a heading and what stands below it; text and page show the same.
type section struct {
	Title string
	Items []item
	// More says what is left out, "" for nothing.
	More string
}

// item is one thing with its lines, most often one.
type item struct {
	Name  string // "" for a lone line
	Lines []string
}

// The most that is told of many: an animator reads a page. Everything is in JSON.
const (
	mostParts = 8
	mostMoves = 3
	mostNotes = 12
	mostLines = 12
)

func pathOf(s *motion.Study) string {
	if len(s.Scene.Files) == 0 {
		return ""
	}
	return s.Scene.Files[0].Path
}

// Heading is the first lines of a comparison: what is held against what, the
// timing, the notes.
func Heading(c *passes.Comparison) (title string, lines []string) {
	title = fmt.Sprintf("%s against %s", pathOf(c.After), pathOf(c.Before))
	if c.Unrelated != "" {
		return title, []string{"not compared: " + c.Unrelated}
	}
	if c.Reference && c.ComparedBeats == 0 {
		return title, []string{"nothing to compare: no beats in both; give captured motion of this action, or an earlier pass of the shot"}
	}
	if c.Empty() && len(c.Notes.Remaining) == 0 {
		if c.Compared == 0 && c.ComparedBeats == 0 {
			return title, []string{"nothing to compare: no strokes in both"}
		}
		return title, []string{"nothing changed"}
	}
	if c.Renumbered != 0 {
		lines = append(lines, "the frames are numbered from "+words.Frame(c.After.First)+" instead of "+words.Frame(c.Before.First))
	}
	switch {
	case c.Shift != 0:
		lines = append(lines, c.ShiftLine())
	case c.Reference:
	case len(c.Beats) == 0:
		lines = append(lines, "timing unchanged")
	default:
		lines = append(lines, "timing changed in "+words.Count(len(c.Beats), "beat"))
	}
	if c.Reference {
		lines = append(lines, fmt.Sprintf("timing against reference: %d of %s within a frame", c.ComparedBeats-len(c.Beats), words.Count(c.ComparedBeats, "beat")))
		return title, lines
	}
	n := &c.Notes
	if len(n.Fixed)+len(n.Remaining)+len(n.New) > 0 {
		lines = append(lines, fmt.Sprintf("notes: %d fixed, %d remaining, %d new", len(n.Fixed), len(n.Remaining), len(n.New)))
	}
	if most := mostChanged(c); most != "" {
		lines = append(lines, "changed most: "+most)
	}
	return title, lines
}

// mostChanged names the parts whose pose is farthest from what it was.
func mostChanged(c *passes.Comparison) string {
	parts := slices.DeleteFunc(slices.Clone(c.Parts), func(p passes.Part) bool { return !p.Tracked })
	if len(parts) == 0 {
		parts = slices.Clone(c.Parts)
	}
	slices.SortStableFunc(parts, func(a, b passes.Part) int { return cmp.Compare(b.Mean, a.Mean) })
	var names []string
	for i := range parts {
		if len(names) < 3 && parts[i].Mean > 0.001 {
			names = append(names, partName(c, &parts[i])+" ("+words.Short(c.SizeUnit(), parts[i].Mean)+")")
		}
	}
	if len(names) == 0 {
		return ""
	}
	of := strings.TrimPrefix(words.UnitName(c.SizeUnit()), "% ")
	return words.List(names) + " " + of + " on average"
}

// sections are everything below the heading, without those that are empty.
func sections(c *passes.Comparison) (out []section) {
	add := func(s section) {
		if len(s.Items) > 0 {
			out = append(out, s)
		}
	}
	beats := section{Title: "beats"}
	for i := range c.Beats {
		b := &c.Beats[i]
		who := words.List(b.Groups)
		if b.Everything && !c.Reference {
			who = "everything"
		}
		beats.Items = append(beats.Items, line("%s: %s (%s)", when(c, b.First, b.Last, b.Figure), b, who))
	}
	add(limited(beats))
	add(newSection(c))
	orders := section{Title: "who leads"}
	for i := range c.Orders {
		o := &c.Orders[i]
		orders.Items = append(orders.Items, line("%s: %s", when(c, o.First, o.Last, o.Figure), o))
	}
	add(limited(orders))
	holds := section{Title: "holds"}
	for i := range c.Holds {
		h := &c.Holds[i]
		holds.Items = append(holds.Items, line("%s: %s", when(c, h.First, h.Last, h.Figure), h))
	}
	add(limited(holds))
	add(partSection(c))
	paths := section{Title: "parts in one pass only"}
	for _, p := range c.Gone {
		paths.Items = append(paths.Items, line("%s is gone", p))
	}
	for _, p := range c.New {
		paths.Items = append(paths.Items, line("%s is new", p))
	}
	add(limited(paths))
	add(noteSection("notes fixed", c.Notes.Fixed))
	add(noteSection("notes remaining", c.Notes.Remaining))
	return out
}

// newSection has the notes that want looking at: it stands high.
func newSection(c *passes.Comparison) section { return noteSection("new notes", c.Notes.New) }

func line(format string, args ...any) item {
	return item{Lines: []string{fmt.Sprintf(format, args...)}}
}

func limited(s section) section {
	if n := len(s.Items) - mostLines; n > 0 {
		s.Items, s.More = s.Items[:mostLines], fmt.Sprintf("and %d more", n)
	}
	return s
}

// when names the frames of what a figure does, and the figure where there are
// several.
func when(c *passes.Comparison, first, last float64, figure string) string {
	if figure == "" || len(c.After.Figures()) < 2 {
		return words.Between(first, last)
	}
	return words.Between(first, last) + " " + words.LastName(figure)
}

// partName is how an animator calls a part, with its figure where parts of several
// figures that changed are called the same.
func partName(c *passes.Comparison, p *passes.Part) string {
	for i := range c.Parts {
		if o := &c.Parts[i]; o.Name == p.Name && o.Figure != p.Figure && p.Figure != "" {
			return words.LastName(p.Figure) + " " + p.Name
		}
	}
	return p.Name
}

func noteSection(title string, notes []note.Note) section {
	s := section{Title: title}
	for i := range notes {
		if i == mostNotes {
			s.More = fmt.Sprintf("and %d more", len(notes)-mostNotes)
			break
		}
		s.Items = append(s.Items, line("%s [%s]", notes[i].Message, notes[i].Check))
	}
	return s
}

// partSection tells the parts that are seen most. Parts of which the same is said,
// such as both lids, stand together.
func partSection(c *passes.Comparison) section {
	s := section{Title: "parts, most seen first"}
	for i := range c.Parts {
		p := &c.Parts[i]
		it := item{Name: partName(c, p), Lines: partLines(c, p)}
		if same := slices.IndexFunc(s.Items, func(o item) bool { return slices.Equal(o.Lines, it.Lines) }); same >= 0 {
			s.Items[same].Name += ", " + it.Name
			continue
		}
		s.Items = append(s.Items, it)
	}
	if n := len(s.Items) - mostParts; n > 0 {
		s.Items, s.More = s.Items[:mostParts], "and "+words.Count(n, "part")+" more"
	}
	return s
}

// partLines tells the moves that changed most, by frames.
func partLines(c *passes.Comparison, p *passes.Part) (lines []string) {
	if len(p.Moves) == 0 && len(p.Holds) == 0 {
		return []string{c.Standing(p)}
	}
	chosen := make([]int, len(p.Moves))
	for i := range chosen {
		chosen[i] = i
	}
	slices.SortStableFunc(chosen, func(a, b int) int { return cmp.Compare(p.Moves[b].Weight, p.Moves[a].Weight) })
	left := max(0, len(chosen)-mostMoves)
	chosen = chosen[:len(chosen)-left]
	slices.Sort(chosen)
	for _, i := range chosen {
		lines = append(lines, p.Moves[i].String())
	}
	for i := range p.Holds {
		if i == mostMoves {
			left += len(p.Holds) - i
			break
		}
		h := &p.Holds[i]
		lines = append(lines, fmt.Sprintf("%s hold: %s", words.Between(h.First, h.Last), h))
	}
	if left > 0 {
		lines = append(lines, fmt.Sprintf("and %d more", left))
	}
	return lines
}
