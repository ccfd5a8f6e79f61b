package motion

import (
	"math"
	"reflect"
	"testing"

	"curvelint/diagnostics/motion/vec"
	"curvelint/parse/scene"
)

// withKey returns a copy of sc in which one key of a channel has another value.
func withKey(sc *scene.Scene, id scene.ChannelID, key int, v float64) *scene.Scene {
	c := *sc
	c.Channels = append([]scene.Channel(nil), sc.Channels...)
	c.Channels[id].Curve.Values = append([]float64(nil), sc.Channels[id].Curve.Values...)
	c.Channels[id].Curve.Values[key] = v
	return &c
}

func TestUpdateEqualsNew(t *testing.T) {
	sc := bake(20, 300)
	s := New(sc, Options{})
	for i := range s.Figures()[0].Points {
		s.Figures()[0].PointTrack(i)
	}
	for p := range sc.Parts {
		s.RotationTrack(scene.PartID(p))
	}
	for _, c := range []struct {
		id  scene.ChannelID
		key int
	}{{0, 150}, {5, 0}, {59, 299}, {30, 1}} {
		next := withKey(sc, c.id, c.key, 77)
		got, want := s.Update(next, []scene.ChannelID{c.id}), New(next, Options{})
		for i := range want.Figures()[0].Points {
			g, w := got.Figures()[0].PointTrack(i), want.Figures()[0].PointTrack(i)
			for f := range w.X {
				if d := vec.Distance(g.At(f), w.At(f)); d > 1e-12 || math.IsNaN(d) {
					t.Fatalf("channel %d key %d, point %d, frame %d: off by %g", c.id, c.key, i, f, d)
				}
			}
		}
		for p := range sc.Parts {
			g, w := got.RotationTrack(scene.PartID(p)), want.RotationTrack(scene.PartID(p))
			if !reflect.DeepEqual(g.X, w.X) || !reflect.DeepEqual(g.Z, w.Z) {
				t.Fatalf("channel %d key %d: rotation of part %d differs", c.id, c.key, p)
			}
		}
	}
}
