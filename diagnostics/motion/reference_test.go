package motion_test

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"io"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/cmd/lab/designed"
	"curvelint/cmd/lab/designed/write"
	"curvelint/cmd/lab/scenetest"
	"curvelint/diagnostics/motion"
	"curvelint/parse"
	"curvelint/parse/scene"
)

// tolerance is the largest difference from the reference library, in figure
// sizes; for still scenes in their own largest coordinate.
const tolerance = 1e-4

// table is one file of testdata/reference: where parts of a scene are, by the
// general-purpose loaders of the npm package three, in metres with Y up (a BVH
// in its own unit). How it is made, and what the loaders are known to get
// wrong, is told in the README there.
type table struct {
	Source    string
	SHA256    string
	Library   string
	Frames    []float64
	Positions map[string][][3]float64
	Matrices  map[string][3][4]float64
}

const reference = "../../testdata/reference"

func readTables(t *testing.T) map[string]table {
	t.Helper()
	files, err := filepath.Glob(reference + "/*-*.json")
	if err != nil || len(files) < 10 {
		t.Fatalf("only %d tables in %s: %v", len(files), reference, err)
	}
	tables := map[string]table{}
	for _, f := range files {
		if strings.HasPrefix(filepath.Base(f), "package") {
			continue
		}
		b, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		var tb table
		if err := json.Unmarshal(b, &tb); err != nil {
			t.Fatalf("%s: %v", f, err)
		}
		tables[filepath.Base(f)] = tb
	}
	return tables
}

// source reads the scene that a table was made from.
func (tb *table) source(t *testing.T) (name string, text []byte) {
	t.Helper()
	if rest, ok := strings.CutPrefix(tb.Source, "assimp-testmodels:"); ok {
		name = filepath.Join(scenetest.Models(t), rest)
	} else {
		name = filepath.Join("../../testdata", tb.Source)
	}
	text, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	if sum := sha256.Sum256(text); hex.EncodeToString(sum[:]) != tb.SHA256 {
		t.Fatalf("%s is not the file that the table was made from; run npm ci && npm run tables in testdata/reference", tb.Source)
	}
	return name, text
}

// inMetres turns a position of a scene into metres with Y up.
func inMetres(sc *scene.Scene, p r3.Vec) r3.Vec {
	switch sc.Up {
	case scene.AxisZ:
		p = r3.Vec{X: p.X, Y: p.Z, Z: -p.Y}
	case scene.AxisX:
		p = r3.Vec{X: -p.Y, Y: p.X, Z: p.Z}
	}
	if sc.MetersPerUnit > 0 && sc.Format != "bvh" {
		p = r3.Scale(sc.MetersPerUnit, p)
	}
	return p
}

// suffix finds the one part whose path ends in the given names.
func suffix(t *testing.T, sc *scene.Scene, names string) scene.PartID {
	t.Helper()
	found := scene.NoPart
	for i := range sc.Parts {
		if strings.HasSuffix(sc.Parts[i].Path, "/"+names) {
			if found != scene.NoPart {
				t.Fatalf("two parts end in %s", names)
			}
			found = scene.PartID(i)
		}
	}
	if found == scene.NoPart {
		t.Fatalf("no part ends in %s", names)
	}
	return found
}

func TestPositionsAgreeWithTheReferenceLoaders(t *testing.T) {
	for name, tb := range readTables(t) {
		if tb.Positions == nil {
			continue
		}
		t.Run(strings.TrimSuffix(name, ".json"), func(t *testing.T) {
			file, text := tb.source(t)
			sc := parse.Parse(file, text, scene.ReadOptions{})
			s := motion.New(sc, motion.Options{})
			worst, checked := 0.0, 0
			for part, rows := range tb.Positions {
				p := suffix(t, sc, part)
				size := 1.0
				if fig := s.FigureOf(p); fig != nil {
					size = r3.Norm(inMetres(sc, r3.Vec{X: fig.Size}))
				}
				for i, frame := range tb.Frames {
					want := r3.Vec{X: rows[i][0], Y: rows[i][1], Z: rows[i][2]}
					got := inMetres(sc, s.WorldPosition(p, frame))
					d := r3.Norm(r3.Sub(got, want)) / size
					worst = math.Max(worst, d)
					if checked++; d > tolerance || math.IsNaN(d) {
						t.Fatalf("%s at frame %g: %v, %s says %v (off by %.2g figure sizes)", part, frame, got, tb.Library, want, d)
					}
				}
			}
			if checked == 0 {
				t.Fatal("nothing compared")
			}
			t.Logf("%d positions, largest difference %.1g figure sizes", checked, worst)
		})
	}
}

// The still pose: every part's matrix without its animation, in metres with Y
// up. What a matrix does is compared by where it takes the origin and three
// points a unit from it.
func TestStillPoseAgreesWithTheReferenceLoaders(t *testing.T) {
	for name, tb := range readTables(t) {
		if tb.Matrices == nil {
			continue
		}
		t.Run(strings.TrimSuffix(name, ".json"), func(t *testing.T) {
			file, text := tb.source(t)
			sc := *parse.Parse(file, text, scene.ReadOptions{})
			sc.Channels = nil
			s := motion.New(&sc, motion.Options{})
			extent := 0.0
			for _, m := range tb.Matrices {
				extent = math.Max(extent, r3.Norm(r3.Vec{X: m[0][3], Y: m[1][3], Z: m[2][3]}))
			}
			for part, m := range tb.Matrices {
				world := s.WorldAt(wholePath(t, &sc, part), 0)
				scale := r3.Norm(inMetres(&sc, r3.Vec{X: 1}))
				for _, p := range []r3.Vec{{}, {X: 1}, {Y: 1}, {Z: 1}} {
					got := inMetres(&sc, world.Point(p))
					want := r3.Vec{X: row(m[0], p), Y: row(m[1], p), Z: row(m[2], p)}
					if d := r3.Norm(r3.Sub(got, want)); !(d <= tolerance*math.Max(extent, scale)) {
						t.Errorf("%s takes %v to %v, %s says %v", part, p, got, tb.Library, want)
					}
				}
			}
		})
	}
}

// row returns one coordinate of the image of a point.
func row(m [4]float64, p r3.Vec) float64 { return m[0]*p.X + m[1]*p.Y + m[2]*p.Z + m[3] }

// wholePath finds the part with the given path, else the one that ends in it.
func wholePath(t *testing.T, sc *scene.Scene, names string) scene.PartID {
	t.Helper()
	if p := sc.Find("/" + names); p != scene.NoPart {
		return p
	}
	return suffix(t, sc, names)
}

// The same motion in other formats, held against glTF, which agrees with the
// reference loader: what it cannot be asked (X3D, COLLADA's animation, USD
// skeletons and splines) must still be the same shot.
func TestOtherFormatsCarryTheSameMotion(t *testing.T) {
	take := designed.Deckhand(designed.PolishPass).Take(24)
	read := func(name string, w func(io.Writer, *designed.Take) error) (*scene.Scene, *motion.Study) {
		var b bytes.Buffer
		if err := w(&b, take); err != nil {
			t.Fatal(err)
		}
		sc := parse.Parse(name, b.Bytes(), scene.ReadOptions{})
		for _, p := range sc.Problems {
			t.Fatalf("%s: %s", name, p.Message)
		}
		return sc, motion.New(sc, motion.Options{})
	}
	base, want := read("shot.gltf", write.GLTF)
	parts := []string{"Tug/hips", "chest/neck/head", "forearm_l/hand_l", "forearm_r/hand_r", "shin_l/foot_l", "shin_r/foot_r"}
	size := want.FigureOf(suffix(t, base, "Tug/hips")).Size
	for _, c := range []struct {
		name  string
		write func(io.Writer, *designed.Take) error
	}{
		{"shot.dae", write.COLLADA}, {"shot.x3d", write.X3D}, {"shot.x3dv", write.X3DClassic},
		{"shot.csv", write.Table}, {"skeleton.usda", write.USDASkeleton}, {"splines.usda", write.USDASplines},
	} {
		t.Run(c.name, func(t *testing.T) {
			sc, got := read(c.name, c.write)
			for _, name := range parts {
				p, q := suffix(t, base, name), lastNames(t, sc, name)
				for f := 0.0; f < 96; f += 5 {
					a := inMetres(base, want.WorldPosition(p, base.First+f))
					b := inMetres(sc, got.WorldPosition(q, sc.First+f))
					if sc.MetersPerUnit == 0 {
						b = r3.Scale(0.01, b) // a table knows no unit; the shot is in centimetres
					}
					if d := r3.Norm(r3.Sub(a, b)) / size; d > tolerance {
						t.Fatalf("%s at %g: %v, glTF has %v", name, f, b, a)
					}
				}
			}
		})
	}
}

// lastNames finds a part by as many of its last names as the format has kept.
func lastNames(t *testing.T, sc *scene.Scene, names string) scene.PartID {
	t.Helper()
	for i := range sc.Parts {
		if strings.HasSuffix(sc.Parts[i].Path, "/"+names) {
			return scene.PartID(i)
		}
	}
	return suffix(t, sc, names[strings.LastIndex(names, "/")+1:])
}
