package page

import (
	"bytes"
	"encoding/base64"
	"encoding/binary"
	"encoding/json"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/cmd/lab/designed"
	"curvelint/cmd/lab/designed/write"
	"curvelint/diagnostics"
	"curvelint/diagnostics/config"
	"curvelint/diagnostics/report"
	"curvelint/parse"
)

func TestMain(m *testing.M) {
	diagnostics.PanicOnBugs(true)
	os.Exit(m.Run())
}

const demo = "../../testdata/demo"

func settings(t testing.TB) *config.Config {
	t.Helper()
	c, err := config.Load(filepath.Join(demo, "curvelint.toml"), diagnostics.Schema())
	if err != nil || len(c.Problems) > 0 {
		t.Fatal(err, c.Problems)
	}
	return c
}

func studied(t testing.TB, name string, text []byte, cfg *config.Config) *Shot {
	t.Helper()
	s, fault := diagnostics.Judge{Config: cfg}.Study(diagnostics.Read(name, text, cfg, nil))
	if fault != nil {
		t.Fatal(fault)
	}
	return &Shot{Study: s, Notes: diagnostics.Judge{Config: cfg, Selection: diagnostics.Selection{}}.Notes(t.Context(), s).Notes}
}

func demoShot(t testing.TB, name string) *Shot {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(demo, name))
	if err != nil {
		t.Fatal(err)
	}
	return studied(t, name, text, settings(t))
}

func decoded(t *testing.T, s *Shot) *form {
	t.Helper()
	b, err := Encode(t.Context(), s)
	if err != nil {
		t.Fatal(err)
	}
	var f form
	if err := json.Unmarshal(b, &f); err != nil {
		t.Fatal(err)
	}
	return &f
}

func floats(t *testing.T, s string) []float64 {
	t.Helper()
	b, err := base64.StdEncoding.DecodeString(s)
	if err != nil {
		t.Fatal(err)
	}
	out := make([]float64, len(b)/4)
	for i := range out {
		out[i] = float64(math.Float32frombits(binary.LittleEndian.Uint32(b[4*i:])))
	}
	return out
}

// place unpacks where a column is, as the page does.
func (k *cast) place(t *testing.T, column, frame int) r3.Vec {
	t.Helper()
	roots, scale := floats(t, k.Roots), floats(t, k.Scale)
	steps, err := base64.StdEncoding.DecodeString(k.Steps)
	if err != nil {
		t.Fatal(err)
	}
	var p [3]float64
	for axis := range 3 {
		c := 3*column + axis
		n := binary.LittleEndian.Uint16(steps[2*(c*k.Count+frame):])
		p[axis] = roots[3*(k.Parts[column].Figure*k.Count+frame)+axis] + scale[2*c] + float64(n)*scale[2*c+1]
	}
	return r3.Vec{X: p[0], Y: p[1], Z: p[2]}
}

// What the page unpacks is where the study says that the parts are, to a
// hundredth of a thousandth of the figure and the step of the columns.
func TestPlaces(t *testing.T) {
	s := demoShot(t, "deckhand_spline.usda")
	f := decoded(t, s)
	origin := s.Study.WorldPosition(s.Study.Scene.Find("/Shot/deck"), s.Study.First)
	for _, name := range []string{"/Shot/deck/winch/drum", "/Tug", "/Tug/hips/spine/chest/neck/head", "/Gull/torso/wing_r/wing_mid_r"} {
		i := column(t, f, name)
		for _, frame := range []int{0, 41, 95} {
			want := s.Study.WorldPosition(s.Study.Scene.Find(name), s.Study.Frame(frame))
			got := r3.Add(origin, f.Now.place(t, i, frame))
			if d := r3.Norm(r3.Sub(got, want)); d > 0.005 {
				t.Errorf("%s in frame %d is %g off", name, frame, d)
			}
		}
	}
}

func column(t *testing.T, f *form, path string) int {
	t.Helper()
	for i, p := range f.Now.Parts {
		if p.Path == path {
			return i
		}
	}
	t.Fatalf("%s is not drawn", path)
	return 0
}

// The lens in the page puts a point where the study's camera does.
func TestLens(t *testing.T) {
	s := demoShot(t, "deckhand_spline.usda")
	f := decoded(t, s)
	l := floats(t, f.Camera.Lens)
	if len(l) != lensNumbers || f.Camera.Name != "cam" || f.Camera.Orthographic {
		t.Fatalf("%d numbers of a camera that stands still, %+v", len(l), f.Camera)
	}
	i := column(t, f, "/Tug/hips/spine/chest/neck/head")
	p := f.Now.place(t, i, 40)
	q := func(row int) float64 { return l[4*row]*p.X + l[4*row+1]*p.Y + l[4*row+2]*p.Z + l[4*row+3] }
	eye := s.Study.View().At(s.Study.Frame(40))
	x, y, _, ok := eye.Project(s.Study.WorldPosition(s.Study.Scene.Find("/Tug/hips/spine/chest/neck/head"), s.Study.Frame(40)))
	if gx, gy := l[12]*q(0)/-q(2)-l[13], l[12]*q(1)/-q(2)-l[14]; !ok || math.Abs(gx-x) > 1e-4 || math.Abs(gy-y) > 1e-4 {
		t.Errorf("at %g %g, want %g %g", gx, gy, x, y)
	}
}

// Notes are aimed at what they speak of.
func TestAim(t *testing.T) {
	f := decoded(t, demoShot(t, "deckhand_spline.usda"))
	for check, want := range map[string]struct {
		part, track string
		whole       bool
	}{
		"even-spacing":    {"head", "head", false},
		"flat-arc":        {"forearm_l", "hand_tip_l", false},
		"sliding-contact": {"shin_l", "toe_tip_l", false},
		"frozen-hold":     {"Tug", "Tug", true},
		"hitch":           {"hips", "hips", false},
	} {
		found := false
		for _, n := range f.Notes {
			if n.Check == check {
				found = true
				if got := f.Now.Parts[n.Column].Name; got != want.part {
					t.Errorf("%s is on %s, want %s", check, got, want.part)
				}
				if got := f.Now.Parts[n.Track].Name; got != want.track || n.Whole != want.whole {
					t.Errorf("%s marks the path of %s, whole %v; want %s, %v", check, got, n.Whole, want.track, want.whole)
				}
			}
		}
		if !found {
			t.Errorf("no note of %s", check)
		}
	}
}

// Lines are drawn between joints, not from what only places a figure and not
// between machines.
func TestSticks(t *testing.T) {
	f := decoded(t, demoShot(t, "deckhand_spline.usda"))
	for path, want := range map[string]bool{"/Tug": false, "/Tug/hips": false, "/Tug/hips/spine": true, "/Tug/hips/thigh_l": true,
		"/Gull/torso": false, "/Gull/torso/neck": true, "/Shot/deck/winch": false} {
		if got := f.Now.Parts[column(t, f, path)].Stick; got != want {
			t.Errorf("a line to %s: %v, want %v", path, got, want)
		}
	}
	b := decoded(t, demoShot(t, "deckhand_spline.bvh"))
	sticks := 0
	for _, p := range b.Now.Parts {
		if p.Stick {
			sticks++
		}
	}
	if sticks < 20 {
		t.Errorf("%d lines in BVH", sticks)
	}
}

// Names in a scene cannot break out of the page.
func TestHostileNames(t *testing.T) {
	sc := strings.ReplaceAll(winch, "drum", "</script><script>alert(1)</script><!--")
	s := studied(t, "a</script>\x1b[31m.bvh", []byte(sc), settings(t))
	var b bytes.Buffer
	if err := Write(t.Context(), &b, "<b>&", s); err != nil {
		t.Fatal(err)
	}
	if strings.Contains(b.String(), "<script>alert") || strings.Contains(b.String(), "<b>&") || strings.Count(b.String(), "<!--") > 0 {
		t.Error("a name ends an element")
	}
}

const winch = "HIERARCHY\nROOT drum\n{\n OFFSET 0 0 0\n CHANNELS 3 Xposition Yposition Zposition\n End Site\n {\n  OFFSET 0 1 0\n }\n}\n" +
	"MOTION\nFrames: 4\nFrame Time: 0.0416667\n0 0 0\n1 0 0\n2 1 0\n3 0 0\n"

// A file without motion, and one that is no scene at all, give a page of notes.
func TestNoMotion(t *testing.T) {
	for _, text := range []string{"", "HIERARCHY\n", strings.Replace(winch, "4\nFrame", "0\nFrame", 1)} {
		f := decoded(t, studied(t, "a.bvh", []byte(text), settings(t)))
		if f.Now != nil && f.Now.Count == 0 {
			t.Errorf("%q: motion of no frames", text)
		}
	}
	e, err := EncodeFile(&report.File{Path: "x/curvelint.toml", Notes: []report.Note{{Check: "config", Message: "m"}}})
	if err != nil || !strings.Contains(string(e), `"now":null`) {
		t.Errorf("%s, %v", e, err)
	}
}

// A path with no numbers in it packs to numbers.
func TestColumnsOfNaN(t *testing.T) {
	nan := float32(math.NaN())
	if low, step := spread([]float32{nan, nan}); low != 0 || step != 0 {
		t.Error(low, step)
	}
	low, step := spread([]float32{1, nan, 3})
	if low != 1 || stepsAbove(nan, low, step) != 0 || stepsAbove(3, low, step) != math.MaxUint16 {
		t.Error(low, step)
	}
	if floats(t, pack([]float32{nan, 2}))[1] != 2 {
		t.Error("pack")
	}
}

// A page of 64 joints and 1,000 frames is below 3 MB, with an earlier pass too.
func TestSize(t *testing.T) {
	var b bytes.Buffer
	if err := write.BVH(&b, designed.Bake(64, 1000)); err != nil {
		t.Fatal(err)
	}
	s := studied(t, "bake.bvh", b.Bytes(), settings(t))
	s.Before, s.BeforeNotes = s.Study, s.Notes
	var out bytes.Buffer
	if err := Write(t.Context(), &out, "bake", s); err != nil {
		t.Fatal(err)
	}
	if out.Len() >= 3_000_000 {
		t.Errorf("%d bytes", out.Len())
	}
}

// Of a crowd too large for a page, the parts near the roots are kept.
func TestTooMany(t *testing.T) {
	s := demoShot(t, "deckhand_spline.usda").Study
	c := newStage(s)
	c.limit(10)
	if len(c.parts) != 10 || c.leftOut == 0 {
		t.Fatal(len(c.parts), c.leftOut)
	}
	for _, p := range c.parts {
		if strings.Count(s.Scene.Parts[p].Path, "/") > 3 {
			t.Errorf("%s is kept", s.Scene.Parts[p].Path)
		}
	}
}

// Every scene that the repository ships, broken ones too, has a form with as many
// numbers as it says.
func TestEveryFile(t *testing.T) {
	seen := map[string]int{}
	err := filepath.WalkDir("../../testdata", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		if !slices.Contains(parse.Extensions(), filepath.Ext(name)) {
			return nil
		}
		text, err := os.ReadFile(name)
		if err != nil {
			return err
		}
		s := studied(t, name, text, settings(t))
		f := decoded(t, s)
		seen[f.Format]++
		if f.Now == nil {
			if len(s.Study.Figures()) > 0 && s.Study.N > 0 {
				t.Errorf("%s: nothing of it is drawn", name)
			}
			return nil
		}
		k := f.Now
		steps, err := base64.StdEncoding.DecodeString(k.Steps)
		if err != nil || len(steps) != 6*len(k.Parts)*k.Count || len(floats(t, k.Roots)) != 3*len(k.Figures)*k.Count || len(floats(t, k.Scale)) != 6*len(k.Parts) {
			t.Errorf("%s: %d bytes of steps for %d parts and %d frames, %v", name, len(steps), len(k.Parts), k.Count, err)
		}
		for i, p := range k.Parts {
			if p.Up >= i || p.Figure >= len(k.Figures) {
				t.Errorf("%s: %+v is out of order", name, p)
			}
		}
		for _, n := range f.Notes {
			if n.Column >= len(k.Parts) || n.Track >= len(k.Parts) || n.Column >= 0 && n.Track < 0 {
				t.Errorf("%s: %+v is on nothing", name, n)
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	for _, format := range []string{"usda", "bvh", "gltf", "collada", "x3d", "table"} {
		if seen[format] == 0 {
			t.Errorf("no file in %s: %v", format, seen)
		}
	}
}

// A file that claims to be endless gives a page of a bounded size.
func TestEndless(t *testing.T) {
	for _, last := range []string{"900000", "90000000"} {
		text := "#usda 1.0\n(\n    startTimeCode = 1\n    endTimeCode = " + last + "\n)\n"
		for _, name := range []string{"gull", "winch", "drum"} {
			text += "def Xform \"" + name + "\" {\n    double3 xformOp:translate.timeSamples = { 1: (0,0,0), 9: (1,2,3) }\n    uniform token[] xformOpOrder = [\"xformOp:translate\"]\n}\n"
		}
		s, fault := diagnostics.Judge{Config: settings(t)}.Study(diagnostics.Read("a.usda", []byte(text), settings(t), nil))
		if fault != nil {
			t.Fatal(fault)
		}
		b, err := Encode(t.Context(), &Shot{Study: s})
		if err != nil || len(b) > 30_000_000 {
			t.Errorf("to %s: %d bytes, %v", last, len(b), err)
		}
	}
}

// An earlier pass in other units lies where the later one does: glTF is in
// metres, the demo in centimetres.
// A scene with Z up is turned onto one with Y up: what was in front stays there.
// Captured motion of somebody else is compared by its timing and not drawn.
