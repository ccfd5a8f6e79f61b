package page

import (
	"encoding/base64"
	"encoding/binary"
	"math"
)

// A page holds positions as columns in base64, little-endian:
//
//	roots  float32, for each figure, frame and axis: the figure's root
//	scale  float32, for each column and axis: the lowest value, and one step
//	steps  uint16, for each column, axis and frame: how many steps above
//
// A part is at root + lowest + steps * step.

// columns packs what place has solved.
func (c *stage) columns() (roots, scale, steps string) {
	n := c.frames
	lows := make([]float32, 0, 2*len(c.places)/n)
	counts := make([]byte, 0, 2*len(c.places))
	for i := 0; i < len(c.places); i += n {
		column := c.places[i : i+n]
		low, step := spread(column)
		lows = append(lows, low, step)
		for _, v := range column {
			counts = binary.LittleEndian.AppendUint16(counts, stepsAbove(v, low, step))
		}
	}
	return pack(c.roots), pack(lows), base64.StdEncoding.EncodeToString(counts)
}

// spread returns the lowest finite value of a column and the step that divides
// its range.
func spread(column []float32) (low, step float32) {
	low, high := float32(math.Inf(1)), float32(math.Inf(-1))
	for _, v := range column {
		if isFinite(v) {
			low, high = min(low, v), max(high, v)
		}
	}
	if low > high {
		return 0, 0
	}
	return low, float32((float64(high) - float64(low)) / math.MaxUint16)
}

func stepsAbove(v, low, step float32) uint16 {
	if step == 0 || !isFinite(v) {
		return 0
	}
	k := math.Round((float64(v) - float64(low)) / float64(step))
	return uint16(min(max(k, 0), math.MaxUint16))
}

// pack returns numbers in base64; what is no number becomes 0.
func pack(list []float32) string {
	b := make([]byte, 0, 4*len(list))
	for _, v := range list {
		if !isFinite(v) {
			v = 0
		}
		b = binary.LittleEndian.AppendUint32(b, math.Float32bits(v))
	}
	return base64.StdEncoding.EncodeToString(b)
}

func isFinite(v float32) bool { return v-v == 0 }
