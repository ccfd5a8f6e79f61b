package command

import (
	"context"
	"fmt"

	"go.lsp.dev/jsonrpc2"

	"curvelint/diagnostics/chart"
	"curvelint/diagnostics/facts"
	"curvelint/diagnostics/words"
	"curvelint/parse/scene"
	"curvelint/server/show"
	"curvelint/server/workspace"
)

// charted is what a chart command gives back: the picture, and its address when
// it is shown in a browser.
type charted struct {
	Title   string `json:"title"`
	SVG     string `json:"svg"`
	Address string `json:"address,omitempty"`
}

// showChart draws a chart and shows it in the browser.
func (c *Commands) showChart(ctx context.Context, raw []byte) (any, error) {
	var a show.ChartArguments
	if err := show.ReadArguments(raw, &a, `{"uri": ..., "part": "/Tug/hips", "kind": "spacing", "first": 1035, "last": 1047}`); err != nil {
		return nil, err
	}
	shot, err := c.features.OpenShot(ctx, a.URI)
	if err != nil {
		return nil, err
	}
	if a.Position != nil {
		c.aim(shot, &a)
	}
	title, svg, err := c.draw(shot, &a)
	if err != nil {
		return nil, jsonrpc2.Errorf(jsonrpc2.InvalidParams, "%v", err)
	}
	drawn := charted{Title: title, SVG: string(svg)}
	if a.Quiet {
		return drawn, nil
	}
	if drawn.Address, err = c.pictures.add(c.client, svg); err != nil {
		return nil, err
	}
	return drawn, c.client.Browse(ctx, drawn.Address)
}

// aim turns the position of a request into a part and the frames of its move.
func (c *Commands) aim(shot *workspace.Shot, a *show.ChartArguments) {
	at := c.client.Offset(shot.Doc.Index, *a.Position)
	part := shot.Lookup.HeaderAt(0, at)
	if place, ok := shot.Lookup.KeyAt(0, at); ok {
		k := facts.At(shot.Study, place.Channel, shot.Scene.Channels[place.Channel].Curve.Times[place.Key])
		part = k.Part
		if m, ok := show.MoveAt(&k); ok && a.First == a.Last {
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
func (c *Commands) draw(shot *workspace.Shot, a *show.ChartArguments) (title string, svg []byte, err error) {
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
	if since, known := c.session.Compared(shot); known && since != nil && since.Unrelated == "" {
		o.Before = since.Before
	}
	svg, err = kind.Draw(shot.Study, part, a.First, a.Last, o)
	return fmt.Sprintf("%s of %s, %s", kind.Name, shot.Scene.Parts[part].Name, words.Span(a.First, a.Last)), svg, err
}
