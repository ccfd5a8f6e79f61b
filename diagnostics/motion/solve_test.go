package motion

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/parse/scene"
)

// builder makes small scenes for tests.
type builder struct{ sc scene.Scene }

func newBuilder(last float64) *builder {
	return &builder{scene.Scene{Rate: 24, First: 0, Last: last, DefaultCamera: scene.NoPart, Files: []*scene.File{{Path: "test"}}}}
}

func (b *builder) part(path, name string, parent scene.PartID, ops ...scene.Op) scene.PartID {
	id := scene.PartID(len(b.sc.Parts))
	b.sc.Parts = append(b.sc.Parts, scene.Part{ID: id, Parent: parent, Name: name, Path: path, Ops: ops})
	return id
}

// animate bakes f over all frames into component c of op.
func (b *builder) animate(p scene.PartID, op, c int, q scene.Quantity, f func(frame float64) float64) scene.ChannelID {
	n := int(b.sc.Last) + 1
	k := scene.Curve{Stride: 1}
	for i := range n {
		k.Times = append(k.Times, float64(i))
		k.Values = append(k.Values, f(float64(i)))
	}
	b.sc.Channels = append(b.sc.Channels, scene.Channel{Part: p, Op: op, Component: c, Name: "c", Quantity: q, Curve: k})
	return scene.ChannelID(len(b.sc.Channels) - 1)
}

func op(k scene.OpKind, v ...float64) scene.Op { return scene.Op{Kind: k, Value: v} }

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
		q := m.quaternion()
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
	b := newBuilder(100)
	hip := b.part("/hips", "hips", scene.NoPart, op(scene.Translate, 0, 10, 0), op(scene.RotateZ, 0))
	knee := b.part("/hips/knee", "knee", hip, op(scene.Translate, 4, 0, 0), op(scene.RotateZ, 0))
	foot := b.part("/hips/knee/foot", "foot", knee, op(scene.Translate, 3, 0, 0))
	b.animate(hip, 1, 0, scene.Angle, func(f float64) float64 { return f })
	b.animate(knee, 1, 0, scene.Angle, func(f float64) float64 { return -2 * f })
	s := New(&b.sc, Options{})
	for _, f := range []float64{0, 33, 99.5} {
		a1, a2 := f*radians, -f*radians
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

func TestDriversSumToOne(t *testing.T) {
	b := newBuilder(48)
	hip := b.part("/hips", "hips", scene.NoPart, op(scene.Translate, 0, 10, 0), op(scene.RotateZ, 0))
	chest := b.part("/hips/chest", "chest", hip, op(scene.Translate, 0, 4, 0), op(scene.RotateXYZ, 0, 0, 0))
	head := b.part("/hips/chest/head", "head", chest, op(scene.Translate, 0, 3, 0), op(scene.RotateXYZ, 0, 0, 0))
	b.part("/hips/chest/head/head_tip", "head_tip", head, op(scene.Translate, 0, 2, 0))
	x := b.animate(hip, 0, 0, scene.Length, func(f float64) float64 { return f / 10 })
	z := b.animate(chest, 1, 2, scene.Angle, func(f float64) float64 { return -f / 2 })
	y := b.animate(head, 1, 2, scene.Angle, func(f float64) float64 { return f / 10 })
	s := New(&b.sc, Options{})
	figs := s.Figures()
	if len(figs) != 1 || math.Abs(figs[0].Size-9) > 1e-12 {
		t.Fatalf("got %d figures, size %v", len(figs), figs[0].Size)
	}
	for i, p := range figs[0].Points {
		if p.Role != HeadPoint {
			continue
		}
		shares := s.Drivers(figs[0].PointTrack(i), 5, 40)
		sum := 0.0
		got := map[scene.ChannelID]float64{}
		for _, sh := range shares {
			sum += sh.Value
			got[sh.Channel] = sh.Value
		}
		if math.Abs(sum-1) > 0.01 {
			t.Errorf("shares sum to %g", sum)
		}
		if !(got[x] > got[z] && got[z] > 0 && got[y] < 0) {
			t.Errorf("shares %v", shares)
		}
		return
	}
	t.Error("no head point")
}

func TestViewProjects(t *testing.T) {
	b := newBuilder(10)
	cam := b.part("/cam", "cam", scene.NoPart, op(scene.Translate, 0, 0, 10))
	b.sc.Parts[cam].Kind = scene.CameraPart
	n := scene.NoChannel
	b.sc.Cameras = []scene.Camera{{Part: cam, FocalLength: 50, HorizontalAperture: 20, VerticalAperture: 10, AspectKnown: true,
		FocalLengthChannel: n, HorizontalChannel: n, VerticalChannel: n, HorizontalOffsetChan: n, VerticalOffsetChan: n}}
	v := New(&b.sc, Options{}).View()
	if v == nil || v.Aspect != 2 {
		t.Fatalf("view %+v", v)
	}
	e := v.At(0)
	// Pinhole: 1 unit up at a distance of 10 is 1/10 * 50/10 of the picture's height.
	x, y, d, ok := e.Project(r3.Vec{X: -1, Y: 1})
	l := e.Lens()
	if q := l.Inverse.Point(r3.Vec{X: -1, Y: 1}); math.Abs(l.Scale*q.X/-q.Z-l.OffsetX-x) > 1e-12 || math.Abs(l.Scale*q.Y/-q.Z-l.OffsetY-y) > 1e-12 {
		t.Errorf("the lens %+v puts the point elsewhere than (%g, %g)", l, x, y)
	}
	if !ok || math.Abs(x+0.5) > 1e-12 || math.Abs(y-0.5) > 1e-12 || math.Abs(d-10) > 1e-12 {
		t.Errorf("got %g %g %g %v", x, y, d, ok)
	}
	if _, _, _, ok := e.Project(r3.Vec{Z: 11}); ok {
		t.Error("a point behind the camera is seen")
	}
}

// TestOneAngleOfView: a camera with one angle and no shape of its own shows it over
// the shorter side of the configured picture (ISO/IEC 19775-1, Viewpoint).
func TestOneAngleOfView(t *testing.T) {
	b := newBuilder(10)
	cam := b.part("/cam", "cam", scene.NoPart, op(scene.Translate, 0, 0, 10))
	b.sc.Parts[cam].Kind = scene.CameraPart
	n := scene.NoChannel
	b.sc.Cameras = []scene.Camera{{Part: cam, FocalLength: 10, HorizontalAperture: 20, VerticalAperture: 20,
		FocalLengthChannel: n, HorizontalChannel: n, VerticalChannel: n, HorizontalOffsetChan: n, VerticalOffsetChan: n}}
	for _, tt := range []struct{ aspect, x, y float64 }{
		{2, 1, 0.5},       // 90 degrees over the height: the edge at a slope of 1
		{0.5, 0.25, 0.25}, // over the width, half as long as the height
	} {
		v := New(&b.sc, Options{Aspect: tt.aspect}).View()
		e := v.At(0)
		x, y, _, _ := e.Project(r3.Vec{X: 10 * max(1, tt.aspect), Y: 10})
		if math.Abs(x-tt.x) > 1e-12 || math.Abs(y-tt.y) > 1e-12 {
			t.Errorf("aspect %g: got %g %g, want %g %g", tt.aspect, x, y, tt.x, tt.y)
		}
	}
}

func TestRotationStepSeries(t *testing.T) {
	for _, deg := range []float64{1e-6, 0.01, 1, 3.6, 3.7, 20, 179} {
		m := identity
		applyOp(&m, scene.RotateY, false, []float64{deg})
		if got := rotationStep([4]float64{1}, m.quaternion()); math.Abs(got.Y-deg) > 1e-11*max(1, deg) {
			t.Errorf("%g degrees: got %v", deg, got)
		}
	}
}

// A walk hands out the transforms that Worlds gives, and keeps what it is told to.
func TestWalk(t *testing.T) {
	b := newBuilder(2*blockFrames + 90)
	r := rand.New(rand.NewPCG(3, 5))
	for i := range 40 {
		up := scene.NoPart
		if i > 0 {
			up = scene.PartID(r.IntN(i))
		}
		p := b.part(fmt.Sprintf("/%d", i), fmt.Sprint(i), up, op(scene.Translate, 1, 2, 3), op(scene.RotateXYZ, 0, 0, 0))
		b.animate(p, 1, i%3, scene.Angle, wave(r))
	}
	s := New(&b.sc, Options{})
	wanted := []scene.PartID{39, 20, 7}
	v := s.newSolver(wanted, s.N)
	pinned := make([]bool, len(b.sc.Parts))
	pinned[7] = true
	v.keepOnly(pinned)
	for a := 0; a < s.N; a += blockFrames {
		n := min(blockFrames, s.N-a)
		v.walk(a, n, func(p scene.PartID) {
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
	b := newBuilder(2*blockFrames + 90)
	root := b.part("/a", "a", scene.NoPart, op(scene.Translate, 1, 2, 3))
	arm := b.part("/a/b", "b", root, op(scene.Translate, 0, 1, 0), op(scene.RotateZ, 0))
	tip := b.part("/a/b/c", "c", arm, op(scene.Translate, 2, 0, 0))
	b.animate(root, 0, 0, scene.Length, func(f float64) float64 { return f / 7 })
	b.animate(arm, 1, 0, scene.Angle, func(f float64) float64 { return f * 5 })
	s := New(&b.sc, Options{})
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
