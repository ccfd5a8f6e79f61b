package write

import (
	"encoding/json"
	"io"
	"math"

	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/passes"
	"curvelint/diagnostics/report"
	"curvelint/diagnostics/words"
)

// JSONVersion is the version of the JSON form. It changes when a program that reads
// the form could go wrong, not when something is added.
const JSONVersion = 1

// JSON writes everything about a comparison for programs. Lists are never null;
// frames named first, last, was and peak frames are display frames, differences of
// frames are frames of the later pass and positive for later.
func JSON(w io.Writer, c *passes.Comparison) error {
	e := json.NewEncoder(w)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	return e.Encode(form(c))
}

type jsonForm struct {
	Version    int         `json:"version"`
	Before     jsonFile    `json:"before"`
	After      jsonFile    `json:"after"`
	Reference  bool        `json:"reference"`
	SameTiming bool        `json:"sameTiming"`
	Shift      float64     `json:"shift"`
	Renumbered float64     `json:"renumbered"`
	SizeUnit   string      `json:"sizeUnit"` // of differences: "picture" or "figure"
	Compared   int         `json:"comparedStrokes"`
	Beats      []jsonBeat  `json:"beats"`
	Orders     []jsonOrder `json:"orders"`
	Holds      []jsonHold  `json:"holds"`
	Parts      []jsonPart  `json:"parts"`
	Gone       []string    `json:"gone"`
	New        []string    `json:"new"`
	Notes      jsonNotes   `json:"notes"`
}

type jsonFile struct {
	Path   string      `json:"path"`
	Format string      `json:"format"`
	FPS    float64     `json:"fps"`
	Frames *[2]float64 `json:"frames"`
}

type jsonBeat struct {
	Frames     [2]float64 `json:"frames"`
	Was        [2]float64 `json:"was"`
	Figure     string     `json:"figure"`
	Groups     []string   `json:"groups"`
	Everything bool       `json:"everything"`
	Start      float64    `json:"start"`
	Peak       float64    `json:"peak"`
	Arrival    float64    `json:"arrival"`
}

type jsonLead struct {
	Group  string  `json:"group"`
	Behind float64 `json:"behind"`
}

type jsonOrder struct {
	Frames [2]float64 `json:"frames"`
	Figure string     `json:"figure"`
	Was    []jsonLead `json:"was"`
	Became []jsonLead `json:"became"`
}

type jsonHold struct {
	Frames     [2]float64     `json:"frames"`
	Figure     string         `json:"figure"`
	Gone       bool           `json:"gone"`
	New        bool           `json:"new"`
	Quantities []jsonQuantity `json:"quantities"`
}

type jsonPart struct {
	Name       string         `json:"name"`
	Part       string         `json:"part"`
	Before     string         `json:"before"`
	Figure     string         `json:"figure"`
	Weight     float64        `json:"weight"`
	Difference jsonDifference `json:"difference"`
	Moves      []jsonMove     `json:"moves"`
	Holds      []jsonHold     `json:"holds"`
}

type jsonDifference struct {
	Mean  float64 `json:"mean"`
	Most  float64 `json:"most"`
	Frame float64 `json:"frame"`
}

type jsonMove struct {
	Motion     passes.Motion  `json:"motion"`
	Frames     [2]float64     `json:"frames"`
	Was        [2]float64     `json:"was"`
	New        bool           `json:"new"`
	Gone       bool           `json:"gone"`
	Strokes    [2]int         `json:"strokes"`
	Weight     float64        `json:"weight"`
	Quantities []jsonQuantity `json:"quantities"`
}

type jsonQuantity struct {
	Name    string  `json:"name"`
	Was     float64 `json:"was"`
	Became  float64 `json:"became"`
	Unit    string  `json:"unit"`
	Moved   float64 `json:"moved"`
	Changed bool    `json:"changed"`
}

type jsonNotes struct {
	Fixed     []report.Note `json:"fixed"`
	Remaining []report.Note `json:"remaining"`
	New       []report.Note `json:"new"`
}

func form(c *passes.Comparison) *jsonForm {
	f := &jsonForm{Version: JSONVersion, Before: fileOf(c.Before), After: fileOf(c.After), Reference: c.Reference,
		SameTiming: c.SameTiming(), Shift: round(c.Shift), Renumbered: round(c.Renumbered), SizeUnit: "figure", Compared: c.Compared,
		Beats: []jsonBeat{}, Orders: []jsonOrder{}, Holds: holdsOf(c.Holds), Parts: []jsonPart{},
		Gone: append([]string{}, c.Gone...), New: append([]string{}, c.New...),
		Notes: jsonNotes{report.Placed(c.Before.Scene, c.Notes.Fixed), report.Placed(c.After.Scene, c.Notes.Remaining), report.Placed(c.After.Scene, c.Notes.New)}}
	if c.HasPicture {
		f.SizeUnit = "picture"
	}
	for i := range c.Beats {
		b := &c.Beats[i]
		f.Beats = append(f.Beats, jsonBeat{[2]float64{b.First, b.Last}, b.Was, b.Figure, append([]string{}, b.Groups...), b.Everything,
			round(b.Start), round(b.Peak), round(b.Arrival)})
	}
	for i := range c.Orders {
		o := &c.Orders[i]
		f.Orders = append(f.Orders, jsonOrder{[2]float64{o.First, o.Last}, o.Figure, leadsOf(o.Was), leadsOf(o.Became)})
	}
	for i := range c.Parts {
		f.Parts = append(f.Parts, partOf(&c.Parts[i]))
	}
	return f
}

func fileOf(s *motion.Study) jsonFile {
	f := jsonFile{Path: pathOf(s), Format: s.Scene.Format, FPS: s.Scene.Rate}
	if s.Scene.First <= s.Scene.Last {
		f.Frames = &[2]float64{s.Scene.First, s.Scene.Last}
	}
	return f
}

func leadsOf(list []passes.Lead) []jsonLead {
	out := make([]jsonLead, len(list))
	for i, l := range list {
		out[i] = jsonLead(l)
	}
	return out
}

func holdsOf(list []passes.Hold) []jsonHold {
	out := make([]jsonHold, len(list))
	for i, h := range list {
		out[i] = jsonHold{[2]float64{h.First, h.Last}, h.Figure, h.Gone, h.New, quantitiesOf([]passes.Quantity{h.Drift, h.Length})}
	}
	return out
}

func partOf(p *passes.Part) jsonPart {
	out := jsonPart{p.Name, p.Path, p.Before, p.Figure, round(p.Weight), jsonDifference{round(p.Mean), round(p.Most), p.At},
		make([]jsonMove, len(p.Moves)), holdsOf(p.Holds)}
	for i := range p.Moves {
		m := &p.Moves[i]
		out.Moves[i] = jsonMove{m.Motion, [2]float64{m.First, m.Last}, m.Was, m.New, m.Gone, m.Strokes, round(m.Weight), quantitiesOf(m.Quantities)}
	}
	return out
}

func quantitiesOf(list []passes.Quantity) []jsonQuantity {
	out := make([]jsonQuantity, len(list))
	for i, q := range list {
		out[i] = jsonQuantity{q.Name, round(q.Was), round(q.Became), q.Unit, round(q.Moved), q.Changed}
	}
	return out
}

// round takes a difference that is next to nothing for 0, and settles the others.
func round(v float64) float64 {
	if math.Abs(v) < 1e-9 {
		return 0
	}
	return words.Stable(v)
}
