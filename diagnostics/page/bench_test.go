package page

import (
	"bytes"
	"testing"

	"curvelint/cmd/lab/designed"
	"curvelint/cmd/lab/designed/write"
	"curvelint/diagnostics/motion/solve"
)

// BenchmarkEncode gives the cost of a page of 64 joints and 1,000 frames next to
// that of solving where its parts are, which it cannot do without.
func BenchmarkEncode(b *testing.B) {
	var text bytes.Buffer
	if err := write.BVH(&text, designed.Bake(64, 1000)); err != nil {
		b.Fatal(err)
	}
	s := studied(b, "bake.bvh", text.Bytes(), settings(b))
	s.Notes = nil
	b.Run("solving", func(b *testing.B) {
		parts := newStage(s.Study).parts
		for b.Loop() {
			s.Study.EachWorld(parts, 0, s.Study.N, func(int, [][]solve.Affine) {})
		}
	})
	b.Run("encoding", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			e, err := Encode(b.Context(), s)
			if err != nil {
				b.Fatal(err)
			}
			b.ReportMetric(float64(len(e)), "bytes")
		}
	})
}
