package passes_test

import (
	"bytes"
	"io"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"curvelint/cmd/lab/designed"
	"curvelint/cmd/lab/designed/write"
	"curvelint/diagnostics"
	"curvelint/diagnostics/config"
	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/note"
	"curvelint/diagnostics/passes"
)

func TestMain(m *testing.M) {
	diagnostics.PanicOnBugs(true)
	os.Exit(m.Run())
}

const demo = "../../testdata/demo"

// settings are those of the demo.
func settings(t *testing.T) *config.Config {
	t.Helper()
	c, err := config.Load(filepath.Join(demo, "curvelint.toml"), diagnostics.Schema())
	if err != nil || len(c.Problems) > 0 {
		t.Fatal(err, c.Problems)
	}
	return c
}

// pass is a study with its notes.
type pass struct {
	study *motion.Study
	notes []note.Note
}

func read(t *testing.T, name string, text []byte, cfg *config.Config) pass {
	t.Helper()
	s, fault := diagnostics.Judge{Config: cfg}.Study(diagnostics.Read(name, text, cfg, nil))
	if fault != nil || s.N == 0 {
		t.Fatalf("%s: %d frames, %v", name, s.N, fault)
	}
	return pass{s, diagnostics.Judge{Config: cfg, Selection: diagnostics.Selection{}}.Notes(t.Context(), s).Notes}
}

// shot reads a file of the demo.
func shot(t *testing.T, name string) pass {
	t.Helper()
	return read(t, name, demoText(t, name), settings(t))
}

func demoText(t *testing.T, name string) []byte {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(demo, filepath.FromSlash(name)))
	if err != nil {
		t.Fatal(err)
	}
	return text
}

// compared holds two studies against each other.
func compared(t *testing.T, before, after *motion.Study, notesBefore, notesAfter []note.Note, o passes.Options) *passes.Comparison {
	t.Helper()
	c, err := passes.Compare(t.Context(), before, after, notesBefore, notesAfter, o)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func compare(t *testing.T, a, b pass, o passes.Options) *passes.Comparison {
	t.Helper()
	return compared(t, a.study, b.study, a.notes, b.notes, o)
}

func part(t *testing.T, c *passes.Comparison, path string) *passes.Part {
	t.Helper()
	for i := range c.Parts {
		if strings.HasSuffix(c.Parts[i].Path, path) {
			return &c.Parts[i]
		}
	}
	t.Fatalf("nothing is said of %s", path)
	return nil
}

// quantity returns a measure of the move of a part that covers a frame.
func quantity(t *testing.T, p *passes.Part, m passes.Motion, frame float64, name string) passes.Quantity {
	t.Helper()
	for i := range p.Moves {
		k := &p.Moves[i]
		if k.Motion != m || frame < k.First || frame > k.Last {
			continue
		}
		for _, q := range k.Quantities {
			if q.Name == name {
				return q
			}
		}
	}
	t.Fatalf("%s: no %s of the %s at %g", p.Name, name, m, frame)
	return passes.Quantity{}
}

// What the designer planted in the earlier pass and took out in the polish is what
// is said, with the numbers of the notes; the timing is unchanged.
func TestSplineToPolish(t *testing.T) {
	a, b := shot(t, "deckhand_spline.usda"), shot(t, "deckhand_polish.usda")
	c := compare(t, a, b, passes.Options{})
	if !c.SameTiming() || c.Shift != 0 || len(c.Beats) != 0 {
		t.Errorf("timing changed: shift %g, beats %+v", c.Shift, c.Beats)
	}
	hand := part(t, c, "/hand_tip_l")
	arc := quantity(t, hand, passes.Path, 1006, "arc-depth")
	if !arc.Changed || arc.Was > 0.02 || arc.Became < 0.15 {
		t.Errorf("arc of the reach: %+v, want from straight to deep", arc)
	}
	head := part(t, c, "/neck/head")
	even := quantity(t, head, passes.Turn, 1040, "spacing-contrast")
	// The planted turn wavers by 1 %; the middle half of a minimum-jerk move,
	// whose speed is 30 s^2 (1-s)^2, has a contrast of (1.875 - 1.0547) / 1.586 = 0.52
	// in the limit of many spacings.
	if !even.Changed || even.Was > 0.03 || math.Abs(even.Became-0.52) > 0.2 {
		t.Errorf("spacing contrast of the look: %+v", even)
	}
	if c.Parts[0].Path != head.Path && c.Parts[0].Path != hand.Path {
		t.Errorf("%s is told first", c.Parts[0].Path)
	}
	var fixed, planted []string
	for _, n := range c.Notes.Fixed {
		fixed = append(fixed, n.Check)
	}
	for _, l := range designed.Deckhand(designed.SplinePass).Labels {
		planted = append(planted, l.Check)
	}
	slices.Sort(fixed)
	slices.Sort(planted)
	if !slices.Equal(fixed, planted) || len(c.Notes.Remaining)+len(c.Notes.New) != 0 {
		t.Errorf("fixed %v, want %v; remaining %v, new %v", fixed, planted, c.Notes.Remaining, c.Notes.New)
	}
	// The whole figure stood dead on frames 1047-1058; now it drifts.
	if len(c.Holds) != 1 || c.Holds[0].First != 1047 || c.Holds[0].Last != 1058 || !c.Holds[0].Gone || c.Holds[0].Drift.Was > 1e-6 || c.Holds[0].Drift.Became < 0.002 {
		t.Errorf("holds: %+v", c.Holds)
	}
	// The lids follow the brows by two frames, at each of three changes.
	follow := 0
	for _, o := range c.Orders {
		was, became := behind(o.Was, "lids")-behind(o.Was, "brows"), behind(o.Became, "lids")-behind(o.Became, "brows")
		if was == 0 && became >= 2 && became <= 3 {
			follow++
		}
	}
	if follow != 3 {
		t.Errorf("lids follow in %d of 3 beats: %+v", follow, c.Orders)
	}
}

func behind(list []passes.Lead, group string) float64 {
	for _, l := range list {
		if l.Group == group {
			return l.Behind
		}
	}
	return math.NaN()
}

// Backwards, everything is new that was fixed.
func TestNewNotes(t *testing.T) {
	a, b := shot(t, "deckhand_polish.usda"), shot(t, "deckhand_spline.usda")
	n, err := passes.NewNotes(t.Context(), a.study, b.study, a.notes, b.notes)
	if err != nil {
		t.Fatal(err)
	}
	if len(n.New) != len(b.notes) || len(n.Fixed)+len(n.Remaining) != 0 {
		t.Errorf("%d new, %d fixed, %d remaining", len(n.New), len(n.Fixed), len(n.Remaining))
	}
	n, err = passes.NewNotes(t.Context(), b.study, b.study, b.notes, b.notes)
	if err != nil {
		t.Fatal(err)
	}
	if len(n.Remaining) != len(b.notes) || len(n.Fixed)+len(n.New) != 0 {
		t.Errorf("with itself: %d new, %d fixed, %d remaining", len(n.New), len(n.Fixed), len(n.Remaining))
	}
}

// The look at the gull comes two frames sooner and nothing else is said.
func TestPolishToRetimed(t *testing.T) {
	c := compare(t, shot(t, "deckhand_polish.usda"), shot(t, "deckhand_retimed.usda"), passes.Options{})
	if c.SameTiming() || c.Shift != 0 || len(c.Beats) != 1 {
		t.Fatalf("shift %g, beats %+v", c.Shift, c.Beats)
	}
	b := &c.Beats[0]
	if b.String() != "arrives 2 frames sooner" || math.Abs(b.Start+2) > 0.25 || math.Abs(b.Arrival+2) > 0.25 {
		t.Errorf("the beat %s: %g, %g", b, b.Start, b.Arrival)
	}
	// Designed on frames 1031 (brows) to 1049-1051 (neck, chest), two sooner now.
	if b.Was[0] != 1031 || math.Abs(b.Was[1]-1050) > 2 || b.First != 1029 {
		t.Errorf("frames %g-%g, were %v", b.First, b.Last, b.Was)
	}
	for _, g := range []string{"brows", "lids", "eyes", "head", "neck"} {
		if !slices.Contains(b.Groups, g) {
			t.Errorf("%s is not in the beat %v", g, b.Groups)
		}
	}
	if len(c.Parts)+len(c.Orders)+len(c.Holds) != 0 || len(c.Notes.New)+len(c.Notes.Fixed) != 0 {
		t.Errorf("more is said: %+v %+v %+v", c.Parts, c.Orders, c.Holds)
	}
	if s := passes.PartChange(c, "/Tug/hips/spine/chest/neck/head"); s != "1029-1047: arrives 2 frames sooner" {
		t.Errorf("of the head: %q", s)
	}
	for frame, want := range map[float64]string{1035: "1029-1047: arrives 2 frames sooner", 1060: ""} {
		if s := passes.PartChangeAt(c, "/Tug/hips/spine/chest/neck/head", frame); s != want {
			t.Errorf("of the head on frame %g: %q, want %q", frame, s, want)
		}
	}
}

// A pass against itself, also in another format, has changed nothing.
func TestSameInEveryFormat(t *testing.T) {
	for _, name := range []string{"polish", "spline"} {
		a := shot(t, "deckhand_"+name+".usda")
		for _, other := range []string{"deckhand_" + name + ".usda", "deckhand_" + name + ".bvh", "formats/deckhand_" + name + ".gltf",
			"formats/deckhand_" + name + ".dae", "formats/deckhand_" + name + ".x3d", "formats/deckhand_" + name + ".csv"} {
			b := shot(t, other)
			c := compared(t, a.study, b.study, nil, nil, passes.Options{})
			if !c.Empty() || c.Compared < 100 {
				t.Errorf("%s against %s: %d compared, parts %d, beats %d, orders %d, holds %d, gone %v, new %v",
					other, a.study.Scene.Files[0].Path, c.Compared, len(c.Parts), len(c.Beats), len(c.Orders), len(c.Holds), c.Gone, c.New)
			}
		}
	}
}

// retime takes the polish with the frame that a time map gives at each frame.
func retime(t *testing.T, at func(frame float64) float64, wr func(io.Writer, *designed.Take) error, name string) pass {
	t.Helper()
	const per = 8
	fine := designed.Deckhand(designed.PolishPass).TakeBetween(24, per)
	take := designed.Deckhand(designed.PolishPass).Take(24)
	for i := range take.Rows {
		r, from := &take.Rows[i], &fine.Rows[i]
		for f := range take.N {
			j := int(math.Round(per * min(max(at(float64(f)), 0), float64(take.N-1))))
			if r.Move != nil {
				r.Move[f], r.Turn[f] = from.Move[j], from.Turn[j]
			}
			if r.Size != nil {
				r.Size[f] = from.Size[j]
			}
			if r.Value != nil {
				r.Value[f] = from.Value[j]
			}
		}
	}
	var b bytes.Buffer
	if err := wr(&b, take); err != nil {
		t.Fatal(err)
	}
	return read(t, name, b.Bytes(), settings(t))
}

// Everything three frames later is one line and nothing else.
func TestShifted(t *testing.T) {
	a := shot(t, "deckhand_polish.usda")
	for _, by := range []float64{3, -2, 12} {
		b := retime(t, func(f float64) float64 { return f - by }, write.USDA, "shifted.usda")
		c := compare(t, a, b, passes.Options{})
		if c.Shift != by || len(c.Beats)+len(c.Parts)+len(c.Orders)+len(c.Holds) != 0 {
			t.Errorf("shifted by %g: %g, beats %d, parts %d, orders %d, holds %d", by, c.Shift, len(c.Beats), len(c.Parts), len(c.Orders), len(c.Holds))
		}
		if was := c.WasAt(1040); math.Abs(was-(1040-by)) > 1e-6 {
			t.Errorf("shifted by %g: frame 1040 stands against %g", by, was)
		}
		if by == 3 && c.ShiftLine() != "everything 3 frames later" {
			t.Error(c.ShiftLine())
		}
	}
}

// A pass that was re-timed in the middle has changed in the middle.
func TestRetimedInTheMiddle(t *testing.T) {
	a := shot(t, "deckhand_polish.usda")
	// Frames 1055 to 1081 come up to three frames later, smoothly.
	b := retime(t, func(f float64) float64 {
		if f <= 52 || f >= 82 {
			return f
		}
		return f - 1.5*(1-math.Cos(2*math.Pi*(f-52)/30))
	}, write.USDA, "middle.usda")
	c := compare(t, a, b, passes.Options{})
	if c.SameTiming() || c.Shift != 0 || len(c.Beats) == 0 {
		t.Fatalf("shift %g, beats %+v", c.Shift, c.Beats)
	}
	for i := range c.Beats {
		if k := &c.Beats[i]; k.First < 1050 || k.Last > 1086 || k.Start < -0.25 || k.Arrival < -0.25 || k.Arrival > 3.5 {
			t.Errorf("%g-%g %s", k.First, k.Last, k)
		}
	}
	for i := range c.Parts {
		for j := range c.Parts[i].Moves {
			if m := &c.Parts[i].Moves[j]; m.Last < 1053 || m.First > 1083 {
				t.Errorf("%s: %s", c.Parts[i].Name, m)
			}
		}
	}
}
