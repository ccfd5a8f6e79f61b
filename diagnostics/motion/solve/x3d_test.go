package solve_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/diagnostics/motion/solve"
	"curvelint/parse"
	"curvelint/parse/scene"
)

// exact is how far a computed point may be from its formula.
const exact = 1e-9

// placement holds the fields of an X3D Transform.
type placement struct {
	translation, center, scale [3]float64
	rotation, scaleOrientation [4]float64
}

func randomPlacement(r *rand.Rand) (p placement) {
	fill := func(v []float64, around float64) {
		for i := range v {
			v[i] = math.Round(1e6*(around+r.Float64()-0.5)) / 1e6
		}
	}
	fill(p.translation[:], 0)
	fill(p.center[:], 0.5)
	fill(p.scale[:], 1.2)
	fill(p.rotation[:], 0.3)
	fill(p.scaleOrientation[:], 0.4)
	p.rotation[3] *= 3
	return p
}

func (p placement) fields() string {
	return fmt.Sprintf("translation %s rotation %s scale %s scaleOrientation %s center %s",
		list(p.translation[:]), list(p.rotation[:]), list(p.scale[:]), list(p.scaleOrientation[:]), list(p.center[:]))
}

func list(v []float64) string { return strings.Trim(fmt.Sprint(v), "[]") }

// place applies P' = T * C * R * SR * S * -SR * -C * P to a point.
//
// From ISO/IEC 19775-1, Transform: scale about the center along the axes of
// scaleOrientation, rotate about the center, translate.
func (p placement) place(at r3.Vec) r3.Vec {
	center := r3.Vec{X: p.center[0], Y: p.center[1], Z: p.center[2]}
	at = r3.Sub(at, center)
	at = turn(at, p.scaleOrientation, -1)
	at = r3.Vec{X: at.X * p.scale[0], Y: at.Y * p.scale[1], Z: at.Z * p.scale[2]}
	at = turn(at, p.scaleOrientation, 1)
	at = turn(at, p.rotation, 1)
	at = r3.Add(at, center)
	return r3.Add(at, r3.Vec{X: p.translation[0], Y: p.translation[1], Z: p.translation[2]})
}

// turn rotates a point about an axis through the origin by sign times the
// angle in radians: v cos a + (k x v) sin a + k (k.v)(1 - cos a), after
// Rodrigues.
func turn(v r3.Vec, axisAngle [4]float64, sign float64) r3.Vec {
	k := r3.Unit(r3.Vec{X: axisAngle[0], Y: axisAngle[1], Z: axisAngle[2]})
	sin, cos := math.Sincos(sign * axisAngle[3])
	out := r3.Add(r3.Scale(cos, v), r3.Scale(sin, r3.Cross(k, v)))
	return r3.Add(out, r3.Scale((1-cos)*r3.Dot(k, v), k))
}

func near(a, b r3.Vec) bool { return r3.Norm(r3.Sub(a, b)) <= exact }

func readX3D(t *testing.T, src string) *solve.Hierarchy {
	t.Helper()
	sc := parse.Parse("formula.x3dv", []byte("#X3D V3.3 utf8\n"+src), scene.ReadOptions{})
	for _, p := range sc.Problems {
		t.Fatalf("%s: %s", p.Kind, p.Message)
	}
	return solve.New(sc)
}

// called finds the part with the given name.
func called(t *testing.T, sc *scene.Scene, name string) scene.PartID {
	t.Helper()
	for i := range sc.Parts {
		if sc.Parts[i].Name == name {
			return scene.PartID(i)
		}
	}
	t.Fatalf("no part is called %s", name)
	return scene.NoPart
}

// TestX3DTransform holds three Transforms in each other against the formula of
// the specification.
func TestX3DTransform(t *testing.T) {
	r := rand.New(rand.NewPCG(19775, 1))
	for range 50 {
		outer, middle, inner := randomPlacement(r), randomPlacement(r), randomPlacement(r)
		s := readX3D(t, fmt.Sprintf("Transform { %s children Transform { %s children DEF Hook Transform { %s } } }",
			outer.fields(), middle.fields(), inner.fields()))
		hook := called(t, s.Scene, "Hook")
		for range 4 {
			p := r3.Vec{X: r.Float64(), Y: r.Float64(), Z: r.Float64()}
			world := s.WorldAt(hook, 0)
			if got, want := world.Point(p), outer.place(middle.place(inner.place(p))); !near(got, want) {
				t.Fatalf("%v goes to %v, want %v", p, got, want)
			}
		}
	}
}

// TestX3DFigure: joints turn about their centers, which are given in the
// coordinates of the humanoid; a site is where the formula puts its point.
func TestX3DFigure(t *testing.T) {
	r := rand.New(rand.NewPCG(19774, 1))
	for range 50 {
		root, arm, tip := randomPlacement(r), randomPlacement(r), randomPlacement(r)
		s := readX3D(t, fmt.Sprintf(`HAnimHumanoid { skeleton DEF root HAnimJoint { %s children DEF arm HAnimJoint { %s children [
			HAnimSegment { name "hand" children DEF bag Transform { %s } }
			DEF tip HAnimSite { %s } ] } } }`, root.fields(), arm.fields(), tip.fields(), tip.fields()))
		point := func(v [3]float64) r3.Vec { return r3.Vec{X: v[0], Y: v[1], Z: v[2]} }
		for name, want := range map[string]r3.Vec{
			"root": root.place(point(root.center)),
			"arm":  root.place(arm.place(point(arm.center))),
			"tip":  root.place(arm.place(tip.place(r3.Vec{}))),
			"bag":  root.place(arm.place(tip.place(r3.Vec{}))),
			// A segment has no place of its own: it stands where its joint does.
			"hand": root.place(arm.place(point(arm.center))),
		} {
			if got := s.WorldPosition(called(t, s.Scene, name), 0); !near(got, want) {
				t.Fatalf("%s is at %v, want %v", name, got, want)
			}
		}
	}
}

// TestX3DInterpolation: positions run straight and turns at even speed on the
// shorter way (ISO/IEC 19775-1, 19.4), key times the cycle being the time.
func TestX3DInterpolation(t *testing.T) {
	s := readX3D(t, `DEF Hook Transform { center 0 1 0 }
		DEF Clock TimeSensor { cycleInterval 2 }
		DEF Move PositionInterpolator { key [ 0 0.25 1 ] keyValue [ 0 0 0, 1 2 4, 4 2 0 ] }
		DEF Turn OrientationInterpolator { key [ 0 0.5 1 ] keyValue [ 0 0 1 0.2, 0 0 1 2.2, 0 0 1 6.1 ] }
		ROUTE Clock.fraction_changed TO Move.set_fraction ROUTE Move.value_changed TO Hook.translation
		ROUTE Clock.fraction_changed TO Turn.set_fraction ROUTE Turn.value_changed TO Hook.rotation`)
	hook := called(t, s.Scene, "Hook")
	for frame := 0.0; frame <= 48; frame += 1.5 {
		key := frame / 48
		move := [3]float64{4 * key, 8 * key, 16 * key}
		if key > 0.25 {
			share := (key - 0.25) / 0.75
			move = [3]float64{1 + 3*share, 2, 4 - 4*share}
		}
		angle := 0.2 + 4*key
		if key > 0.5 {
			// From 2.2 to 6.1 it is shorter to turn back.
			angle = 2.2 - (key-0.5)/0.5*(2*math.Pi-3.9)
		}
		p := placement{translation: move, center: [3]float64{0, 1, 0}, scale: [3]float64{1, 1, 1},
			rotation: [4]float64{0, 0, 1, angle}, scaleOrientation: [4]float64{0, 0, 1, 0}}
		point := r3.Vec{X: 0.3, Y: 0.7, Z: -0.2}
		world := s.WorldAt(hook, frame)
		if got, want := world.Point(point), p.place(point); !near(got, want) {
			t.Errorf("frame %g: %v, want %v", frame, got, want)
		}
	}
}
