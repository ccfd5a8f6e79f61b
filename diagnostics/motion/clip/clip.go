// Package clip has the run of whole frames that a study goes over.
package clip

import (
	"math"

	"curvelint/parse/scene"
)

// Clip is the whole frames of a scene. Frame indices count from 0 at the first of
// them; display frames are those of the file.
type Clip struct {
	// Rate is in frames per second.
	Rate float64
	// First is the display frame of index 0 and N the number of whole frames.
	First float64
	N     int
}

// most bounds a clip: no shot is longer, and a file may claim anything.
const most = 10_000_000

// Of returns the clip of a scene, at 24 frames per second where the scene has no
// rate, and without frames where it has no range.
func Of(sc *scene.Scene) Clip {
	c := Clip{Rate: sc.Rate}
	if c.Rate <= 0 || math.IsNaN(c.Rate) || math.IsInf(c.Rate, 0) {
		c.Rate = 24
	}
	if n := sc.Last - sc.First; n >= 0 && n < most {
		c.First = math.Ceil(sc.First - 1e-6)
		c.N = int(math.Floor(sc.Last+1e-6)-c.First) + 1
	}
	return c
}

// Frame returns the display frame of index i.
func (c *Clip) Frame(i int) float64 { return c.First + float64(i) }

// Index returns the index of the last whole frame at or before display frame t,
// kept within the clip.
func (c *Clip) Index(t float64) int {
	return min(max(int(math.Floor(t-c.First+1e-6)), 0), max(c.N-1, 0))
}

// Window returns the number of frames nearest to the given time, at least one.
func (c *Clip) Window(seconds float64) int { return Window(c.Rate, seconds) }

// Window returns the number of frames at rate nearest to the given time in
// seconds, at least one.
func Window(rate, seconds float64) int {
	return max(1, int(math.Round(rate*seconds)))
}
