package body

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/cmd/lab/smallscene"
	"curvelint/parse/scene"
)

// TestHeadBall: the deckhand's head is 22 high, on a neck of 10. With an end it reaches
// from its pivot to it; without, the eyes stand at half its height (common practice of
// drawing heads); a jaw that nothing moves is no end. Invented data.
func TestHeadBall(t *testing.T) {
	type joint struct {
		name  string
		at    r3.Vec
		moves bool
	}
	eyes := []joint{{"eye_l", r3.Vec{X: 3, Y: 11, Z: 8}, true}, {"eye_r", r3.Vec{X: -3, Y: 11, Z: 8}, true}}
	end := joint{"head_end", r3.Vec{Y: 22}, false}
	jaw := joint{"Kiefer", r3.Vec{Y: 2, Z: 3}, false}
	for _, tt := range []struct {
		about          string
		on             []joint
		centre         r3.Vec
		radius         float64
		point          r3.Vec
		loose, ofPoint float64
	}{
		{"an end", []joint{end}, r3.Vec{Y: 11}, 11, r3.Vec{Y: 22}, 1e-9, 1e-9},
		{"an end and eyes", append(eyes[:2:2], end), r3.Vec{Y: 11}, 11, r3.Vec{Y: 22}, 1e-9, 1e-9},
		{"eyes", eyes, r3.Vec{Y: 11, Z: 8}, 11, r3.Vec{Y: 11, Z: 8}, 1e-9, 1e-9},
		{"eyes and a jaw that rests", append(eyes[:2:2], jaw), r3.Vec{Y: 8, Z: 6.3}, 8, r3.Vec{Y: 8, Z: 6.3}, 0.1, 0.1},
		{"nothing", nil, r3.Vec{Y: 10}, 5, r3.Vec{Y: 10}, 1e-9, 1e-9},
	} {
		b := smallscene.New(24)
		turning := func(f float64) float64 { return f }
		chest := b.Part("/chest", "chest", scene.NoPart, smallscene.Op(scene.Translate, 0, 100, 0), smallscene.Op(scene.RotateX, 0))
		b.Animate(chest, 1, 0, scene.Angle, turning)
		neck := b.Part("/chest/neck", "neck", chest, smallscene.Op(scene.Translate, 0, 30, 0), smallscene.Op(scene.RotateY, 0))
		head := b.Part("/chest/neck/head", "head", neck, smallscene.Op(scene.Translate, 0, 10, 0), smallscene.Op(scene.RotateY, 0))
		b.Animate(head, 1, 0, scene.Angle, turning)
		for _, j := range tt.on {
			p := b.Part("/chest/neck/head/"+j.name, j.name, head, smallscene.Op(scene.Translate, j.at.X, j.at.Y, j.at.Z), smallscene.Op(scene.RotateX, 0))
			if j.moves {
				b.Animate(p, 1, 0, scene.Angle, turning)
			}
		}
		fig := found(&b.Scene)[0]
		ball, ok := fig.HeadBall()
		if !ok || ball.Part != head || !near(ball.Centre, tt.centre, tt.loose) || math.Abs(ball.Radius-tt.radius) > tt.loose {
			t.Errorf("%s: %+v, want %v and %g", tt.about, ball, tt.centre, tt.radius)
		}
		for _, p := range fig.Points {
			if p.Role == HeadPoint && !near(p.Offset, tt.point, tt.ofPoint) {
				t.Errorf("%s: the head's point is at %v, want %v", tt.about, p.Offset, tt.point)
			}
		}
	}
}
