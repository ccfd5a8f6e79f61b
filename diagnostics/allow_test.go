package diagnostics

import (
	"math"
	"path/filepath"
	"strings"
	"testing"

	"curvelint/diagnostics/checks"
	"curvelint/diagnostics/config"
	"curvelint/diagnostics/note"
	"curvelint/parse/scene"

	"github.com/google/go-cmp/cmp"
)

func allowance(lines ...string) string {
	return "[[allow]]\n" + strings.Join(lines, "\n") + "\nwhy = \"freeze frame for the gag\"\n"
}

func TestAllow(t *testing.T) {
	sc := scenery(t)
	invent(t, saying("x-hold", note.Warning, on(sc, head, 40, 52, 1)), saying("x-other", note.Warning))
	tests := []struct {
		name, toml string
		allowed    bool
		use        Use
	}{
		{"part and frames", allowance(`check = "x-hold"`, `match = "/Tug/**"`, `frames = "40-52"`), true, Used},
		{"whole clip", allowance(`check = "x-hold"`, `match = "*head*"`), true, Used},
		{"half the frames", allowance(`check = "x-hold"`, `match = "/Tug/**"`, `frames = "46-52"`), true, Used},
		{"too few frames", allowance(`check = "x-hold"`, `match = "/Tug/**"`, `frames = "50-96"`), false, Unused},
		{"other frames", allowance(`check = "x-hold"`, `match = "/Tug/**"`, `frames = "60-70"`), false, Unused},
		{"other part", allowance(`check = "x-hold"`, `match = "/Gull/**"`), false, Unused},
		{"other check", allowance(`check = "x-other"`, `match = "/Tug/**"`), false, Unused},
		{"part of another shot", allowance(`check = "x-hold"`, `match = "/Winch/**"`), false, Elsewhere},
		{"frames of another shot", allowance(`check = "x-hold"`, `match = "/Tug/**"`, `frames = "1040-1052"`), false, Elsewhere},
		{"this file", allowance(`check = "x-hold"`, `match = "**"`, `file = "tug.usda"`), true, Used},
		{"another file", allowance(`check = "x-hold"`, `match = "**"`, `file = "gull.usda"`), false, Elsewhere},
		{"check is off", allowance(`check = "x-other"`, `match = "/Tug/**"`) + "[checks.x-other]\nseverity = \"off\"", false, Elsewhere},
	}
	for _, tt := range tests {
		cfg := configured(t, tt.toml)
		r := Judge{Config: cfg}.Scene(t.Context(), sc)
		if allowed := len(r.Allowed) == 1; allowed != tt.allowed || len(r.Notes) != 1-len(r.Allowed) {
			t.Errorf("%s: notes %v, allowed %v", tt.name, brief(r.Notes), r.Allowed)
		}
		if r.Uses.Allows[0] != tt.use {
			t.Errorf("%s: use %v, want %v", tt.name, r.Uses.Allows[0], tt.use)
		}
		if tt.allowed && r.Allowed[0].Why != "freeze frame for the gag" {
			t.Errorf("%s: why %q", tt.name, r.Allowed[0].Why)
		}
		hint := ConfigNotes(cfg, r.Uses)
		if (len(hint) == 1) != (tt.use == Unused) {
			t.Errorf("%s: hints %+v", tt.name, hint)
		}
		// A file that needs it excuses the others.
		if n := ConfigNotes(cfg, r.Uses, &Uses{Allows: []Use{Used}}); len(n) != 0 {
			t.Errorf("%s: hints %+v though another file needs it", tt.name, n)
		}
	}
}

// What is not judged cannot tell that an allowance is not needed.
func TestAllowOutsideJudged(t *testing.T) {
	sc := scenery(t)
	sc.Allows = []scene.Allow{{Part: tug, Check: "x-hold", First: 40, Last: 52, Why: "gag"}}
	invent(t, saying("x-hold", note.Warning, on(sc, gull, 40, 52, 1)))
	rule := allowance(`check = "x-hold"`, `match = "*hips*"`, `frames = "40-52"`) + allowance(`check = "x-hold"`, `match = "*hips*"`)
	for _, tt := range []struct {
		toml   string
		uses   []Use
		inside int // hints on the scene's own
	}{
		{`frames = "60-70"`, []Use{Elsewhere, Elsewhere}, 0},
		{`frames = "50-70"`, []Use{Elsewhere, Elsewhere}, 0},
		{`frames = "30-70"`, []Use{Unused, Elsewhere}, 1},
		{`handles = 8`, []Use{Unused, Unused}, 1},
		{`handles = 48`, []Use{Elsewhere, Unused}, 0},
	} {
		r := Judge{Config: configured(t, tt.toml+"\n"+rule)}.Scene(t.Context(), sc)
		if d := cmp.Diff(tt.uses, r.Uses.Allows); d != "" {
			t.Errorf("%s: %s", tt.toml, d)
		}
		hints := 0
		for _, n := range r.Notes {
			if n.Check == "unused-allow" {
				hints++
			}
		}
		if hints != tt.inside {
			t.Errorf("%s: %d hints, want %d", tt.toml, hints, tt.inside)
		}
	}
}

// An allowance for files in a folder sees paths from the configuration's.
func TestAllowFileInFolder(t *testing.T) {
	dir := t.TempDir()
	sc := scenery(t)
	sc.Files = []*scene.File{{Path: filepath.Join(dir, "shots", "tug.usda"), Text: []byte(shot)}}
	cfg := config.Parse(filepath.Join(dir, config.FileName), []byte("[[allow]]\ncheck=\"syntax\"\nmatch=\"**\"\nwhy=\"x\"\nfile = \"/shots/*\""), Schema())
	if !aboutFile(cfg, &cfg.Allows[0], sc) {
		t.Error("the file in the folder is not found")
	}
	sc.Files[0].Path = filepath.Join(dir, "tug.usda")
	if aboutFile(cfg, &cfg.Allows[0], sc) {
		t.Error("a file beside the folder is taken for one in it")
	}
}

// An allowance stays with the stroke that it was meant for.
func TestAllowFollowsItsStroke(t *testing.T) {
	toml := allowance(`check = "x-hold"`, `match = "/Tug/**"`, `frames = "41-47"`, `stroke = "30-40"`)
	for _, tt := range []struct {
		name        string
		first, last float64 // of the head's turn
		hold        float64 // first frame of the hold, which lasts 7 frames
		allowed     bool
	}{
		{"as it was", 30, 40, 41, true},
		{"five frames later", 35, 45, 46, true},
		{"four frames sooner", 26, 36, 37, true},
		{"the turn moved, the hold did not", 35, 45, 40, false},
		{"too far to be the same", 42, 52, 53, false},
		{"the turn takes longer", 30, 44, 45, true},
	} {
		t.Run(tt.name, func(t *testing.T) {
			sc := turning(scenery(t), head, tt.first, tt.last)
			sc.Parts[tug].Figure = true
			invent(t, saying("x-hold", note.Warning, on(sc, head, tt.hold, tt.hold+6, 1)))
			r := Judge{Config: configured(t, toml)}.Scene(t.Context(), sc)
			if (len(r.Allowed) == 1) != tt.allowed {
				t.Errorf("allowed %v, notes %v", r.Allowed, brief(r.Notes))
			}
		})
	}
}

// An allowance made for a note excuses it, and still does when the move has
// moved.
func TestAllowanceFor(t *testing.T) {
	turned := func(by float64) *scene.Scene {
		sc := turning(scenery(t), head, 30+by, 40+by)
		sc.Parts[tug].Figure = true
		return sc
	}
	for _, tt := range []struct {
		name        string
		first, last float64
	}{{"in the move", 32, 38}, {"in the hold after it", 40, 52}, {"a frame later", 41, 52}} {
		t.Run(tt.name, func(t *testing.T) {
			sc := turned(0)
			n := on(sc, head, tt.first, tt.last, 1)
			n.Check = "x-hold"
			invent(t, saying("x-hold", note.Warning))
			a, err := AllowanceFor(study(sc, &config.Config{}), &n, "gag")
			if err != nil {
				t.Fatal(err)
			}
			if !a.HasStroke || a.Stroke.First < 29 || a.Stroke.Last > 41 {
				t.Fatalf("stroke %v", a.Stroke)
			}
			cfg := configured(t, a.TOML())
			for by := -5.0; by <= 5; by++ {
				later := turned(by)
				invent(t, saying("x-again", note.Warning, on(later, head, tt.first+by, tt.last+by, 1)))
				checks.Find("x-again").ID = "x-hold"
				checks.All = checks.All[len(checks.All)-1:]
				if r := (Judge{Config: cfg}).Scene(t.Context(), later); len(r.Allowed) != 1 {
					t.Errorf("moved by %g frames: notes %v", by, brief(r.Notes))
				}
			}
		})
	}
	// A note about no part and no frames.
	n := note.Note{Check: "missing-file", First: 0, Last: -1, PartID: scene.NoPart}
	a, err := AllowanceFor(study(scenery(t), &config.Config{}), &n, "not needed")
	if err != nil || a.HasFrames || a.HasStroke || a.Match.String() != "**" {
		t.Errorf("%+v, %v", a, err)
	}
	sc := scenery(t)
	sc.Problems = []scene.Problem{{Kind: scene.MissingFile, Message: "missing"}}
	if r := (Judge{Config: configured(t, a.TOML())}).Scene(t.Context(), sc); len(r.Allowed) != 1 {
		t.Errorf("notes %v", brief(r.Notes))
	}
}

func TestMoved(t *testing.T) {
	from, to := config.Frames{First: 10, Last: 20}, config.Frames{First: 12, Last: 26}
	for f, want := range map[float64]float64{5: 7, 10: 12, 15: 19, 20: 26, 24: 30} {
		if got := moved(f, from, to); got != want {
			t.Errorf("frame %g moves to %g, want %g", f, got, want)
		}
	}
}

func TestAllowInComment(t *testing.T) {
	sc := scenery(t)
	all := math.NaN()
	sc.Allows = []scene.Allow{
		{Part: tug, Check: "x-hold", First: 40, Last: 52, Why: "gag", Span: scene.Span{Start: 1, End: 2}},
		{Part: tug, Check: "x-hold", First: 60, Last: 70, Span: scene.Span{Start: 2, End: 3}},
		{Part: gull, Check: "x-hold", First: all, Last: all, Span: scene.Span{Start: 3, End: 4}},
		{Part: scene.NoPart, Check: "x-hlod", First: all, Last: all, Span: scene.Span{Start: 4, End: 5}},
		{Part: tug, Check: "x-off", First: all, Last: all, Span: scene.Span{Start: 5, End: 6}},
	}
	invent(t, saying("x-hold", note.Warning, on(sc, head, 40, 52, 1)), saying("x-off", note.Warning))
	r := Judge{Config: configured(t, "[checks.x-off]\nseverity = \"off\"")}.Scene(t.Context(), sc)
	want := []string{"unused-allow /Tug", "unused-allow /Gull", "unused-allow"}
	if d := cmp.Diff(want, brief(r.Notes)); d != "" {
		t.Error(d)
	}
	if len(r.Allowed) != 1 || r.Allowed[0].Why != "gag" {
		t.Errorf("allowed: %+v", r.Allowed)
	}
	if m := r.Notes[2].Message; !strings.Contains(m, `unknown check "x-hlod"`) {
		t.Errorf("message: %s", m)
	}
}

// What an allowed note outranks stays away.
func TestAllowedStillExplains(t *testing.T) {
	sc := scenery(t)
	drift := saying("x-drift", note.Warning, on(sc, head, 40, 52, 1))
	drift.YieldsTo = []string{"x-hold"}
	invent(t, drift, saying("x-hold", note.Warning, on(sc, head, 40, 52, 1)))
	r := Judge{Config: configured(t, allowance(`check = "x-hold"`, `match = "**"`))}.Scene(t.Context(), sc)
	if len(r.Notes) != 0 || len(r.Allowed) != 1 {
		t.Errorf("notes %v", brief(r.Notes))
	}
}

func TestConfigNotes(t *testing.T) {
	cfg := config.Parse("curvelint.toml", []byte("fsp = 24\n[checks.config]\nseverity = \"warning\"\n"), Schema())
	n := ConfigNotes(cfg)
	if len(n) != 1 || n[0].Check != "config" || n[0].Severity != note.Warning || n[0].Span != (scene.Span{Start: 0, End: 3}) {
		t.Errorf("notes: %+v", n)
	}
}
