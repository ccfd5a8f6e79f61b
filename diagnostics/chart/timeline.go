package chart

import (
	"fmt"
	"slices"
	"strings"

	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/motion/body"
	"curvelint/diagnostics/motion/track"
	"curvelint/diagnostics/note"
	"curvelint/diagnostics/words"
	"curvelint/parse/scene"
)

// Timeline draws what the groups of a part's figure do from one display frame
// to another: their strokes with the frame of the peak, their holds, contacts
// of feet and hands, starts, stops and turns, who leads each beat and by how
// much, and where notes are. Groups that do not move are left out, and where
// there is no room for all, those that move least.
//
// An error says that there is nothing to draw: no such part or frames, or a
// part of no figure.
func Timeline(s *motion.Study, p scene.PartID, first, last float64, o Options) ([]byte, error) {
	o = o.settled()
	r, err := asked(s, p, first, last)
	if err != nil {
		return nil, err
	}
	fig := s.FigureOf(p)
	if fig == nil {
		return nil, fmt.Errorf("%s belongs to no figure that moves; choose a part of one", s.Scene.Parts[p].Path)
	}
	c := timeline{study: s, fig: fig, first: s.Frame(r.first), last: s.Frame(r.last)}
	c.rows = c.rowsOf(fig, nil)
	if len(c.rows) == 0 {
		return nil, still(s, p)
	}
	if q := matched(o.Before, s, fig.Root); q != scene.NoPart {
		if before := o.Before.FigureOf(q); before != nil {
			c.overlay(before)
		}
	}
	for _, n := range o.Notes {
		if n.HasFrames() && n.Last >= c.first && n.First <= c.last && c.mine(&n) {
			c.notes = append(c.notes, n)
		}
	}
	title := fmt.Sprintf("%s timeline, %s", s.Scene.Parts[fig.Root].Name, words.Span(c.first, c.last))
	return picture(o, caption{title, c.describe()}, func(pen *pen) { c.draw(pen, title) })
}

// stroke is a move on the timeline, in display frames.
type stroke struct {
	first, last float64
	peak        float64 // the middle of the largest spacing
}

// row is what one group or contact point does.
type row struct {
	name       string
	group      *motion.Group // whose motion or, of a contact, whose point it is
	contact    bool
	strokes    []stroke
	before     []stroke
	holds      [][2]float64
	contacts   [][2]float64
	events     []track.Event
	start      float64 // the display frame of event index 0
	prominence float64
}

type timeline struct {
	study       *motion.Study
	fig         *motion.Figure
	first, last float64
	rows        []row
	notes       []note.Note
	passes      bool
}

// rowsOf returns the rows of a figure: its groups that move, then its contacts.
func (c *timeline) rowsOf(fig *motion.Figure, rows []row) []row {
	s := fig.Study()
	for _, g := range fig.Groups {
		r := row{name: g.Name, group: g, start: s.First}
		for _, k := range g.Strokes() {
			st := stroke{s.Frame(k.Stroke.First), s.Frame(k.Stroke.Last), s.Frame(k.Stroke.Peak) + 0.5}
			if st.last < c.first || st.first > c.last {
				continue
			}
			r.strokes = append(r.strokes, st)
			r.prominence += k.Track.Prominence(k.Stroke)
		}
		if len(r.strokes) == 0 {
			continue
		}
		a, b := s.Index(c.first), s.Index(c.last)
		r.holds = holdsOf(s, &r, a, b)
		r.events, _ = g.EventsIn(a, b)
		rows = append(rows, r)
	}
	return append(rows, c.contactRows(fig)...)
}

// holdsOf returns the gaps between a group's strokes that are long enough to be
// holds.
func holdsOf(s *motion.Study, r *row, a, b int) [][2]float64 {
	var out [][2]float64
	from := s.Frame(a)
	add := func(to float64) {
		if to-from >= track.HoldSeconds*s.Rate {
			out = append(out, [2]float64{from, to})
		}
	}
	for _, k := range r.strokes {
		add(k.first)
		from = max(from, k.last)
	}
	add(s.Frame(b))
	return out
}

// contactRows returns a row for each foot that stands and each hand that holds.
func (c *timeline) contactRows(fig *motion.Figure) []row {
	s := fig.Study()
	var out []row
	add := func(name string, point int, list []track.Contact) {
		r := row{name: name, contact: true, group: fig.GroupOf(fig.Points[point].Part)}
		for _, k := range list {
			if s.Frame(k.Last) >= c.first && s.Frame(k.First) <= c.last {
				r.contacts = append(r.contacts, [2]float64{s.Frame(k.First), s.Frame(k.Last)})
			}
		}
		if len(r.contacts) > 0 {
			out = append(out, r)
		}
	}
	for _, f := range fig.Feet() {
		if len(f.Points) > 0 {
			add(f.Name+" stands", f.Points[0], f.Contacts)
		}
	}
	for i, q := range fig.Points {
		if q.Role == body.HandPoint {
			add(q.Name+" holds", i, fig.HandContacts(i))
		}
	}
	return out
}

// overlay gives the rows the strokes of the earlier pass, by the groups' names.
func (c *timeline) overlay(before *motion.Figure) {
	c.passes = true
	for _, r := range c.rowsOf(before, nil) {
		i := slices.IndexFunc(c.rows, func(k row) bool { return !k.contact && k.name == r.name })
		if !r.contact && i >= 0 {
			c.rows[i].before = r.strokes
		}
	}
}

// mine reports whether a note is about the figure.
func (c *timeline) mine(n *note.Note) bool {
	root := c.study.Scene.Parts[c.fig.Root].Path
	return n.Part == root || strings.HasPrefix(n.Part, root+"/")
}

func (c *timeline) describe() string {
	var said []string
	for _, b := range c.beats() {
		said = append(said, words.Span(b.first, b.last)+": "+b.leads)
	}
	s := words.Count(len(c.rows), "row") + ", " + words.Count(len(c.notes), "note")
	if len(said) > 0 {
		s += ". Beats: " + strings.Join(said, "; ")
	}
	return s + "."
}
