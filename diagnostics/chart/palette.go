package chart

import "image/color"

// palette holds the colours of a chart. Blue and a burnt orange stay apart for
// every kind of colour vision, as do their brightnesses from the paper's; amber
// is only ever an area behind them.
type palette struct {
	paper, ink, quiet, grid color.NRGBA
	// now and before are the two passes; note is the area of a note.
	now, before, note color.NRGBA
	// series are the lines of a chart that has several.
	series [5]color.NRGBA
}

func rgb(v uint32) color.NRGBA {
	return color.NRGBA{R: uint8(v >> 16), G: uint8(v >> 8), B: uint8(v), A: 255}
}

var light = palette{
	paper: rgb(0xfbfbf9), ink: rgb(0x1b2027), quiet: rgb(0x56606b), grid: rgb(0xdcdfe3),
	now: rgb(0x17569b), before: rgb(0xb0500f), note: rgb(0xffdb7d),
	series: [5]color.NRGBA{rgb(0x17569b), rgb(0xb0500f), rgb(0x0f7a6c), rgb(0x7a3b93), rgb(0x3c434c)},
}

var dark = palette{
	paper: rgb(0x181c22), ink: rgb(0xeceff3), quiet: rgb(0xa3aeba), grid: rgb(0x323a44),
	now: rgb(0x79b8ff), before: rgb(0xf7a35c), note: rgb(0x6b5410),
	series: [5]color.NRGBA{rgb(0x79b8ff), rgb(0xf7a35c), rgb(0x55cfbb), rgb(0xd69bf0), rgb(0xd5dbe2)},
}

// dashes tell the lines of a chart apart without colour, in pixels.
var dashes = [5][]float64{nil, {7, 3}, {2, 2.5}, {9, 3, 2, 3}, {4, 4}}

// beforeDash is how the earlier pass is drawn.
var beforeDash = []float64{5, 3}
