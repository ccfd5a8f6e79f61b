package designed

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// orders are all six.
var orders = []Order{{X, Y, Z}, {X, Z, Y}, {Y, X, Z}, {Y, Z, X}, {Z, X, Y}, {Z, Y, X}}

// TestAngles takes turns apart in every order and puts them together again.
func TestAngles(t *testing.T) {
	seed := Seed(1)
	for _, o := range orders {
		for range 200 {
			e := [3]float64{seed.Between(-180, 180), seed.Between(-180, 180), seed.Between(-180, 180)}
			want := quat.Mul(About(o[0], e[o[0]]), quat.Mul(About(o[1], e[o[1]]), About(o[2], e[o[2]])))
			got := Angles(want, o, e)
			for x := range e {
				if math.Abs(got[x]-e[x]) > 1e-6 && math.Abs(math.Abs(e[o[1]])-90) > 1e-3 {
					t.Fatalf("%s: %v came back as %v", o, e, got)
				}
			}
		}
	}
}

// TestAnglesAtThePole: where two axes lie on each other the turn still comes
// back, without a jump from what was near.
func TestAnglesAtThePole(t *testing.T) {
	for _, o := range orders {
		for _, mid := range []float64{90, -90} {
			want := quat.Mul(About(o[0], 20), quat.Mul(About(o[1], mid), About(o[2], 30)))
			var near [3]float64
			near[o[0]], near[o[1]], near[o[2]] = 20, mid, 30
			e := Angles(want, o, near)
			got := quat.Mul(About(o[0], e[o[0]]), quat.Mul(About(o[1], e[o[1]]), About(o[2], e[o[2]])))
			if Angle(got, want) > 1e-4 || apart(e, near) > 1e-3 {
				t.Errorf("%s at %g: %v, wanted %v", o, mid, e, near)
			}
		}
	}
}

// TestUnwound follows a turn through three full rounds.
func TestUnwound(t *testing.T) {
	var near [3]float64
	for a := 0.0; a <= 1080; a += 7.5 {
		near = Angles(About(X, a), OrderZYX, near)
	}
	if math.Abs(near[X]-1080) > 1e-6 {
		t.Errorf("three rounds come to %v", near)
	}
}

func TestAxisAngle(t *testing.T) {
	for _, want := range []float64{0, 1e-3, 1, 90, 179.9} {
		axis, got := AxisAngle(About(Y, want))
		if math.Abs(got/degrees-want) > 1e-9 || (want > 0 && math.Abs(axis.Y-1) > 1e-9) {
			t.Errorf("%g degrees about Y came back as %g about %v", want, got/degrees, axis)
		}
	}
}

// TestBasis: a basis of any direction is a turn that makes it.
func TestBasis(t *testing.T) {
	seed := Seed(9)
	for range 300 {
		q := Turned([3]float64{seed.Between(-180, 180), seed.Between(-90, 90), seed.Between(-180, 180)})
		got := fromBasis(Rotate(q, r3.Vec{X: 1}), Rotate(q, r3.Vec{Y: 1}), Rotate(q, r3.Vec{Z: 1}))
		if Angle(q, got) > 1e-5 {
			t.Fatalf("%v came back as %v", q, got)
		}
	}
}
