package diagnostics

import (
	"context"
	"slices"
	"strings"
	"testing"

	"curvelint/diagnostics/checks/kit"
	"curvelint/diagnostics/config"
	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/note"
	"curvelint/parse/scene"

	"github.com/google/go-cmp/cmp"
)

func TestRunOrdersNotes(t *testing.T) {
	sc := scenery(t)
	sc.Problems = []scene.Problem{
		{Kind: scene.PartialExport, Span: scene.Span{Start: 20, End: 21}, Message: "late"},
		{Kind: scene.Syntax, Span: scene.Span{Start: 3, End: 4}, Message: "early"},
	}
	invent(t,
		saying("x-second", note.Warning, on(sc, hand, 30, 40, 1), on(sc, hips, 30, 40, 1), on(sc, gull, 5, 9, 1)),
		saying("x-first", note.Information, on(sc, hips, 30, 40, 1)))
	r := Judge{Config: &config.Config{}}.Scene(t.Context(), sc)
	want := []string{
		"syntax", "partial-export",
		"x-second /Gull 5-9", "x-first /Tug/hips 30-40", "x-second /Tug/hips 30-40", "x-second /Tug/hips/chest/hand 30-40",
	}
	if d := cmp.Diff(want, brief(r.Notes)); d != "" {
		t.Error(d)
	}
	if !r.Complete || r.Notes[0].Severity != note.Error || r.Notes[1].Severity != note.Warning || r.Notes[3].Severity != note.Information {
		t.Errorf("severities: %+v", r.Notes)
	}
}

func TestSeverities(t *testing.T) {
	sc := scenery(t)
	sc.Problems = []scene.Problem{{Kind: scene.Unsupported, Message: "skipped"}, {Kind: scene.MissingFile, Message: "missing"}}
	invent(t, saying("x-off", note.Warning, on(sc, hips, 1, 2, 1)), saying("x-hint", note.Warning, on(sc, hips, 1, 2, 1)))
	cfg := configured(t, `
[checks.x-off]
severity = "off"
[checks.x-hint]
severity = "hint"
[checks.unsupported]
severity = "off"
[checks.missing-file]
severity = "information"
`)
	r := Judge{Config: cfg}.Scene(t.Context(), sc)
	if d := cmp.Diff([]string{"missing-file", "x-hint /Tug/hips 1-2"}, brief(r.Notes)); d != "" {
		t.Error(d)
	}
	if r.Notes[0].Severity != note.Information || r.Notes[1].Severity != note.Hint {
		t.Errorf("severities: %v, %v", r.Notes[0].Severity, r.Notes[1].Severity)
	}
}

func TestSettingsReachTheCheck(t *testing.T) {
	var depth float64
	c := saying("x-set", note.Warning)
	setting := &kit.Number{Name: "depth", Unit: "ratio", Default: 0.5, Max: 1}
	c.Settings = []kit.Setting{setting}
	c.Run = func(k *kit.Context) []note.Note { depth = setting.In(k); return nil }
	invent(t, c)
	Judge{Config: configured(t, "[checks.x-set]\ndepth = 0.25")}.Scene(t.Context(), scenery(t))
	if depth != 0.25 {
		t.Errorf("depth %g, want 0.25", depth)
	}
}

func TestSelection(t *testing.T) {
	sc := scenery(t)
	sc.Problems = []scene.Problem{{Kind: scene.Syntax, Message: "broken"}, {Kind: scene.MissingFile, Message: "missing"}}
	general := saying("x-general", note.Warning, on(sc, hips, 10, 20, 1), on(sc, gull, 10, 20, 1))
	general.YieldsTo = []string{"x-special"}
	invent(t, general, saying("x-special", note.Warning, on(sc, hips, 10, 20, 1)), saying("x-other", note.Warning, on(sc, hips, 1, 2, 1)))
	tests := []struct {
		sel  Selection
		want []string
	}{
		{Selection{Only: []string{"x-general"}}, []string{"syntax", "x-general /Gull 10-20"}},
		{Selection{Only: []string{"x-special"}}, []string{"syntax", "x-special /Tug/hips 10-20"}},
		{Selection{Skip: []string{"x-special", "syntax", "x-other"}}, []string{"missing-file", "x-general /Gull 10-20"}},
	}
	for _, tt := range tests {
		r := Judge{Selection: tt.sel}.Notes(t.Context(), study(sc, &config.Config{}))
		if d := cmp.Diff(tt.want, brief(r.Notes)); d != "" {
			t.Errorf("%+v: %s", tt.sel, d)
		}
	}
	if err := (Selection{Only: []string{"x-other"}}).Validate(); err != nil {
		t.Error(err)
	}
	if err := (Selection{Skip: []string{"x-nothing"}}).Validate(); err == nil || !strings.Contains(err.Error(), "curvelint explain") {
		t.Errorf("an unknown check gives %v", err)
	}
}

func TestJudgedRange(t *testing.T) {
	sc := scenery(t)
	invent(t, saying("x-check", note.Warning,
		on(sc, hips, 1, 8, 1),        // in the first handle
		on(sc, chest, 5, 20, 1),      // mostly inside
		on(sc, head, 1, 12, 1),       // mostly in the handle
		on(sc, hand, 1, 96, 1),       // the whole clip
		on(sc, gull, 90, 96, 1),      // in the last handle
		on(sc, wing, 40.5, 40.5, 1))) // between two frames
	tests := []struct {
		toml string
		want []scene.PartID
	}{
		{"", []scene.PartID{hips, head, hand, chest, wing, gull}},
		{"handles = 8", []scene.PartID{hand, chest, wing}},
		{`frames = "20-41"`, []scene.PartID{hand, chest, wing}},
		{`frames = "21-40"`, []scene.PartID{hand}},
		{"handles = 60", nil},
	}
	for _, tt := range tests {
		var want []string
		for _, p := range tt.want {
			want = append(want, sc.Parts[p].Path)
		}
		var got []string
		for _, n := range (Judge{Config: configured(t, tt.toml)}).Scene(t.Context(), sc).Notes {
			got = append(got, n.Part)
		}
		if d := cmp.Diff(want, got); d != "" {
			t.Errorf("%s: %s", tt.toml, d)
		}
	}
}

// What the whole clip has one note for has no other note in a part of the clip.
func TestRangeIsTakenAfterOneCauseIsOneNote(t *testing.T) {
	sc := scenery(t)
	general := saying("x-general", note.Warning, on(sc, head, 30, 40, 9), on(sc, gull, 36, 40, 9))
	general.YieldsTo = []string{"x-special"}
	invent(t, general, saying("x-special", note.Warning, on(sc, head, 25, 33, 1)),
		saying("x-heaviest", note.Warning, on(sc, hips, 20, 26, 2), on(sc, hips, 22, 40, 1)))
	tests := []struct {
		toml string
		want []string
	}{
		{"", []string{"x-special /Tug/hips/chest/head 25-33", "x-heaviest /Tug/hips 20-26", "x-general /Gull 36-40"}},
		{`frames = "30-50"`, []string{"x-special /Tug/hips/chest/head 25-33", "x-general /Gull 36-40"}},
		{`frames = "35-50"`, []string{"x-general /Gull 36-40"}},
		{`frames = "1-24"`, []string{"x-heaviest /Tug/hips 20-26"}},
	}
	for _, tt := range tests {
		whole := brief(Judge{Config: &config.Config{}}.Scene(t.Context(), sc).Notes)
		got := brief(Judge{Config: configured(t, tt.toml)}.Scene(t.Context(), sc).Notes)
		if d := cmp.Diff(sorted(tt.want), sorted(got)); d != "" {
			t.Errorf("%s: %s", tt.toml, d)
		}
		for _, n := range got {
			if !slices.Contains(whole, n) {
				t.Errorf("%s: %s, which the whole clip has not", tt.toml, n)
			}
		}
	}
}

// sorted returns the lines in order.
func sorted(lines []string) []string { return slices.Sorted(slices.Values(lines)) }

func TestFaultsBecomeNotes(t *testing.T) {
	PanicOnBugs(false)
	defer PanicOnBugs(true)
	sc := scenery(t)
	crash := saying("x-crash", note.Warning)
	crash.Run = func(*kit.Context) []note.Note { return []note.Note{{Part: sc.Parts[len(sc.Files)+100].Path}} }
	outside := on(sc, hips, 1, 2, 1)
	outside.Span.End = 1 << 20
	invent(t, crash, saying("x-outside", note.Warning, outside), saying("x-sound", note.Warning, on(sc, hips, 1, 2, 1)))
	r := Judge{Config: &config.Config{}}.Scene(t.Context(), sc)
	if d := cmp.Diff([]string{"internal", "internal", "x-sound /Tug/hips 1-2"}, brief(r.Notes)); d != "" {
		t.Fatal(d)
	}
	if m := r.Notes[0].Message; !strings.Contains(m, "the check x-crash failed") || !strings.Contains(m, "run_test.go:") {
		t.Errorf("message %q does not say which check failed and where", m)
	}
	if m := r.Notes[1].Message; !strings.Contains(m, "x-outside") {
		t.Errorf("message %q does not say which check failed", m)
	}
}

func TestFaultOfTheStudy(t *testing.T) {
	PanicOnBugs(false)
	defer PanicOnBugs(true)
	sc := scenery(t)
	sc.Problems = []scene.Problem{{Kind: scene.MissingFile, Message: "missing"}}
	sc.Channels = []scene.Channel{{Part: 1000}} // no parser does this
	r := Judge{Config: &config.Config{}}.Scene(t.Context(), sc)
	if d := cmp.Diff([]string{"internal", "missing-file"}, brief(r.Notes)); d != "" {
		t.Error(d)
	}
	if r.Study == nil {
		t.Error("no study at all")
	}
}

func TestFaultsEndTests(t *testing.T) {
	crash := saying("x-crash", note.Warning)
	crash.Run = func(*kit.Context) []note.Note { panic("deck") }
	defer func() {
		if recover() == nil {
			t.Error("a fault was hidden from the tests")
		}
	}()
	runCheck(t.Context(), study(scenery(t), &config.Config{}), &config.Config{}, crash)
}

func TestCancelled(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	sc := scenery(t)
	sc.Problems = []scene.Problem{{Kind: scene.Syntax, Message: "broken"}}
	invent(t, saying("x-check", note.Warning, on(sc, hips, 1, 2, 1)))
	r := Judge{Config: &config.Config{}}.Scene(ctx, sc)
	if r.Complete {
		t.Error("a cancelled run calls itself complete")
	}
	if d := cmp.Diff([]string{"syntax"}, brief(r.Notes)); d != "" {
		t.Error(d)
	}
}

// A blocked figure is silent about spacing, the other figure is not.
func TestBlockedFigureIsSilent(t *testing.T) {
	sc := scenery(t)
	for _, p := range []scene.PartID{tug, hips, chest, head, hand} {
		sc.Parts[p].Ops = []scene.Op{{Kind: scene.RotateX, Value: []float64{0}}}
		sc.Channels = append(sc.Channels, scene.Channel{Part: p, Name: "rotateX", Quantity: scene.Angle, Def: sc.Parts[p].Def, Curve: scene.Curve{
			Stride: 1, Default: scene.Held, Times: []float64{1, 24, 48, 72, 96}, Values: []float64{0, 20, 5, 30, 10}}})
	}
	sc = turning(sc, gull, 20, 40)
	sc.Parts[tug].Figure, sc.Parts[gull].Figure = true, true
	spacing := saying("x-spacing", note.Warning, on(sc, head, 10, 20, 1), on(sc, gull, 10, 20, 1))
	spacing.SilentWhenBlocked = true
	invent(t, spacing, saying("x-contact", note.Warning, on(sc, head, 10, 20, 1)))
	r := Judge{Config: &config.Config{}}.Scene(t.Context(), sc)
	want := []string{"still-blocked /Tug 1-96", "x-contact /Tug/hips/chest/head 10-20", "x-spacing /Gull 10-20"}
	if d := cmp.Diff(want, brief(r.Notes)); d != "" {
		t.Error(d)
	}
	quiet := Judge{Config: configured(t, "[checks.still-blocked]\nseverity = \"off\"")}.Scene(t.Context(), sc)
	if d := cmp.Diff(want[1:], brief(quiet.Notes)); d != "" {
		t.Error(d)
	}
	if c := len(r.Notes[0].Message); c > 140 {
		t.Errorf("the message has %d characters, more than 140", c)
	}
}

// Every word of the configuration reaches the study.
func TestStudyOptions(t *testing.T) {
	o := StudyOptions(configured(t, `
frames = "10-20"
step = 2
camera = "/cam"
focus = "wing"
floor = 1.5
handles = 3
aspect = 2
lead = ["eyes"]
loop = true
[groups]
brows = "*brow*"
[[part]]
match = "/winch/**"
kind = "mechanical"
carrier = "/deck"
[[chain]]
match = "*rope*"
`))
	if !o.Groups[0].Match("/a/brow") || !o.Parts[0].Match("/winch/drum") || !o.Chains[0].Match("/rope1") {
		t.Error("a pattern does not match")
	}
	if o.Parts[0].Nature != motion.Mechanical || o.Parts[0].Carrier != "/deck" || o.Groups[0].Name != "brows" {
		t.Errorf("rules: %+v", o)
	}
	o.Groups, o.Parts, o.Chains = nil, nil, nil
	want := motion.Options{Focus: "wing", Lead: []string{"eyes"}, Floor: 1.5, HasFloor: true, Step: 2, Loop: true,
		Camera: "/cam", Aspect: 2, First: 10, Last: 20, HasRange: true, Handles: 3}
	if d := cmp.Diff(want, o); d != "" {
		t.Error(d)
	}
}

// The same input gives the same notes, however the checks take turns.
func TestDeterministic(t *testing.T) {
	sc := scenery(t)
	var list []*kit.Check
	for _, id := range []string{"x-a", "x-b", "x-c", "x-d"} {
		list = append(list, saying(id, note.Warning, on(sc, hand, 3, 9, 1), on(sc, head, 3, 9, 2), on(sc, head, 3, 8, 2)))
	}
	invent(t, list...)
	first := Judge{Config: &config.Config{}}.Scene(t.Context(), sc).Notes
	for range 50 {
		if d := cmp.Diff(first, (Judge{Config: &config.Config{}}).Scene(t.Context(), sc).Notes); d != "" {
			t.Fatal(d)
		}
	}
}
