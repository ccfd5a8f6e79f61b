package page

import (
	"cmp"
	"encoding/base64"
	"math"
	"slices"

	"curvelint/diagnostics/motion/track"
	"curvelint/parse/scene"
)

// weightOf is a shape weight that changes: a blink, a brow, a mouth.
type weightOf struct {
	Name string `json:"name"`
	Part string `json:"part"` // its path
	// Low and High are its least and greatest value. Values has a byte in base64
	// for each frame: how many 255ths of the way from Low to High.
	Low    float64 `json:"low"`
	High   float64 `json:"high"`
	Values string  `json:"values"`
}

// mostWeights bounds how many weights a page draws: more is no picture of a face.
const mostWeights = 12

// weights are the shape weights that change most, in the order of the file, and how
// many others change too. Meshes that share their shapes have each once.
func (c *stage) weights() (list []weightOf, others int) {
	type found struct {
		of     weightOf
		travel float64
		at     int
	}
	var all []found
	seen := map[weightOf]bool{}
	s := c.study
	for id := range s.Scene.Channels {
		x := &s.Scene.Channels[id]
		if s.Scene.Parts[x.Part].Kind != scene.Weight {
			continue
		}
		t := s.ValueTrack(scene.ChannelID(id))
		if t == nil {
			continue
		}
		w := c.weightOf(t)
		w.Name, w.Part = s.Scene.Parts[x.Part].Name, ""
		if seen[w] || w.High <= w.Low {
			continue
		}
		seen[w] = true
		w.Part = s.Scene.Parts[x.Part].Path
		all = append(all, found{w, t.Unit * t.PathLength(0, c.frames-1), len(all)})
	}
	slices.SortStableFunc(all, func(a, b found) int { return cmp.Compare(b.travel, a.travel) })
	others = max(0, len(all)-mostWeights)
	all = all[:len(all)-others]
	slices.SortFunc(all, func(a, b found) int { return cmp.Compare(a.at, b.at) })
	list = []weightOf{}
	for _, f := range all {
		list = append(list, f.of)
	}
	return list, others
}

// weightOf packs the values of a track over the frames that are drawn.
func (c *stage) weightOf(t *track.Track) weightOf {
	value := func(i int) float64 { return finite(t.Origin[0] + t.Unit*(t.X[i]-t.X[0])) }
	low, high := math.Inf(1), math.Inf(-1)
	for i := range c.frames {
		low, high = min(low, value(i)), max(high, value(i))
	}
	bytes := make([]byte, c.frames)
	for i := range bytes {
		if high > low {
			bytes[i] = byte(math.Round(255 * (value(i) - low) / (high - low)))
		}
	}
	return weightOf{Low: low, High: high, Values: base64.StdEncoding.EncodeToString(bytes)}
}
