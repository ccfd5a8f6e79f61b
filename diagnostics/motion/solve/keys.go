package solve

import (
	"math"
	"sort"

	"curvelint/parse/scene"
)

// A stretch of keys is baked when at least bakedKeys of them in a row are at
// most bakedStep frames apart at a constant step.
const (
	bakedKeys = 12
	bakedStep = 2.0
)

// bakedFrom returns the last key, up to key last, of the baked stretch that
// starts at key i, or i when none does.
func bakedFrom(times []float64, i, last int) int {
	last = min(last, len(times)-1)
	if i+1 >= len(times) {
		return i
	}
	d := times[i+1] - times[i]
	if d > bakedStep+1e-6 {
		return i
	}
	j := i + 1
	for j < last && math.Abs(times[j+1]-times[j]-d) <= 1e-3*d {
		j++
	}
	if j-i+1 < bakedKeys {
		return i
	}
	return j
}

// HasBake reports whether some stretch of the curve's keys is baked.
func HasBake(c *scene.Curve) bool {
	for i := 0; i+bakedKeys <= c.Len(); {
		if bakedFrom(c.Times, i, i+bakedKeys-1) > i {
			return true
		}
		i++
	}
	return false
}

// Authored reports whether the key i of the curve was set by hand: it does not
// lie in a baked stretch. Exporters drop unchanged samples, so this is judged
// stretch by stretch.
func Authored(c *scene.Curve, i int) bool {
	for k := max(0, i-bakedKeys+1); k <= i && k < c.Len(); k++ {
		// A stretch of twelve or more that holds i starts at i-11 or before it
		// and reaches at least twelve keys on, or starts later and holds i.
		if j := bakedFrom(c.Times, k, k+bakedKeys-1); j > k && i <= j {
			return false
		}
	}
	return true
}

// KeyAt returns the index of the last key at or before display frame t, or 0
// when there is none before; -1 for a curve without keys.
func KeyAt(c *scene.Curve, t float64) int {
	if c.Len() == 0 {
		return -1
	}
	i := sort.Search(c.Len(), func(i int) bool { return c.Times[i] > t+1e-6 })
	return max(i-1, 0)
}
