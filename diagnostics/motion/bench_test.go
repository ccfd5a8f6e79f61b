package motion

import (
	"fmt"
	"math"
	"testing"

	"curvelint/cmd/lab/smallscene"
	"curvelint/parse/scene"
)

// bake builds a skeleton of joints in chains of eight, every joint turning on
// three axes, over a number of frames: invented data.
func bake(joints, frames int) *scene.Scene {
	b := smallscene.New(float64(frames - 1))
	for j := range joints {
		parent := scene.PartID(j - 1)
		if j%8 == 0 {
			parent = scene.PartID(max(0, j-8))
		}
		if j == 0 {
			parent = scene.NoPart
		}
		ops := []scene.Op{smallscene.Op(scene.Translate, 0, 10, float64(j%3)), smallscene.Op(scene.RotateZ, 0), smallscene.Op(scene.RotateX, 0), smallscene.Op(scene.RotateY, 0)}
		p := b.Part(fmt.Sprintf("/j%d", j), fmt.Sprintf("joint%d", j), parent, ops...)
		b.Scene.Parts[p].Kind = scene.Joint
		for k := range 3 {
			w := 0.02 + 0.001*float64((j*7+k*3)%40)
			b.Animate(p, k+1, 0, scene.Angle, func(f float64) float64 { return 20 * math.Sin(w*f) })
		}
	}
	b.Scene.Parts[0].Figure = true
	return &b.Scene
}

func BenchmarkStudyPoints(b *testing.B) {
	sc := bake(64, 10000)
	b.ResetTimer()
	for b.Loop() {
		s := New(sc, Options{})
		s.Figures()[0].PointTrack(0)
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/640000, "ns/joint-frame")
}

func BenchmarkStudyRotations(b *testing.B) {
	sc := bake(64, 10000)
	b.ResetTimer()
	for b.Loop() {
		s := New(sc, Options{})
		for p := range sc.Parts {
			s.RotationTrack(scene.PartID(p))
		}
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/640000, "ns/joint-frame")
}
