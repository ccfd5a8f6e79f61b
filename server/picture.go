package server

import (
	"encoding/base64"
	"fmt"

	"curvelint/diagnostics/chart"
	"curvelint/diagnostics/facts"
	"curvelint/diagnostics/passes"
	"curvelint/diagnostics/words"
	"curvelint/server/workspace"
)

// The size of a picture in a hover, in pixels.
const (
	hoverWidth  = 420
	hoverHeight = 156
)

// longestPicture bounds a picture in a hover: editors cut longer texts, which
// would leave no picture at all.
const longestPicture = 90_000

// spacingPicture returns a Markdown picture of the spacing of the move that holds
// a key, with that of the earlier pass behind it; "" for a client that does not
// show pictures, or where there is no move.
func (s *Server) spacingPicture(shot *workspace.Shot, k *facts.Key, earlier *passes.Comparison) string {
	if !s.can.images || !s.can.markdown {
		return ""
	}
	move, ok := moveAt(k)
	if !ok {
		return ""
	}
	first, last := shot.Study.Frame(move.First), shot.Study.Frame(move.Last)
	o := chart.Options{Width: hoverWidth, Height: hoverHeight, Dark: s.can.dark, Notes: shot.Notes}
	if earlier != nil {
		o.Before = earlier.Before
	}
	svg, err := chart.Spacing(shot.Study, k.Part, first, last, o)
	if err != nil {
		return ""
	}
	return imageText(fmt.Sprintf("spacing of %s, %s", shot.Scene.Parts[k.Part].Name, words.Span(first, last)), svg)
}

// moveAt returns the move that holds a key: of the part's tracked point, which a
// chart follows, else of its own motion.
func moveAt(k *facts.Key) (facts.Move, bool) {
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
