package main

import (
	"fmt"
	"image/color"
	"math"
	"os"
	"strings"

	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/plot"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/vgsvg"
)

// power returns the exponent with which the time of a curve grows with the
// bytes over its last three points: the slope in logarithms.
func (c curve) power() float64 {
	var x, y []float64
	for _, p := range c.points[max(0, len(c.points)-3):] {
		x, y = append(x, math.Log(float64(p.bytes))), append(y, math.Log(p.cpu.Seconds()))
	}
	_, slope := stat.LinearRegression(x, y, nil, false)
	return slope
}

// inks are three colours that also differ in lightness.
var inks = []color.RGBA{{0x1b, 0x4f, 0x8a, 255}, {0xc4, 0x5a, 0x11, 255}, {0x4d, 0x9a, 0x5b, 255}}

// drawCurves draws one measure of curves against the bytes read, both in powers of
// ten, with a grey line of what would be proportional.
func drawCurves(path, label string, all []curve, of func(point) float64) error {
	plot.DefaultFont = font.Font{Typeface: "Liberation", Variant: "Sans"}
	p := plot.New()
	p.X.Label.Text, p.Y.Label.Text = "MB read", label
	p.X.Scale, p.Y.Scale = plot.LogScale{}, plot.LogScale{}
	p.X.Tick.Marker, p.Y.Tick.Marker = plot.LogTicks{Prec: -1}, plot.LogTicks{Prec: -1}
	p.Legend.Top, p.Legend.Left, p.Legend.Padding = true, true, vg.Points(2)
	p.Add(plotter.NewGrid())
	low, high, from := math.Inf(1), 0.0, math.Inf(1)
	for i, c := range all {
		xy := make(plotter.XYs, len(c.points))
		for k, at := range c.points {
			xy[k].X, xy[k].Y = float64(at.bytes)/1e6, of(at)
			low, high, from = min(low, xy[k].X), max(high, xy[k].X), min(from, xy[k].Y)
		}
		line, marks, err := plotter.NewLinePoints(xy)
		if err != nil {
			return err
		}
		line.Color, line.Width = inks[i%len(inks)], vg.Points(1.5)
		marks.Color, marks.Shape, marks.Radius = inks[i%len(inks)], draw.CircleGlyph{}, vg.Points(2.5)
		p.Add(line, marks)
		p.Legend.Add("more "+c.grows, line)
	}
	straight, err := plotter.NewLine(plotter.XYs{{X: low, Y: from}, {X: high, Y: from * high / low}})
	if err != nil {
		return err
	}
	straight.Color, straight.Dashes = color.Gray{0x99}, []vg.Length{vg.Points(4), vg.Points(3)}
	p.Add(straight)
	p.Legend.Add("proportional", straight)
	return save(p, path)
}

// save writes a plot as SVG with its letters as text.
func save(p *plot.Plot, path string) error {
	c := vgsvg.NewWith(vgsvg.UseWH(16*vg.Centimeter, 10*vg.Centimeter))
	p.Draw(draw.New(c))
	var b strings.Builder
	if _, err := c.WriteTo(&b); err != nil {
		return fmt.Errorf("%s: %w", path, err)
	}
	return os.WriteFile(path, []byte(b.String()), 0o644)
}
