package designed

import (
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

// TestPlaced: a placed shot is the same shot elsewhere: its points go where the
// placement takes them.
func TestPlaced(t *testing.T) {
	plain := Deckhand(PolishPass)
	head := plain.Find("/Tug/hips/spine/chest/neck/head")
	before := plain.Take(24).World(head)
	for _, c := range []struct {
		name string
		shot *Shot
		at   func(r3.Vec) r3.Vec
	}{
		{"scaled", plain.Scaled(100), func(p r3.Vec) r3.Vec { return r3.Scale(100, p) }},
		{"moved", plain.Moved(r3.Vec{X: 1e6, Z: -3}), func(p r3.Vec) r3.Vec { return r3.Add(p, r3.Vec{X: 1e6, Z: -3}) }},
		{"turned", plain.TurnedUp(90), func(p r3.Vec) r3.Vec { return r3.Vec{X: p.Z, Y: p.Y, Z: -p.X} }},
		{"in metres", plain.InUnits(1), func(p r3.Vec) r3.Vec { return r3.Scale(0.01, p) }},
		{"z up", plain.ZUp(), func(p r3.Vec) r3.Vec { return r3.Vec{X: p.X, Y: -p.Z, Z: p.Y} }},
		{"z up and back", plain.ZUp().YUp(), func(p r3.Vec) r3.Vec { return p }},
		{"moved, then turned", plain.Moved(r3.Vec{X: 5}).TurnedUp(90), func(p r3.Vec) r3.Vec { return r3.Vec{X: p.Z, Y: p.Y, Z: -(p.X + 5)} }},
	} {
		after := c.shot.Take(24).World(head)
		for f := range before {
			if d := r3.Norm(r3.Sub(after[f].At, c.at(before[f].At))); d > 1e-9*(1+r3.Norm(after[f].At)) {
				t.Errorf("%s: %g off at frame %d", c.name, d, f)
				break
			}
		}
	}
	if plain.InUnits(1).MetersPerUnit != 1 || plain.ZUp().Up != Z || plain.Up != Y {
		t.Error("unit or axis is wrong")
	}
}
