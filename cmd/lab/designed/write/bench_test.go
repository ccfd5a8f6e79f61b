package write_test

import (
	"io"
	"testing"

	"curvelint/cmd/lab/designed"
	"curvelint/cmd/lab/designed/write"
)

// counter counts the bytes written to it.
type counter int64

func (c *counter) Write(p []byte) (int, error) {
	*c += counter(len(p))
	return len(p), nil
}

// BenchmarkWrite writes a bake of 64 joints and 1,000 frames in every format.
func BenchmarkWrite(b *testing.B) {
	take := designed.Bake(64, 1000)
	for _, f := range []struct {
		name  string
		write func(io.Writer, *designed.Take) error
	}{
		{"usda", write.USDA}, {"bvh", write.BVH}, {"gltf", write.GLTF},
		{"collada", write.COLLADA}, {"x3d", write.X3D}, {"classic", write.X3DClassic}, {"table", write.Table},
	} {
		b.Run(f.name, func(b *testing.B) {
			var n counter
			for b.Loop() {
				n = 0
				if err := f.write(&n, take); err != nil {
					b.Fatal(err)
				}
			}
			b.SetBytes(int64(n))
		})
	}
}
