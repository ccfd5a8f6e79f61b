package corpus

import (
	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/cmd/lab/designed"
	"curvelint/cmd/lab/designed/write"
)

// stagingPlanters plant the flaws of what the camera sees.
var stagingPlanters = map[string]planter{
	"out-of-frame":    plantOutside,
	"split-attention": plantSplit,
	"crossed-face":    plantCrossed,
}

// filmed are the formats that carry a camera and its picture.
var filmed = []writer{{".usda", write.USDA}, {".usda", write.USDASkeleton}, {".gltf", write.GLTF}, {".dae", write.COLLADA}}

// film puts a camera before the figure, at its own side a little, that sees the
// given height of it (in lengths of the figure's design).
func (s *stage) film(at r3.Vec, high float64) int {
	s.formats = filmed
	if s.seed.Chance(0.15) { // a format without a picture: a person says its shape
		s.formats = []writer{{".x3d", write.X3D}}
		s.config.Aspect = 1.85
	}
	const far, aperture, width = 320, 13.454, 24.89
	focal := aperture * far / high
	cam := s.Add(-1, designed.Part{Name: "cam", Kind: designed.Camera, Offset: r3.Scale(s.k, r3.Vec{X: at.X, Y: at.Y, Z: at.Z + far}), Lens: &designed.Lens{Focal: focal, Width: width, Height: aperture}})
	s.Focus = cam
	return cam
}

// plantOutside ducks or leans out of the picture and comes back, or the camera
// pans off; or the figure stays in it, leaves it for good, or the camera follows.
func plantOutside(s *stage, flawed bool) {
	s.anyOf([]castKind{(*stage).biped, (*stage).biped, withQuadruped, withBird})
	k := s.k
	high := s.seed.Between(70, 110)
	middle := r3.Vec{Y: 150}
	if s.beast != nil {
		middle = r3.Vec{Y: 78, Z: 30}
	}
	cam := s.film(middle, high)
	from, dur := s.seed.Between(1, 1.8), s.seed.Between(0.5, 0.8)
	stay := s.seed.Between(0.3, 1)
	way := s.seed.Between(0.62, 0.8) * high * 24.89 / 13.454 * 0.9 * k * s.seed.Sign()
	there := designed.Stroke(minJerk, from, from+dur, way)
	back := designed.Stroke(minJerk, from+dur+stay, from+2*dur+stay, -way)
	go_ := designed.Add(there, back)
	part, axis := s.root, designed.X
	if s.seed.Chance(0.35) { // the camera's doing
		part = cam
	}
	if !flawed {
		switch s.seed.Int(3) {
		case 0: // not as far
			go_ = designed.Times(0.35, go_)
		case 1: // an exit
			go_ = there
			if s.seed.Chance(0.5) { // an entrance
				go_ = designed.Add(designed.Still(-way), there)
			}
		default: // the camera follows
			s.Shift(cam, axis, designed.Late(0.08, go_))
			part = s.root
		}
	}
	s.Shift(part, axis, go_)
	s.live(0, 0)
	s.plant("out-of-frame", from+0.5*dur, from+1.5*dur+stay, s.root, s.trunk[0], s.neck, s.head, cam)
}

// plantSplit sweeps an arm while the face changes, or before it.
func plantSplit(s *stage, flawed bool) {
	s.biped()
	s.film(r3.Vec{X: s.seed.Between(-20, 20), Y: 135}, s.seed.Between(80, 120))
	at, dur := s.seed.Between(1.6, 3.2), s.seed.Between(0.22, 0.32)
	side := s.seed.Int(2)
	start := at - 0.08
	if !flawed {
		start = at - s.seed.Between(0.9, 1.1)
	}
	s.live(0, 0)
	for i := range 2 {
		s.ease(s.Brow[i], designed.X, minJerk, at, dur, -10)
	}
	if s.seed.Chance(0.5) {
		s.ease(s.Jaw, designed.X, minJerk, at+0.05, dur, 9)
	}
	s.ease(s.Upper[side], designed.X, minJerk, start, dur+0.2, -s.seed.Between(50, 75))
	s.plant("split-attention", at, at+dur, s.Upper[side], s.Fore[side], s.Hand[side], s.HandTip[side])
}

// plantCrossed holds a hand before the face for a while, or beside it, or under
// it.
func plantCrossed(s *stage, flawed bool) {
	s.biped()
	s.film(r3.Vec{X: s.seed.Between(-15, 15), Y: 140}, s.seed.Between(90, 150))
	k := s.k
	side := s.seed.Int(2)
	way := out(side)
	from, dur := s.seed.Between(1, 1.8), s.seed.Between(0.45, 0.65)
	stay := s.seed.Between(0.25, 1)
	// The wrist; the hand reaches 16 up from it.
	at := r3.Vec{X: 1 * way, Y: 152, Z: 24}
	if !flawed {
		at = []r3.Vec{{X: 27 * way, Y: 150, Z: 20}, {X: 6 * way, Y: 118, Z: 26}, {X: 24 * way, Y: 140, Z: 8}}[s.seed.Int(3)]
	}
	low := r3.Vec{X: 26 * way, Y: 104, Z: 16}
	p := designed.Add(designed.Stroke(minJerk, from, from+dur, 1), designed.Stroke(minJerk, from+dur+stay, from+2*dur+stay, -1))
	bow := designed.Add(designed.Swell(from, from+dur, 7), designed.Swell(from+dur+stay, from+2*dur+stay, 7))
	goal := func(t float64) r3.Vec {
		v := r3.Add(low, r3.Scale(p(t), r3.Sub(at, low)))
		v.X += way * bow(t)
		return r3.Scale(k, v)
	}
	lift := func(t float64) float64 { return -70 - 105*p(t) }
	s.HoldHand(s.Shot, side, s.Root, goal, designed.Turn3(lift, designed.Still(-6*way), nil))
	s.live(0, 0)
	s.plant("crossed-face", from+0.6*dur, from+1.4*dur+stay, s.Upper[side], s.Fore[side], s.Hand[side], s.HandTip[side])
}
