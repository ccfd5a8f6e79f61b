package server

import (
	"context"
	"fmt"

	"go.lsp.dev/jsonrpc2"
	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"

	"curvelint/diagnostics/chart"
	"curvelint/diagnostics/checks"
	"curvelint/diagnostics/checks/kit"
	"curvelint/diagnostics/facts"
	"curvelint/diagnostics/note"
	"curvelint/diagnostics/words"
	"curvelint/parse/scene"
	"curvelint/server/workspace"
)

// chartArguments say what to draw: a kind of chart of a part, from one frame to
// another; without frames, the whole clip; with a position instead of a part, the
// move that is written there. A client that shows the picture by itself is quiet.
type chartArguments struct {
	URI   uri.URI `json:"uri"`
	Part  string  `json:"part"`
	Kind  string  `json:"kind"`
	First float64 `json:"first"`
	Last  float64 `json:"last"`
	Dark  bool    `json:"dark"`
	Quiet bool    `json:"quiet"`

	Position *protocol.Position `json:"position,omitempty"`
}

// charted is what a chart command gives back: the picture, and its address when
// it is shown in a browser.
type charted struct {
	Title   string `json:"title"`
	SVG     string `json:"svg"`
	Address string `json:"address,omitempty"`
}

// showChart draws a chart and shows it in the browser.
func (s *Server) showChart(ctx context.Context, raw []byte) (any, error) {
	var a chartArguments
	if err := arguments(raw, &a, `{"uri": ..., "part": "/Tug/hips", "kind": "spacing", "first": 1035, "last": 1047}`); err != nil {
		return nil, err
	}
	shot, err := s.sceneOf(ctx, a.URI)
	if err != nil {
		return nil, err
	}
	if a.Position != nil {
		s.aim(shot, &a)
	}
	title, svg, err := s.draw(shot, &a)
	if err != nil {
		return nil, jsonrpc2.Errorf(jsonrpc2.InvalidParams, "%v", err)
	}
	c := charted{Title: title, SVG: string(svg)}
	if a.Quiet {
		return c, nil
	}
	if c.Address, err = s.pictures.add(s, svg); err != nil {
		return nil, err
	}
	return c, s.openExternal(ctx, c.Address)
}

// aim turns the position of a request into a part and the frames of its move.
func (s *Server) aim(shot *workspace.Shot, a *chartArguments) {
	at := s.offset(shot.Doc.Index, *a.Position)
	part := shot.Lookup.HeaderAt(0, at)
	if place, ok := shot.Lookup.KeyAt(0, at); ok {
		c := &shot.Scene.Channels[place.Channel]
		k := facts.At(shot.Study, place.Channel, c.Curve.Times[place.Key])
		part = k.Part
		if m, ok := moveAt(&k); ok && a.First == a.Last {
			a.First, a.Last = shot.Study.Frame(m.First), shot.Study.Frame(m.Last)
		}
	} else if part == scene.NoPart {
		part = shot.Lookup.PartAt(0, at)
	}
	if part == scene.NoPart {
		return
	}
	if near, ok := chart.Subject(shot.Study, a.Kind, part); ok {
		part = near
	}
	a.Part = shot.Scene.Parts[part].Path
}

// draw draws a chart, with the earlier pass behind it if that has been compared.
func (s *Server) draw(shot *workspace.Shot, a *chartArguments) (title string, svg []byte, err error) {
	if a.Kind == "" {
		a.Kind = "spacing"
	}
	kind, ok := chart.KindOf(a.Kind)
	if !ok {
		return "", nil, fmt.Errorf("unknown kind %q; expected %s", a.Kind, chart.Names())
	}
	part := shot.Scene.Find(a.Part)
	if part == scene.NoPart {
		return "", nil, fmt.Errorf("there is no part %q; name one by its path, or a position inside one", a.Part)
	}
	if a.First == 0 && a.Last == 0 && shot.Study.N > 0 {
		a.First, a.Last = shot.Study.First, shot.Study.Frame(shot.Study.N-1)
	}
	o := chart.Options{Dark: a.Dark, Notes: shot.Notes}
	if c, known := s.session.Compared(shot); known && c != nil && c.Unrelated == "" {
		o.Before = c.Before
	}
	svg, err = kind.Draw(shot.Study, part, a.First, a.Last, o)
	return fmt.Sprintf("%s of %s, %s", kind.Name, shot.Scene.Parts[part].Name, words.Span(a.First, a.Last)), svg, err
}

// chartFor returns the chart that shows best what a note is about, with half a
// second around it.
// It need not be of the part that the note is on. Ok is false when there is
// nothing to draw.
func chartFor(shot *workspace.Shot, n *note.Note) (a chartArguments, ok bool) {
	a = chartArguments{URI: shot.Doc.URI, Part: n.Part, Kind: "spacing"}
	if c := checks.Find(n.Check); c != nil {
		switch c.Group {
		case kit.Timing:
			a.Kind = "speed"
		case kit.Paths, kit.Contact:
			a.Kind = "arc"
		case kit.Holds, kit.Staging:
			a.Kind = "timeline"
		}
	}
	s := shot.Study
	if part, ok := chart.Subject(s, a.Kind, n.PartID); ok {
		a.Part = s.Scene.Parts[part].Path
	} else {
		a.Kind = "spacing"
		if _, ok = chart.Subject(s, a.Kind, n.PartID); !ok {
			return a, false
		}
	}
	around := s.Window(0.5)
	a.First = s.Frame(max(0, s.Index(n.First)-around))
	a.Last = s.Frame(min(s.N-1, s.Index(n.Last)+around))
	return a, a.First < a.Last
}
