package show

import (
	"encoding/base64"
	"fmt"

	"curvelint/diagnostics/chart"
	"curvelint/diagnostics/facts"
	"curvelint/diagnostics/words"
)

// The size of a picture in a hover, in pixels.
const (
	hoverWidth  = 420
	hoverHeight = 156
)

// longestPicture bounds a picture in a hover: editors cut longer texts, which
// would leave no picture at all.
const longestPicture = 90_000

// Images says whether texts may hold pictures, and for which background.
type Images struct{ Shown, Dark bool }

// spacingPicture returns a Markdown picture of the spacing of the move that holds
// a key, with that of the earlier pass behind it; "" for a client that does not
// show pictures, or where there is no move.
func (s *Shot) spacingPicture(k *facts.Key, images Images) string {
	if !images.Shown {
		return ""
	}
	move, ok := MoveAt(k)
	if !ok {
		return ""
	}
	first, last := s.Study.Frame(move.First), s.Study.Frame(move.Last)
	o := chart.Options{Width: hoverWidth, Height: hoverHeight, Dark: images.Dark, Notes: s.Notes}
	if s.Earlier != nil {
		o.Before = s.Earlier.Before
	}
	svg, err := chart.Spacing(s.Study, k.Part, first, last, o)
	if err != nil {
		return ""
	}
	return imageText(fmt.Sprintf("spacing of %s, %s", s.part(k.Part).Name, words.Span(first, last)), svg)
}

// MoveAt returns the move that holds a key: of the part's tracked point, which a
// chart follows, else of its own motion.
func MoveAt(k *facts.Key) (facts.Move, bool) {
	for i := len(k.Tracks) - 1; i >= 0; i-- {
		if k.Tracks[i].InMove {
			return k.Tracks[i].Move, true
		}
	}
	return facts.Move{}, false
}

// imageText writes a picture as Markdown, all of it in the text.
func imageText(name string, svg []byte) string {
	address := dataAddress(svg)
	if len(address) > longestPicture {
		return ""
	}
	return fmt.Sprintf("![%s](%s)", name, address)
}

// dataAddress writes a picture as an address that holds it.
func dataAddress(svg []byte) string {
	return "data:image/svg+xml;base64," + base64.StdEncoding.EncodeToString(svg)
}
