package chart

import (
	"bytes"
	"fmt"
	"html"
	"image/png"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/vgimg"
	"gonum.org/v1/plot/vg/vgsvg"
)

// caption is what a chart says to those who do not see it: what it is, and what
// it shows in a sentence.
type caption struct{ title, text string }

// picture draws a chart in the format asked for.
func picture(o Options, w caption, draw func(*pen)) ([]byte, error) {
	p := &pen{palette: &light, w: float64(o.Width), h: float64(o.Height), compact: o.Width < compactWidth, keys: o.Keys}
	if o.Dark {
		p.palette = &dark
	}
	all := box{0, 0, p.w, p.h}
	if o.Format == PNG {
		c := vgimg.NewWith(vgimg.UseWH(vg.Length(p.w), vg.Length(p.h)), vgimg.UseDPI(72*o.Density), vgimg.UseBackgroundColor(p.palette.paper))
		p.c = c
		draw(p)
		var b bytes.Buffer
		err := (&png.Encoder{CompressionLevel: png.BestCompression}).Encode(&b, c.Image())
		return b.Bytes(), err
	}
	c := vgsvg.New(vg.Length(p.w), vg.Length(p.h))
	p.c = c
	p.fill(p.palette.paper, all)
	draw(p)
	var b bytes.Buffer
	if _, err := c.WriteTo(&b); err != nil {
		return nil, err
	}
	return named(b.Bytes(), o, w)
}

// named gives an SVG its size in pixels, its names for those who do not see it,
// and one list of letters to choose from instead of one in every text.
func named(svg []byte, o Options, w caption) ([]byte, error) {
	const opening = "xlink\">\n"
	at := bytes.Index(svg, []byte(opening))
	if at < 0 {
		return nil, fmt.Errorf("the canvas wrote no SVG")
	}
	body := svg[at+len(opening):]
	body = bytes.ReplaceAll(body, []byte("font-family:Liberation Sans;font-variant:normal;font-weight:normal;font-style:normal;"), nil)
	body = bytes.ReplaceAll(body, []byte("font-family:Liberation Sans;font-variant:normal;font-weight:bold;font-style:normal;"), []byte("font-weight:bold;"))
	body = bytes.ReplaceAll(body, []byte("\n\tstyle="), []byte(" style="))
	var b bytes.Buffer
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" width="%d" height="%d" viewBox="0 0 %d %d" role="img" font-family="%s">`,
		o.Width, o.Height, o.Width, o.Height, family)
	fmt.Fprintf(&b, "\n<title>%s</title>\n<desc>%s</desc>\n", html.EscapeString(w.title), html.EscapeString(w.text))
	b.Write(body)
	return b.Bytes(), nil
}
