package write_test

import (
	"bytes"
	"io"
	"math"
	"testing"

	"curvelint/cmd/lab/designed"
	"curvelint/cmd/lab/designed/natural"
	"curvelint/cmd/lab/designed/write"
	"curvelint/diagnostics/motion/solve"
	"curvelint/parse"
	"curvelint/parse/scene"
)

// keys counts the keys of a scene, and the channels that have any.
func keys(t *testing.T, name string, w func(io.Writer, *designed.Take) error, take *designed.Take) (n, channels int) {
	t.Helper()
	var b bytes.Buffer
	if err := w(&b, take); err != nil {
		t.Fatal(err)
	}
	sc := parse.Parse(name, b.Bytes(), scene.ReadOptions{})
	for i := range sc.Channels {
		if c := &sc.Channels[i].Curve; c.Len() > 0 {
			n += c.Len()
			channels++
		}
	}
	return n, channels
}

// hand is a shot of one part with two strokes and a hold between them.
func hand() *designed.Take {
	s := designed.NewShot("hand", 4)
	s.Add(-1, designed.Part{Name: "hand", Turn: [3]designed.Signal{designed.Add(
		designed.Stroke(designed.MinimumJerk, 0.5, 1, 40), designed.Stroke(designed.MinimumJerk, 2.5, 3, -30))}})
	return s.Take(24)
}

// TestFewKeys: sparse layers and splines leave holds alone.
func TestFewKeys(t *testing.T) {
	take := hand()
	baked, n := keys(t, "a.usda", write.USDA, take)
	sparse, _ := keys(t, "a.usda", write.USDASparse, take)
	splines, _ := keys(t, "a.usda", write.USDASplines, take)
	keyed, _ := keys(t, "a.usda", write.USDAKeyed, take)
	if baked != take.N*n {
		t.Errorf("a bake of %d frames and %d channels has %d keys", take.N, n, baked)
	}
	if sparse > baked/2 {
		t.Errorf("%d of %d keys are left when holds are left out", sparse, baked)
	}
	if splines > 30 {
		t.Errorf("%d knots for two strokes of twelve frames", splines)
	}
	if keyed > 6 {
		t.Errorf("%d keys for two strokes, wanted 6: both ends of the shot and of each stroke", keyed)
	}
}

// TestHoldsOfTwoKeys: a hold of one value has a key at each end and none between,
// also where a stroke begins less than a digit before the frame that shows it.
func TestHoldsOfTwoKeys(t *testing.T) {
	for early := range 20 {
		start := 2 - 0.0001*float64(early)
		s := designed.NewShot("hand", 4)
		s.Add(-1, designed.Part{Name: "hand", Turn: [3]designed.Signal{designed.Add(
			designed.Stroke(designed.MinimumJerk, 0.48, 1, 40), designed.Stroke(designed.MinimumJerk, start, start+0.5, -30))}})
		for _, w := range []func(io.Writer, *designed.Take) error{write.USDASplines, write.USDAHermite, write.USDAKeyed} {
			var b bytes.Buffer
			if err := w(&b, s.Take(24)); err != nil {
				t.Fatal(err)
			}
			sc := parse.Parse("a.usda", b.Bytes(), scene.ReadOptions{})
			for i := range sc.Channels {
				c := &sc.Channels[i].Curve
				for k := 1; k+1 < c.Len(); k++ {
					if c.Value(k-1) == c.Value(k) && c.Value(k) == c.Value(k+1) {
						t.Errorf("a stroke at %g: a key at %g between two of its own value %g", start, c.Times[k], c.Value(k))
					}
				}
			}
		}
	}
}

// TestWeights writes a face of shape weights where formats carry them and
// compares every value.
func TestWeights(t *testing.T) {
	take := natural.Shot(natural.Shapes, natural.Options{Seed: 2, Seconds: 3}).Take(24)
	for _, f := range weightFormats {
		var b bytes.Buffer
		if err := f.write(&b, take); err != nil {
			t.Fatal(err)
		}
		sc := parse.Parse(f.name, b.Bytes(), scene.ReadOptions{})
		for _, p := range sc.Problems {
			t.Errorf("%s: %s: %s", f.name, p.Kind, p.Message)
		}
		found := 0
		for i := range sc.Channels {
			c := &sc.Channels[i]
			if c.Op != scene.NoOp {
				continue
			}
			row := &take.Rows[take.Shot.Find(sc.Parts[c.Part].Name)]
			if row.Value == nil || c.Curve.Len() != take.N {
				t.Errorf("%s: %s is no weight of the shot", f.name, sc.Parts[c.Part].Path)
				continue
			}
			found++
			worst := 0.0
			var v [1]float64
			for k := range take.N {
				solve.EvalCurve(&c.Curve, c.Curve.Times[k], v[:])
				worst = math.Max(worst, math.Abs(v[0]-row.Value[k]))
			}
			if worst > 1e-4 {
				t.Errorf("%s: %s is %g off", f.name, sc.Parts[c.Part].Path, worst)
			}
		}
		if found != 7 {
			t.Errorf("%s: %d weights, wrote 7", f.name, found)
		}
	}
}

// weightFormats are the formats that carry shape weights.
var weightFormats = []struct {
	name  string
	write func(io.Writer, *designed.Take) error
}{
	{"a.csv", write.Table},
	{"skeleton.usda", write.USDASkeleton},
	{"a.gltf", write.GLTF},
}
