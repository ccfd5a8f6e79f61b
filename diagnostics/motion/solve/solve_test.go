package solve

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/cmd/lab/smallscene"
	"curvelint/diagnostics/motion/vec"
	"curvelint/parse/scene"
)

func near(a, b r3.Vec, tol float64) bool { return r3.Norm(r3.Sub(a, b)) <= tol }

func TestEulerOrders(t *testing.T) {
	// rotateXYZ turns about X first (AOUSD Core Specification, xform ops): a
	// point on Z turned by 90 about X goes to -Y, then by 90 about Z to X.
	m := identity
	applyOp(&m, scene.RotateXYZ, false, []float64{90, 0, 90})
	if got := m.Point(r3.Vec{Z: 1}); !near(got, r3.Vec{X: 1}, 1e-12) {
		t.Errorf("rotateXYZ: got %v", got)
	}
	m = identity
	applyOp(&m, scene.RotateZYX, false, []float64{90, 0, 90}) // about Z first: Z stays, then X
	if got := m.Point(r3.Vec{Z: 1}); !near(got, r3.Vec{Y: -1}, 1e-12) {
		t.Errorf("rotateZYX: got %v", got)
	}
	for k := scene.RotateXYZ; k <= scene.RotateZYX; k++ {
		m, want := identity, identity
		v := []float64{20, -35, 50}
		applyOp(&m, k, false, v)
		for i := 2; i >= 0; i-- {
			a := eulerOrder[k-scene.RotateXYZ][i]
			applyOp(&want, scene.RotateX+scene.OpKind(a), false, v[a:a+1])
		}
		applyOp(&want, k, true, v)
		if !near(want.Point(r3.Vec{X: 1, Y: 2, Z: 3}), r3.Vec{X: 1, Y: 2, Z: 3}, 1e-12) {
			t.Errorf("op %d times its inverse is not the identity", k)
		}
		_ = m
	}
}

func TestQuaternionRoundTrip(t *testing.T) {
	for _, v := range [][]float64{{10, 20, 30}, {170, 5, -3}, {3, 178, 2}, {-1, 4, 179}, {0, 0, 0}, {90, 90, 90}} {
		m := identity
		applyOp(&m, scene.RotateXYZ, false, v)
		q := m.Quaternion()
		n := identity
		applyOp(&n, scene.Orient, false, q[:])
		for i := range m {
			if math.Abs(m[i]-n[i]) > 1e-12 {
				t.Fatalf("%v: %v and %v differ", v, m, n)
			}
		}
	}
}

func TestWorldOfAChain(t *testing.T) {
	b := smallscene.New(100)
	hip := b.Part("/hips", "hips", scene.NoPart, smallscene.Op(scene.Translate, 0, 10, 0), smallscene.Op(scene.RotateZ, 0))
	knee := b.Part("/hips/knee", "knee", hip, smallscene.Op(scene.Translate, 4, 0, 0), smallscene.Op(scene.RotateZ, 0))
	foot := b.Part("/hips/knee/foot", "foot", knee, smallscene.Op(scene.Translate, 3, 0, 0))
	b.Animate(hip, 1, 0, scene.Angle, func(f float64) float64 { return f })
	b.Animate(knee, 1, 0, scene.Angle, func(f float64) float64 { return -2 * f })
	s := New(&b.Scene)
	for _, f := range []float64{0, 33, 99.5} {
		a1, a2 := f*vec.Degree, -f*vec.Degree
		want := r3.Vec{X: 4*math.Cos(a1) + 3*math.Cos(a2), Y: 10 + 4*math.Sin(a1) + 3*math.Sin(a2)}
		if got := s.WorldPosition(foot, f); !near(got, want, 1e-12) {
			t.Errorf("frame %g: got %v, want %v", f, got, want)
		}
	}
	worlds := s.Worlds(foot, 10, 90)
	for i, m := range worlds {
		if !near(m.Origin(), s.WorldPosition(foot, float64(10+i)), 1e-12) {
			t.Fatalf("block solve differs at %d", 10+i)
		}
	}
}

func TestRotationStepSeries(t *testing.T) {
	for _, deg := range []float64{1e-6, 0.01, 1, 3.6, 3.7, 20, 179} {
		m := identity
		applyOp(&m, scene.RotateY, false, []float64{deg})
		if got := RotationStep([4]float64{1}, m.Quaternion()); math.Abs(got.Y-deg) > 1e-11*max(1, deg) {
			t.Errorf("%g degrees: got %v", deg, got)
		}
	}
}

// A walk hands out the transforms that Worlds gives, and keeps what it is told to.
func TestWalk(t *testing.T) {
	b := smallscene.New(2*BlockFrames + 90)
	r := rand.New(rand.NewPCG(3, 5))
	for i := range 40 {
		up := scene.NoPart
		if i > 0 {
			up = scene.PartID(r.IntN(i))
		}
		p := b.Part(fmt.Sprintf("/%d", i), fmt.Sprint(i), up, smallscene.Op(scene.Translate, 1, 2, 3), smallscene.Op(scene.RotateXYZ, 0, 0, 0))
		b.Animate(p, 1, i%3, scene.Angle, wave(r))
	}
	s := New(&b.Scene)
	wanted := []scene.PartID{39, 20, 7}
	v := s.NewSolver(wanted, s.N)
	pinned := make([]bool, len(b.Scene.Parts))
	pinned[7] = true
	v.KeepOnly(pinned)
	for a := 0; a < s.N; a += BlockFrames {
		n := min(BlockFrames, s.N-a)
		v.Walk(a, n, func(p scene.PartID) {
			if want := s.Worlds(p, a, a+n); !slices.Equal(v.worlds[p], want) {
				t.Errorf("part %d from frame index %d differs", p, a)
			}
		})
		for p, w := range v.worlds {
			if (w != nil) != pinned[p] {
				t.Errorf("part %d: kept %v", p, w != nil)
			}
		}
		if !slices.Equal(v.worlds[7], s.Worlds(7, a, a+n)) {
			t.Error("what was to be kept was written over")
		}
	}
}

// EachWorld gives what Worlds gives for each part alone.
func TestEachWorld(t *testing.T) {
	b := smallscene.New(2*BlockFrames + 90)
	root := b.Part("/a", "a", scene.NoPart, smallscene.Op(scene.Translate, 1, 2, 3))
	arm := b.Part("/a/b", "b", root, smallscene.Op(scene.Translate, 0, 1, 0), smallscene.Op(scene.RotateZ, 0))
	tip := b.Part("/a/b/c", "c", arm, smallscene.Op(scene.Translate, 2, 0, 0))
	b.Animate(root, 0, 0, scene.Length, func(f float64) float64 { return f / 7 })
	b.Animate(arm, 1, 0, scene.Angle, func(f float64) float64 { return f * 5 })
	s := New(&b.Scene)
	parts := []scene.PartID{tip, root, arm}
	seen := 3
	s.EachWorld(parts, 3, s.N-2, func(first int, worlds [][]Affine) {
		for i, p := range parts {
			if want := s.Worlds(p, first, first+len(worlds[i])); !slices.Equal(worlds[i], want) {
				t.Errorf("%s from frame index %d differs", s.Scene.Parts[p].Path, first)
			}
		}
		if first != seen {
			t.Errorf("a block from %d, want %d", first, seen)
		}
		seen += len(worlds[0])
	})
	if seen != s.N-2 {
		t.Errorf("up to %d, want %d", seen, s.N-2)
	}
}
