package diagnostics

import (
	"os"
	"slices"
	"strings"
	"testing"

	"curvelint/diagnostics/checks"
	"curvelint/diagnostics/checks/kit"
	"curvelint/diagnostics/config"
	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/note"
	"curvelint/parse/scene"
)

func TestMain(m *testing.M) {
	PanicOnBugs(true)
	os.Exit(m.Run())
}

// shot is the text of the scene that these tests judge; each part stands on its
// line.
const shot = "/Tug\n/Tug/hips\n/Tug/hips/chest\n/Tug/hips/chest/head\n/Tug/hips/chest/hand\n/Gull\n/Gull/wing\n"

// scenery is a scene of 96 frames at 24 with the parts of shot and no motion
// but that of the head's turn, which runs from frame 30 to 40 by default.
func scenery(t testing.TB) *scene.Scene {
	t.Helper()
	sc := &scene.Scene{
		Format: "usda", Files: []*scene.File{{Path: "tug.usda", Text: []byte(shot)}},
		Rate: 24, RateKnown: true, First: 1, Last: 96, RangeKnown: true, DefaultCamera: scene.NoPart,
	}
	at := 0
	for i, path := range strings.Fields(shot) {
		p := scene.Part{ID: scene.PartID(i), Parent: scene.NoPart, Path: path, Name: path[strings.LastIndexByte(path, '/')+1:],
			Def: scene.Span{Start: uint32(at), End: uint32(at + len(path))}}
		for j := range sc.Parts {
			if strings.HasPrefix(path, sc.Parts[j].Path+"/") {
				p.Parent = scene.PartID(j)
			}
		}
		sc.Parts = append(sc.Parts, p)
		at += len(path) + 1
	}
	return sc
}

// turning gives a part a turn about Y from one frame to another, eased at both
// ends as minimum jerk is: 10s^3 - 15s^4 + 6s^5.
func turning(sc *scene.Scene, part scene.PartID, first, last float64) *scene.Scene {
	turned := *sc
	turned.Parts = slices.Clone(sc.Parts)
	turned.Parts[part].Ops = []scene.Op{{Kind: scene.RotateY, Name: "rotateY", Value: []float64{0}}}
	c := scene.Channel{Part: part, Op: 0, Name: "rotateY", Quantity: scene.Angle, Def: sc.Parts[part].Def,
		Curve: scene.Curve{Stride: 1, Default: scene.Linear}}
	for f := sc.First; f <= sc.Last; f++ {
		s := min(max((f-first)/(last-first), 0), 1)
		c.Curve.Times = append(c.Curve.Times, f)
		c.Curve.Values = append(c.Curve.Values, 60*s*s*s*(10+s*(-15+6*s)))
	}
	turned.Channels = append(slices.Clone(sc.Channels), c)
	return &turned
}

// invent adds checks to the list for one test.
func invent(t *testing.T, list ...*kit.Check) {
	t.Helper()
	before := checks.All
	t.Cleanup(func() { checks.All = before })
	checks.All = append(slices.Clone(before), list...)
}

// saying is a check that gives fixed notes.
func saying(id string, severity note.Severity, notes ...note.Note) *kit.Check {
	return &kit.Check{ID: id, Severity: severity, Group: kit.Timing, Title: id, Doc: id,
		Run: func(*kit.Context) []note.Note { return slices.Clone(notes) }}
}

// on is a note about a part of scenery and frames.
func on(sc *scene.Scene, part scene.PartID, first, last, weight float64) note.Note {
	return note.Note{Part: sc.Parts[part].Path, PartID: part, Channel: scene.NoChannel, First: first, Last: last,
		Weight: weight, Span: sc.Parts[part].Def, Message: "invented"}
}

func configured(t *testing.T, src string) *config.Config {
	t.Helper()
	c := config.Parse("curvelint.toml", []byte(src), Schema())
	if len(c.Problems) > 0 {
		t.Fatalf("configuration: %+v", c.Problems)
	}
	return c
}

// brief writes notes as "check part first-last".
func brief(notes []note.Note) []string {
	var out []string
	for i := range notes {
		s := notes[i].Check
		if notes[i].Part != "" {
			s += " " + notes[i].Part
		}
		if notes[i].HasFrames() {
			s += " " + config.Frames{First: notes[i].First, Last: notes[i].Last}.String()
		}
		out = append(out, s)
	}
	return out
}

func study(sc *scene.Scene, cfg *config.Config) *motion.Study {
	return motion.New(sc, StudyOptions(cfg))
}

const (
	tug, hips, chest, head, hand, gull, wing = scene.PartID(0), scene.PartID(1), scene.PartID(2), scene.PartID(3), scene.PartID(4), scene.PartID(5), scene.PartID(6)
)
