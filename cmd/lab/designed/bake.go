package designed

import (
	"fmt"

	"gonum.org/v1/gonum/spatial/r3"
)

// Bake returns a long take for benchmarks: a body of the given number of joints
// (at least 2) that never rests, with a value for every channel in every frame
// and the digits of an exporter that prints single precision. It is the same
// every time.
func Bake(joints, frames int) *Take {
	s := NewShot("bake", float64(max(frames, 1)-1)/24)
	seed := Seed(joints)
	root := s.Add(-1, Part{Name: "hips", Offset: r3.Vec{Y: 92}})
	for axis := range 3 {
		s.Parts[root].Move[axis] = restless(&seed, 30)
		s.Parts[root].Turn[axis] = restless(&seed, 20)
	}
	for i := 1; i < joints; i++ {
		// A tree like a body's: chains of eight joints on earlier ones.
		up := i - 1
		if i%8 == 0 {
			up = seed.Int(i)
		}
		p := Part{Name: Snake(bakeWords[i%len(bakeWords)], Side(i%3)) + fmt.Sprintf("_%03d", i),
			Offset: r3.Vec{X: seed.Between(-9, 9), Y: seed.Between(4, 20), Z: seed.Between(-5, 5)}}
		for axis := range 3 {
			p.Turn[axis] = restless(&seed, 25)
		}
		s.Add(up, p)
	}
	s.Figures = []Figure{{Name: "hips", Root: root}}
	t := s.Take(24)
	t.MoreDigits = 2
	return t
}

var bakeWords = [...]string{"spine", "upperarm", "forearm", "finger", "thigh", "shin", "tail", "hair"}

// restless moves about at random within size, with strokes of half a second to
// four and a little of everything quicker.
func restless(seed *Seed, size float64) Signal {
	a := Wave(seed.Spread(size*0.5, 0.4), seed.Between(1.6, 4), seed.Float())
	b := Wave(seed.Spread(size*0.25, 0.4), seed.Between(0.9, 1.6), seed.Float())
	c := Wave(seed.Spread(size*0.05, 0.4), seed.Between(0.5, 0.9), seed.Float())
	return Add(Still(seed.Between(-size, size)), a, b, c)
}
