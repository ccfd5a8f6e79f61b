package motion

import (
	"math"

	"curvelint/parse/scene"
)

// Study is the motion of one scene.
type Study struct {
	Scene   *scene.Scene
	Options Options
	Rate    float64
	// First is the display frame of index 0 and N the number of whole frames.
	First float64
	N     int
}

// New studies a scene. It computes nothing that is not asked for.
func New(sc *scene.Scene, o Options) *Study {
	s := &Study{Scene: sc, Options: o, Rate: sc.Rate}
	if sc.Last >= sc.First {
		s.First = math.Ceil(sc.First - 1e-6)
		s.N = int(math.Floor(sc.Last+1e-6)-s.First) + 1
	}
	return s
}

// Frame returns the display frame of index i.
func (s *Study) Frame(i int) float64 { return s.First + float64(i) }

// Window returns the number of frames nearest to the given time, at least one.
func (s *Study) Window(seconds float64) int { return Window(s.Rate, seconds) }

// Window returns the number of frames at rate nearest to the given time in
// seconds, at least one.
func Window(rate, seconds float64) int {
	return max(1, int(math.Round(rate*seconds)))
}
