package chart

import (
	"sync"

	"codeberg.org/go-fonts/liberation/liberationsansbold"
	"codeberg.org/go-fonts/liberation/liberationsansregular"
	"golang.org/x/image/font"
	"golang.org/x/image/font/opentype"
	plotfont "gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"
)

// family is how an SVG names the letters: the first that a viewer has. All have
// the same widths, which the layout relies on.
const family = "Liberation Sans, Arimo, Arial, Helvetica, sans-serif"

var (
	regular = plotfont.Font{Typeface: "Liberation", Variant: "Sans"}
	bold    = plotfont.Font{Typeface: "Liberation", Variant: "Sans", Weight: font.WeightBold}
)

// letters are read on first use: a program that draws nothing need not wait.
var letters = sync.OnceValue(func() *plotfont.Cache {
	var c plotfont.Collection
	for _, f := range []struct {
		font plotfont.Font
		data []byte
	}{{regular, liberationsansregular.TTF}, {bold, liberationsansbold.TTF}} {
		face, err := opentype.Parse(f.data)
		if err != nil {
			panic(err) // the letters are part of the program
		}
		c = append(c, plotfont.Face{Font: f.font, Face: face})
	}
	return plotfont.NewCache(c)
})

func face(f plotfont.Font, size float64) plotfont.Face {
	return letters().Lookup(f, vg.Length(size))
}
