package bvh

import (
	"curvelint/parse/grid"
	"curvelint/parse/scene"
)

// settledRows is how many frame lines at the start the rest of the scene may
// hang on: whether positions hold the offset is decided in the first pose.
const settledRows = 2

// Reread reads only the frame lines that an edit touched. It returns false,
// and the whole file must be read, when the edit changes more than numbers in
// lines after the first two, or when the file was or becomes irregular.
func Reread(old *scene.Scene, e scene.Edit) (scene.Reread, bool) {
	if len(old.Channels) == 0 || old.Channels[0].Curve.Len() <= settledRows || !posed(old) {
		return scene.Reread{}, false
	}
	rows := old.Channels[0].Curve.Spans
	for _, p := range old.Problems {
		// A wrong count of frames stays as it is; what else is wrong may not.
		if p.Kind != scene.PartialExport && p.Kind != scene.Surplus || p.Span.End > rows[0] {
			return scene.Reread{}, false
		}
	}
	return grid.Reread(old, e, int(rows[settledRows]), lineReader{columns: len(old.Channels)})
}

// posed reports whether the first rows hold the first pose.
func posed(s *scene.Scene) bool {
	for i := range s.Channels {
		for _, v := range s.Channels[i].Curve.Values[:min(settledRows, s.Channels[i].Curve.Len())] {
			if v != 0 {
				return true
			}
		}
	}
	return false
}

// lineReader reads frame lines for grid.Reread.
type lineReader struct{ columns int }

// Rows implements grid.Reader.
func (lineReader) Rows(src []byte, from, to int) ([]uint32, bool) {
	return rowStarts(src, from, to, func(int, int) {})
}

// Read implements grid.Reader.
func (l lineReader) Read(g *grid.Grid, src []byte, starts []uint32) bool {
	r := rowReader{src: src, rows: starts, between: blank, grid: g, decimals: g.Decimals}
	r.read(0, len(starts))
	return !r.gaps && r.long.rows == 0 && len(r.problems.List()) == 0
}
