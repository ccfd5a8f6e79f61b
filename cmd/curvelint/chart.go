package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"path"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"curvelint/diagnostics"
	"curvelint/diagnostics/chart"
	"curvelint/diagnostics/config"
	"curvelint/diagnostics/motion"
	"curvelint/parse/scene"
)

// chartOptions are the flags of chart.
type chartOptions struct {
	kind, part, frames string
	before, output     string
	config, size       string
	dark               bool
	step               int
}

const chartLong = `Chart draws a picture of the motion in a scene file, as SVG or PNG:

  spacing   a tick for each frame along the path of a part, and a bar for the
            way from each frame to the next
  arc       the path of the point that a part carries, through the shot's
            camera or in the plane it lies in, with a mark for each frame
  timeline  the moves, holds and contacts of a figure's groups, who leads each
            beat, and the notes
  speed     the speeds of a leader and what follows it, and by how many frames
  keys      the values and keys of the channel of a part that changes most

Parts are named by their path, or by its end when only one part has it. With
--before, the same part of an earlier pass is drawn behind.`

const chartExample = `  curvelint chart shot.usda --kind spacing --part head --frames 1031-1046 -o head.svg
  curvelint chart polish.usda --before spline.usda --kind arc --part hand_l -o hand.png
  curvelint chart shot.usda --kind timeline --part /Tug -o tug.svg`

func newChart(std streams) *cobra.Command {
	var o chartOptions
	c := &cobra.Command{
		Use: "chart [flags] FILE", Short: "Draw the spacing, arc, timeline, speeds or keys of a part",
		Long: chartLong, Example: chartExample,
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) != 1 {
				return errors.New("chart needs the path of one scene file; see curvelint chart --help")
			}
			return nil
		},
		RunE: func(c *cobra.Command, args []string) error { return runChart(c.Context(), std, &o, args[0]) },
	}
	f := c.Flags()
	f.SortFlags = false
	f.StringVar(&o.kind, "kind", "spacing", "what is drawn: "+chart.Names())
	f.StringVar(&o.part, "part", "", "the `PATH` of the part, or the end of it (default: the head, else what moves most)")
	f.StringVar(&o.frames, "frames", "", "draw the frames `A-B` (default: all)")
	f.StringVar(&o.before, "before", "", "the `FILE` of an earlier pass, drawn behind")
	f.StringVarP(&o.output, "output", "o", "", "write the picture to `FILE`, .svg or .png (default: SVG on standard output)")
	f.StringVar(&o.size, "size", "720x405", "width and height in pixels (`WxH`)")
	f.IntVar(&o.step, "step", 0, "marks on ones (1) or twos (2) (default: as the motion is)")
	f.BoolVar(&o.dark, "dark", false, "draw for a dark background")
	f.StringVar(&o.config, "config", "", "use this `FILE` instead of looking for curvelint.toml")
	return c
}

// drawing reads the flags that are words.
func (o *chartOptions) drawing() (chart.Options, error) {
	d := chart.Options{Dark: o.dark, Step: o.step}
	switch strings.ToLower(filepath.Ext(o.output)) {
	case ".svg":
	case ".png":
		d.Format = chart.PNG
	case "":
		if o.output == "" {
			break
		}
		fallthrough
	default:
		return d, fmt.Errorf("--output: expected a name that ends in .svg or .png, found %q", o.output)
	}
	if n, err := fmt.Sscanf(o.size+" ", "%dx%d ", &d.Width, &d.Height); n != 2 || err != nil || d.Width < 160 || d.Height < 90 || d.Width > 4000 || d.Height > 4000 {
		return d, fmt.Errorf("--size: expected such as 720x405, from 160x90 to 4000x4000, found %q", o.size)
	}
	if o.step < 0 || o.step > 2 {
		return d, fmt.Errorf("--step: expected 1 or 2, found %d", o.step)
	}
	return d, nil
}

func runChart(ctx context.Context, std streams, o *chartOptions, file string) error {
	kind, ok := chart.KindOf(o.kind)
	if !ok {
		return fmt.Errorf("unknown --kind %q; expected %s", o.kind, chart.Names())
	}
	d, err := o.drawing()
	if err != nil {
		return err
	}
	finder := config.Finder{Schema: diagnostics.Schema(), Fixed: o.config}
	now, err := loadShot(ctx, &finder, file)
	if err != nil {
		return err
	}
	if o.before != "" {
		before, err := loadShot(ctx, &finder, o.before)
		if err != nil {
			return err
		}
		d.Before = before.result.Study
	}
	d.Notes = now.result.Notes
	study := now.result.Study
	part, err := findPart(study, o.part)
	if err != nil {
		return err
	}
	first, last := study.First, study.Frame(study.N-1)
	if o.frames != "" {
		f, err := config.ParseFrames(o.frames)
		if err != nil {
			return fmt.Errorf("--frames: %w", err)
		}
		first, last = f.First, f.Last
	}
	picture, err := kind.Draw(study, part, first, last, d)
	if err != nil {
		return err
	}
	return writeWhole(std.out, o.output, picture)
}

// writeWhole writes data to a file, which appears when everything is in it, or
// to w when no file is named.
func writeWhole(w io.Writer, path string, data []byte) error {
	out, err := openOutput(w, path)
	if err != nil {
		return err
	}
	_, err = out.Write(data)
	return out.finish(err)
}

// findPart returns the part that a path, or the end of one, names; without a
// name, the part of the focus of the first figure, else the first part that
// moves.
func findPart(s *motion.Study, name string) (scene.PartID, error) {
	if name == "" {
		return usualPart(s)
	}
	if p := s.Scene.Find(name); p != scene.NoPart {
		return p, nil
	}
	var found []string
	at := scene.NoPart
	for i := range s.Scene.Parts {
		if p := &s.Scene.Parts[i]; strings.HasSuffix(p.Path, "/"+strings.TrimPrefix(name, "/")) {
			found, at = append(found, p.Path), p.ID
		}
	}
	switch len(found) {
	case 1:
		return at, nil
	case 0:
		return at, fmt.Errorf("no part %q; %s", name, nearParts(s, name))
	}
	return at, fmt.Errorf("%d parts end in %q: %s; give more of the path", len(found), name, strings.Join(found[:min(3, len(found))], ", "))
}

// nearParts names parts for somebody who has mistyped one.
func nearParts(s *motion.Study, name string) string {
	var near []string
	for i := range s.Scene.Parts {
		p := &s.Scene.Parts[i]
		if strings.Contains(strings.ToLower(p.Name), strings.ToLower(path.Base(name))) && len(near) < 3 {
			near = append(near, p.Path)
		}
	}
	if len(near) == 0 {
		for _, fig := range s.Figures()[:min(3, len(s.Figures()))] {
			near = append(near, s.Scene.Parts[fig.Root].Path)
		}
	}
	if len(near) == 0 {
		return "the scene has none that move"
	}
	return "there are " + strings.Join(near, ", ")
}

func usualPart(s *motion.Study) (scene.PartID, error) {
	for _, fig := range s.Figures() {
		if g := fig.FocusGroup(); g != nil {
			return g.Top(), nil
		}
	}
	for i := range s.Scene.Parts {
		if s.Moves(scene.PartID(i)) {
			return scene.PartID(i), nil
		}
	}
	return scene.NoPart, errors.New("nothing moves in the scene; export its animation")
}
