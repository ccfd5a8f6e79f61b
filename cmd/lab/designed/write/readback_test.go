package write_test

import (
	"bytes"
	"io"
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/cmd/lab/designed"
	"curvelint/cmd/lab/designed/write"
	"curvelint/diagnostics/motion"
	"curvelint/parse"
	"curvelint/parse/scene"
)

// sameMotion is how far, in figure sizes, a point may be from where it was
// designed after a file was written and read again.
const sameMotion = 2e-6

// fitted is the same for splines, which pass near the designed motion.
const fitted = 1e-4

// keyed is the same for few keys: one percent of every turn adds up along the
// body.
const keyed = 1e-2

// figureSize is the deckhand's in centimetres.
const figureSize = 250

var (
	asNamed = strings.NewReplacer()
	// Joints stand below the skeleton's prim.
	jointed = strings.NewReplacer("/Tug/", "/Tug/skeleton/", "/Gull/", "/Gull/skeleton/")
	// Names are unique in the whole of an X3D scene, so a second neck gets a
	// number.
	unique = strings.NewReplacer("/Gull/torso/neck/head", "/Gull/torso/neck_2/head_2", "/Gull/torso/neck", "/Gull/torso/neck_2")
)

// formats are the writers whose readers exist, with what each cannot carry.
var formats = []struct {
	name  string // of the file
	write func(io.Writer, *designed.Take) error
	lost  string // names of parts that are left out, or whose size is
	first float64
	// renamed turns the shot's paths into those that the format forces.
	renamed *strings.Replacer
	within  float64 // figure sizes
}{
	{"baked.usda", write.USDA, "", 1001, asNamed, sameMotion},
	{"sparse.usda", write.USDASparse, "", 1001, asNamed, sameMotion},
	{"splines.usda", write.USDASplines, "", 1001, asNamed, fitted},
	{"hermite.usda", write.USDAHermite, "", 1001, asNamed, fitted},
	{"keyed.usda", write.USDAKeyed, "", 1001, asNamed, keyed},
	{"skeleton.usda", write.USDASkeleton, "", 1001, jointed, sameMotion},
	{"a.bvh", write.BVH, "cam", 1, asNamed, sameMotion},
	{"b.bvh", write.BVHInOrder(designed.OrderZXY), "cam", 1, asNamed, sameMotion},
	{"a.csv", write.Table, "", 1001, asNamed, sameMotion},
	{"a.tsv", write.TabTable, "", 1001, asNamed, sameMotion},
	{"a.gltf", write.GLTF, "", 0, asNamed, sameMotion},
	{"a.dae", write.COLLADA, "", 0, asNamed, sameMotion},
	{"keyed.dae", write.COLLADAKeyed, "", 0, asNamed, keyed},
	{"a.x3d", write.X3D, "", 0, unique, sameMotion},
	{"a.x3dv", write.X3DClassic, "", 0, unique, sameMotion},
}

// TestReadBack writes the deckhand in every format, reads it again, and compares
// a point beside every part in the world at every frame.
func TestReadBack(t *testing.T) {
	take := designed.Deckhand(designed.PolishPass).Take(24)
	for _, f := range formats {
		t.Run(f.name, func(t *testing.T) {
			var b bytes.Buffer
			if err := f.write(&b, take); err != nil {
				t.Fatal(err)
			}
			sc := parse.Parse(f.name, b.Bytes(), scene.ReadOptions{})
			for _, p := range sc.Problems {
				t.Errorf("%s: %s", p.Kind, p.Message)
			}
			compare(t, take, sc, f.first, f.lost, f.renamed, f.within)
		})
	}
}

func compare(t *testing.T, take *designed.Take, sc *scene.Scene, first float64, lost string, renamed *strings.Replacer, within float64) {
	t.Helper()
	s := motion.New(sc, motion.Options{})
	if s.N != take.N || math.Abs(s.Rate-take.Rate) > 1e-6 || s.First != first {
		t.Fatalf("read %d frames from %g at %g fps, wrote %d from %g at %g", s.N, s.First, s.Rate, take.N, first, take.Rate)
	}
	unit := 1.0
	if sc.MetersPerUnit > 0 {
		unit = sc.MetersPerUnit / take.Shot.MetersPerUnit
	}
	beside := r3.Vec{X: 3, Y: 7, Z: 5} // centimetres
	for i := range take.Shot.Parts {
		part := &take.Shot.Parts[i]
		if strings.Contains(lost, part.Name) || part.Kind == designed.Tip || part.Kind == designed.Weight {
			continue
		}
		id := sc.Find(renamed.Replace(take.Shot.Path(i)))
		if id == scene.NoPart {
			t.Errorf("%s is not there", take.Shot.Path(i))
			continue
		}
		point := beside
		if take.Rows[i].Size != nil {
			point = r3.Vec{} // a size is no part of a take's world frames
		}
		worst := 0.0
		for f, w := range take.World(i) {
			m := s.WorldAt(id, s.Frame(f))
			worst = max(worst, r3.Norm(r3.Sub(r3.Scale(unit, m.Point(r3.Scale(1/unit, point))), w.Point(point))))
		}
		if worst > within*figureSize {
			t.Errorf("%s is %g cm off", take.Shot.Path(i), worst)
		}
	}
}
