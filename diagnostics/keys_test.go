package diagnostics_test

import (
	"bytes"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"curvelint/cmd/lab/designed"
	"curvelint/cmd/lab/designed/write"
	"curvelint/diagnostics"
	"curvelint/diagnostics/config"
	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/motion/body"
	"curvelint/diagnostics/note"
	"curvelint/parse/scene"
)

// haul is the earlier pass of the deckhand's shot.
func haul(t *testing.T) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := write.USDA(&b, designed.Deckhand(designed.SplinePass).Take(24)); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func parsed(t *testing.T, toml string) *config.Config {
	t.Helper()
	c := config.Parse("curvelint.toml", []byte(toml), diagnostics.Schema())
	for _, p := range c.Problems {
		t.Fatalf("%s: %s", toml[p.Span.Start:p.Span.End], p.Message)
	}
	return c
}

// given counts the notes of a check on the deckhand.
func given(r *diagnostics.Result, check string) int {
	n := 0
	for i := range r.Notes {
		if r.Notes[i].Check == check && strings.HasPrefix(r.Notes[i].Part, "/Tug") {
			n++
		}
	}
	return n
}

// tug is the deckhand.
func tug(r *diagnostics.Result) *motion.Figure {
	return r.Study.FigureOf(r.Study.Scene.Find("/Tug/hips"))
}

// Every key of the configuration does what README.md says it does.
func TestEveryKeyWorks(t *testing.T) {
	src := haul(t)
	path := func(r *diagnostics.Result, p scene.PartID) string { return r.Study.Scene.Parts[p].Path }
	tests := map[string]struct {
		toml string
		ok   func(r, plain *diagnostics.Result) bool
	}{
		"fps":         {`fps = 48`, func(r, _ *diagnostics.Result) bool { return r.Study.Rate == 48 }},
		"first_frame": {`first_frame = 1`, func(r, _ *diagnostics.Result) bool { return r.Study.First == 1 && r.Notes[0].First < 1000 }},
		"frames": {`frames = "1060-1096"`, func(r, p *diagnostics.Result) bool {
			return len(r.Notes) < len(p.Notes) && !slices.ContainsFunc(r.Notes, func(n note.Note) bool { return n.Last < 1060 })
		}},
		"handles": {`handles = 30`, func(r, p *diagnostics.Result) bool {
			return len(r.Notes) < len(p.Notes) && !slices.ContainsFunc(r.Notes, func(n note.Note) bool { return n.First < 1031 || n.Last > 1066 })
		}},
		"step": {`step = 2`, func(r, p *diagnostics.Result) bool {
			was, is := tug(p).PointTrack(1), tug(r).PointTrack(1)
			return was.GivenStep == 0 && is.GivenStep == 2
		}},
		"loop":   {`loop = true`, func(r, p *diagnostics.Result) bool { return given(p, "loop-seam") == 0 && given(r, "loop-seam") > 0 }},
		"camera": {`camera = "/elsewhere"`, func(r, p *diagnostics.Result) bool { return p.Study.View() != nil && r.Study.View() == nil }},
		"aspect": {`aspect = 0.5`, func(r, _ *diagnostics.Result) bool { return r.Study.View().Aspect == 0.5 }},
		"focus":  {`focus = "left arm"`, func(r, _ *diagnostics.Result) bool { return tug(r).FocusGroup().Name == "left arm" }},
		"floor":  {`floor = 12.0`, func(r, p *diagnostics.Result) bool { return given(r, "sunk-contact") > given(p, "sunk-contact") }},
		"lead": {`lead = ["chest", "eyes"]`, func(r, _ *diagnostics.Result) bool {
			return slices.Equal(r.Study.Options.Lead, []string{"chest", "eyes"})
		}},
		"groups": {"[groups]\nhat = [\"*brow*\", \"*lid*\"]", func(r, _ *diagnostics.Result) bool { return len(tug(r).Group("hat").Parts) == 4 }},
		"part": {"[[part]]\nmatch = \"/Tug/**\"\nkind = \"mechanical\"\ncarrier = \"/Shot/deck\"", func(r, p *diagnostics.Result) bool {
			return given(p, "even-spacing") > 0 && given(r, "even-spacing") == 0 && path(r, tug(r).Carrier) == "/Shot/deck"
		}},
		"figure": {"[[figure]]\nmatch = [\"/Tug\", \"/Gull\"]", func(r, p *diagnostics.Result) bool {
			return len(r.Study.Figures()) == len(p.Study.Figures())-1 && r.Study.FigureOf(r.Study.Scene.Find("/Gull/torso")) == tug(r)
		}},
		"point": {"[[point]]\nmatch = \"*forearm_l\"\nname = \"left cuff\"\nrole = \"hand\"\noffset = [0, -10, 0]", func(r, p *diagnostics.Result) bool {
			at := slices.IndexFunc(tug(r).Points, func(q body.Point) bool { return q.Name == "left cuff" })
			return at >= 0 && len(tug(r).Points) == len(tug(p).Points) && tug(p).Points[at].Name == "left hand" &&
				math.Abs(tug(r).Points[at].Offset.Y+10) < 1e-9 && tug(r).PointTrack(at).Part == tug(r).Points[at].Part
		}},
		"chain": {"[[chain]]\nmatch = [\"*spine*\", \"*chest*\"]\nname = \"back\"", func(r, _ *diagnostics.Result) bool {
			c := tug(r).Chains()
			return len(c) == 1 && c[0].Name == "back" && len(c[0].Parts) == 2
		}},
		"checks": {"[checks.even-spacing]\nseverity = \"hint\"\n[checks.hitch]\ndepth = 0.05", func(r, p *diagnostics.Result) bool {
			at := slices.IndexFunc(r.Notes, func(n note.Note) bool { return n.Check == "even-spacing" })
			return r.Notes[at].Severity.String() == "hint" && given(p, "hitch") > 0 && given(r, "hitch") == 0
		}},
		"allow": {"[[allow]]\ncheck = \"even-spacing\"\nmatch = \"/Tug/**\"\nwhy = \"gag\"", func(r, _ *diagnostics.Result) bool { return len(r.Allowed) > 0 && given(r, "even-spacing") == 0 }},
	}
	elsewhere := map[string]string{
		"clip": "TestClips in parse/gltf",
		"pass": "TestBefore in diagnostics/config",
	}
	run := func(toml string) *diagnostics.Result {
		cfg := parsed(t, toml)
		return diagnostics.Judge{Config: cfg}.Scene(t.Context(), diagnostics.Read("haul.usda", src, cfg, nil))
	}
	plain := run("")
	for _, key := range config.Keys() {
		tt, ok := tests[key]
		if !ok {
			if elsewhere[key] == "" {
				t.Errorf("no test shows that %s works", key)
			}
			continue
		}
		if !strings.Contains(tt.toml, key) || !tt.ok(run(tt.toml), plain) {
			t.Errorf("%s does not do what it says", tt.toml)
		}
	}
}

// A name that nothing has is a hint at its place, unless another file has it.
func TestNamesThatNothingHas(t *testing.T) {
	const toml = `camera = "‹/Shot/camera›"
focus = "‹haed›"
lead = ["eyes", "‹cheast›"]
[groups]
brows = ["*brow*", "‹*browse*›"]
[[part]]
match = "‹/Tugs/**›"
kind = "mechanical"
[[part]]
match = "/Tug/**"
carrier = "‹/Shot/dock›"
[[chain]]
match = "‹*tail_9*›"
[[figure]]
match = "‹/Tuck›"
[[point]]
match = "‹*hand_tips*›"
`
	want := []string{
		`no camera has the path "/Shot/camera"; expected one of /Shot/cam`,
		`no group is called "haed"; did you mean "head"?`,
		`no group is called "cheast"; did you mean "chest"?`,
		`no part matches "*browse*"; correct the pattern or remove it`,
		`no part matches "/Tugs/**"; correct the pattern or remove it`,
		`no part has the path "/Shot/dock"; write it as the outline shows it`,
		`no part matches "*tail_9*"; correct the pattern or remove it`,
		`no part matches "/Tuck"; correct the pattern or remove it`,
		`no part matches "*hand_tips*"; correct the pattern or remove it`,
	}
	cfg := parsed(t, strings.NewReplacer("‹", "", "›", "").Replace(toml))
	r := diagnostics.Judge{Config: cfg}.Scene(t.Context(), diagnostics.Read("haul.usda", haul(t), cfg, nil))
	var got []string
	rest := toml
	for _, n := range diagnostics.ConfigNotes(cfg, r.Uses) {
		got = append(got, n.Message)
		_, after, _ := strings.Cut(rest, "‹")
		word, after, _ := strings.Cut(after, "›")
		rest = after
		if text := string(cfg.Text[n.Span.Start:n.Span.End]); strings.Trim(text, `"`) != word {
			t.Errorf("%s: at %s, want at %q", n.Message, text, word)
		}
		if n.Check != "config" || n.Severity.String() != "hint" {
			t.Errorf("%s: %s %s", n.Message, n.Severity, n.Check)
		}
	}
	if !slices.Equal(got, want) {
		t.Errorf("got\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
	if n := diagnostics.ConfigNotes(cfg, r.Uses, &diagnostics.Uses{}); len(n) > 0 {
		t.Errorf("another file has everything, but %s", n[0].Message)
	}
	if n := diagnostics.ConfigNotes(cfg); len(n) > 0 {
		t.Errorf("nothing was judged, but %s", n[0].Message)
	}
}

// A range of frames has no start and no stop that something else explains in the
// whole clip: the head's at frame 1035 is even from there to 1046.
func TestRangesHaveTheEdgesOfTheWhole(t *testing.T) {
	src := haul(t)
	edges := func(toml string) []string {
		cfg := parsed(t, toml)
		var found []string
		for _, n := range (diagnostics.Judge{Config: cfg}).Scene(t.Context(), diagnostics.Read("haul.usda", src, cfg, nil)).Notes {
			if n.Check == "hard-start" || n.Check == "hard-stop" || n.Check == "even-spacing" {
				found = append(found, n.Check+" "+n.Part)
			}
		}
		return found
	}
	whole := edges("")
	for _, frames := range []string{"1005-1020", "1020-1035", "1030-1040", "1046-1060"} {
		for _, n := range edges(`frames = "` + frames + `"`) {
			if !slices.Contains(whole, n) {
				t.Errorf("frames %s: %s, which the whole clip has not: %q", frames, n, whole)
			}
		}
	}
}

// Values whose squares are no numbers make no note, and no fault of ours.
func TestValuesBeyondMeasure(t *testing.T) {
	var b strings.Builder
	b.WriteString("HIERARCHY\nROOT hips\n{\n\tOFFSET 0 90 0\n\tCHANNELS 3 Xposition Yposition Zrotation\n\tJOINT hand\n\t{\n\t\tOFFSET 0 20 0\n" +
		"\t\tCHANNELS 1 Zrotation\n\t\tEnd Site\n\t\t{\n\t\t\tOFFSET 0 10 0\n\t\t}\n\t}\n}\nMOTION\nFrames: 40\nFrame Time: 0.0416667\n")
	for f := range 40 {
		fmt.Fprintf(&b, "%de300 %de300 %de300 %de300\n", f, f, f, f)
	}
	cfg := &config.Config{}
	r := diagnostics.Judge{Config: cfg}.Scene(t.Context(), diagnostics.Read("huge.bvh", []byte(b.String()), cfg, nil))
	for _, n := range r.Notes {
		if n.Check == "internal" || strings.Contains(n.Message, "Inf") || strings.Contains(n.Message, "NaN") {
			t.Errorf("%s: %s", n.Check, n.Message)
		}
	}
}
