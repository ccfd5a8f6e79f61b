package solve_test

import (
	"fmt"
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/diagnostics/motion/solve"
	"curvelint/parse"
	"curvelint/parse/scene"
)

// TestUSDARotationOrders: xformOp:rotateABC turns about A first, then about B,
// then about C (AOUSD Core Specification, transform ops), each by Rodrigues'
// formula; between samples the angles run straight.
func TestUSDARotationOrders(t *testing.T) {
	axes := map[byte][3]float64{'X': {1, 0, 0}, 'Y': {0, 1, 0}, 'Z': {0, 0, 1}}
	for _, order := range []string{"XYZ", "XZY", "YXZ", "YZX", "ZXY", "ZYX"} {
		src := fmt.Sprintf(`#usda 1.0
def Xform "crate"
{
    float3 xformOp:rotate%s.timeSamples = {
        0: (10, 20, 30),
        24: (50, -20, 75),
    }
    uniform token[] xformOpOrder = ["xformOp:rotate%[1]s"]
}
`, order)
		sc := parse.Parse("order.usda", []byte(src), scene.ReadOptions{})
		for _, p := range sc.Problems {
			t.Fatalf("%s: %s", p.Kind, p.Message)
		}
		s := solve.New(sc)
		for frame := 0.0; frame <= 24; frame += 3 {
			share := frame / 24
			angles := map[byte]float64{'X': 10 + 40*share, 'Y': 20 - 40*share, 'Z': 30 + 45*share}
			p := r3.Vec{X: 1, Y: 2, Z: 3}
			want := p
			for _, name := range []byte(order) {
				a := axes[name]
				want = turn(want, [4]float64{a[0], a[1], a[2], angles[name] * math.Pi / 180}, 1)
			}
			world := s.WorldAt(called(t, sc, "crate"), frame)
			if got := world.Point(p); !near(got, want) {
				t.Errorf("rotate%s at frame %g: %v, want %v", order, frame, got, want)
			}
		}
	}
}
