package solve

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/cmd/lab/smallscene"
	"curvelint/diagnostics/motion/vec"
	"curvelint/parse/scene"
)

// rigidTolerance is for lengths of about 10 and for degrees.
const rigidTolerance = 1e-9

// randomStack adds a part with a stack of turns and shifts, some of them
// animated on every frame, some on few.
func randomStack(b *smallscene.Builder, r *rand.Rand, parent scene.PartID, name string) {
	kinds := []scene.OpKind{
		scene.Translate, scene.TranslateX, scene.TranslateY, scene.TranslateZ, scene.RotateX, scene.RotateY, scene.RotateZ,
		scene.RotateXYZ, scene.RotateXZY, scene.RotateYXZ, scene.RotateYZX, scene.RotateZXY, scene.RotateZYX, scene.RotateAxis, scene.Orient, scene.Scale,
	}
	var ops []scene.Op
	for range 1 + r.IntN(5) {
		o := smallscene.Op(kinds[r.IntN(len(kinds))])
		o.Value = restValue(o.Kind)
		for i := range o.Value {
			switch o.Kind {
			case scene.Scale:
			case scene.RotateAxis:
				o.Value[i] = [4]float64{0, 1, 0, 37}[i]
			default:
				o.Value[i] = 10*r.Float64() - 5
			}
		}
		o.Inverse = o.Kind == scene.Translate && r.IntN(3) == 0
		ops = append(ops, o)
	}
	p := b.Part(name, name, parent, ops...)
	for i, o := range ops {
		switch {
		case o.Inverse || o.Kind == scene.Scale || r.IntN(3) == 0:
		case o.Kind == scene.Orient:
			orient(b, p, i, r)
		case o.Kind == scene.RotateAxis:
			b.Animate(p, i, 3, scene.Angle, wave(r))
		default:
			b.Animate(p, i, r.IntN(o.Kind.Width()), scene.Angle, wave(r))
		}
	}
	if n := len(b.Scene.Channels); n > 0 && r.IntN(2) == 0 {
		c := &b.Scene.Channels[n-1].Curve // keys between frames, and from frame 10 on
		c.Times = append([]float64(nil), c.Times...)
		for i := range c.Times {
			c.Times[i] = 10 + 1.5*float64(i)
		}
	}
}

func wave(r *rand.Rand) func(float64) float64 {
	size, pace := 400*r.Float64(), 0.1*r.Float64()
	return func(f float64) float64 { return size * math.Sin(pace*f) }
}

// orient animates a quaternion op, as a whole.
func orient(b *smallscene.Builder, p scene.PartID, op int, r *rand.Rand) {
	k := scene.Curve{Stride: 4}
	for i := range int(b.Scene.Last) + 1 {
		k.Times = append(k.Times, float64(i))
		angle := 0.05 * float64(i)
		k.Values = append(k.Values, 2*math.Cos(angle), math.Sin(angle), 0.1, r.Float64())
	}
	b.Add(scene.Channel{Part: p, Op: op, Name: "q", Quantity: scene.Quaternion, Curve: k})
}

// Stacks of turns and shifts are evaluated as quaternions, block by block, and
// must be what the matrices of one frame give.
func TestRigidStacks(t *testing.T) {
	for seed := range uint64(60) {
		r := rand.New(rand.NewPCG(seed, 7))
		b := smallscene.New(2*BlockFrames + 90)
		parent := scene.NoPart
		for i := range 4 {
			randomStack(b, r, parent, fmt.Sprintf("/link%d", i))
			parent = scene.PartID(i)
		}
		s := New(&b.Scene)
		for p := range b.Scene.Parts {
			id := scene.PartID(p)
			if s.plans[p].animated && s.plans[p].rigid == nil {
				t.Fatalf("seed %d: part %d is not taken for rigid", seed, p)
			}
			for i, got := range s.Worlds(id, 0, s.N) {
				want := s.WorldAt(id, s.Frame(i))
				for k := range want {
					if !(math.Abs(got[k]-want[k]) <= rigidTolerance) {
						t.Fatalf("seed %d, part %d, frame %d: %v, want %v", seed, p, i, got, want)
					}
				}
			}
			checkTurns(t, s, id)
		}
	}
}

// checkTurns compares the recorded turns with those between the matrices.
func checkTurns(t *testing.T, s *Hierarchy, p scene.PartID) {
	t.Helper()
	if !s.Turns(p) {
		return
	}
	r := TurnRecorder{X: make([]float64, s.N), Y: make([]float64, s.N), Z: make([]float64, s.N)}
	s.RecordTurns(p, &r)
	locals := s.Locals(p, 0, s.N)
	for i := range s.N - 1 {
		want := RotationStep(locals[i].Quaternion(), locals[i+1].Quaternion())
		if vec.Length(want) > 179 {
			continue // half a turn has no way round of its own
		}
		if got := (r3.Vec{X: r.X[i+1] - r.X[i], Y: r.Y[i+1] - r.Y[i], Z: r.Z[i+1] - r.Z[i]}); r3.Norm(r3.Sub(got, want)) > rigidTolerance {
			t.Fatalf("part %d turns by %v after frame %d, want %v", p, got, i, want)
		}
	}
}

// Three turns by one op or by three, in any order, are made at once.
func TestThreeTurnsAtOnce(t *testing.T) {
	r := rand.New(rand.NewPCG(8, 9))
	for _, order := range eulerOrder {
		for _, kind := range []scene.OpKind{scene.RotateXYZ, scene.RotateXZY, scene.RotateYXZ, scene.RotateYZX, scene.RotateZXY, scene.RotateZYX, scene.Translate} {
			b := smallscene.New(BlockFrames + 10)
			ops := []scene.Op{smallscene.Op(scene.Translate, 1, 2, 3), smallscene.Op(kind, 0, 0, 0)}
			if kind == scene.Translate {
				for _, axis := range order {
					ops = append(ops, smallscene.Op(scene.RotateX+scene.OpKind(axis), 0))
				}
			}
			p := b.Part("/a", "a", scene.NoPart, ops...)
			for k := range 3 {
				if kind == scene.Translate {
					b.Animate(p, 2+k, 0, scene.Angle, wave(r))
				} else {
					b.Animate(p, 1, k, scene.Angle, wave(r))
				}
			}
			s := New(&b.Scene)
			steps := s.plans[p].rigid.steps
			if last := steps[len(steps)-1]; last.kind != eulerStep {
				t.Errorf("%v: not at once", kind)
			}
			for i, got := range s.Worlds(p, 0, s.N) {
				want := s.WorldAt(p, s.Frame(i))
				for k := range want {
					if !(math.Abs(got[k]-want[k]) <= rigidTolerance) {
						t.Fatalf("%v %v, frame %d: %v, want %v", kind, order, i, got, want)
					}
				}
			}
			checkTurns(t, s, p)
		}
	}
}

func TestNotRigid(t *testing.T) {
	b := smallscene.New(20)
	p := b.Part("/a", "a", scene.NoPart, smallscene.Op(scene.RotateX, 0), smallscene.Op(scene.Scale, 1, 2, 1))
	b.Animate(p, 0, 0, scene.Angle, func(f float64) float64 { return f })
	q := b.Part("/b", "b", p, scene.Op{Kind: scene.RotateX, Value: []float64{0}, Inverse: true})
	b.Animate(q, 0, 0, scene.Angle, func(f float64) float64 { return 2 * f })
	s := New(&b.Scene)
	if s.plans[p].rigid != nil || s.plans[q].rigid != nil {
		t.Error("a stretched or inverted stack is taken for rigid")
	}
	checkTurns(t, s, p)
	checkTurns(t, s, q)
}
