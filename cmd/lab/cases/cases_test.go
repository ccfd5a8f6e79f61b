package cases

import (
	"bytes"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"curvelint/diagnostics/checks"
	"curvelint/diagnostics/checks/kit"
)

// A case as an author writes it.
const sound = `A gull's head jumps for one frame on its perch.
-- curvelint.toml --
fps = 24
-- shot.usda --
#usda 1.0
def "gull" {
    3: 12, # want pop "frame 3: head"
}
-- rig.usda --
#usda 1.0
def "rig" { # want unsupported "skipped"
}
-- want --
6 hitch "frames 4-5: head"
curvelint.toml:1 config "fps"
`

func TestRead(t *testing.T) {
	c, err := Read("pop", "flaw-perch", []byte(sound))
	if err != nil {
		t.Fatal(err)
	}
	want := []Want{
		{File: "shot.usda", Line: 6, Check: "hitch", Text: "frames 4-5: head"},
		{File: "curvelint.toml", Line: 1, Check: "config", Text: "fps"},
		{File: "shot.usda", Line: 3, Check: "pop", Text: "frame 3: head", InText: true},
		{File: "rig.usda", Line: 2, Check: "unsupported", Text: "skipped", InText: true},
	}
	if c.Kind != Flaw || c.Scene != "shot.usda" || !slices.Equal(c.Wants, want) {
		t.Errorf("got %s, scene %s, wants\n%v", c.Kind, c.Scene, c.Wants)
	}
}

func TestReadRefuses(t *testing.T) {
	for _, tt := range []struct{ name, old, new, say string }{
		{"perch", "", "", "must begin with flaw-"},
		{"flaw-perch", "A gull's head jumps for one frame on its perch.", "A gull.", "must say what the case is"},
		{"flaw-perch", "A gull's", "? A gull's", "is a draft"},
		{"flaw-perch", "6 hitch", "? 6 hitch", "is a draft"},
		{"flaw-perch", "6 hitch", "hitch", "expected LINE CHECK"},
		{"flaw-perch", `"frames 4-5: head"`, `""`, "has words"},
		{"flaw-perch", `"frames 4-5: head"`, `frames 4-5: head`, "expected LINE CHECK"},
		{"flaw-perch", `want pop "frame 3: head"`, `want pop frame 3`, "shot.usda:3: expected # want"},
		{"flaw-perch", `want pop "frame 3: head"`, `want pop " "`, "has words"},
		{"flaw-perch", sound[strings.Index(sound, "-- shot"):], "", "no scene"},
	} {
		_, err := Read("pop", tt.name, []byte(strings.Replace(sound, tt.old, tt.new, 1)))
		if err == nil || !strings.Contains(err.Error(), tt.say) {
			t.Errorf("%q for %q: got %v, want %q", tt.new, tt.old, err, tt.say)
		}
	}
}

func TestUnmatched(t *testing.T) {
	w := Want{File: "shot.bvh", Line: 4, Check: "pop", Text: "frame 3: head"}
	n := Got{File: "shot.bvh", Line: 4, Check: "pop", Message: "frame 3: head jumps"}
	for _, tt := range []struct {
		why            string
		change         func(*Got)
		missing, extra int
	}{
		{"as expected", func(*Got) {}, 0, 0},
		{"another line", func(g *Got) { g.Line = 5 }, 1, 1},
		{"another check", func(g *Got) { g.Check = "hitch" }, 1, 1},
		{"another file", func(g *Got) { g.File = "rig.bvh" }, 1, 1},
		{"another frame", func(g *Got) { g.Message = "frame 4: head jumps" }, 1, 1},
	} {
		g := n
		tt.change(&g)
		missing, extra := Unmatched([]Want{w}, []Got{g})
		if len(missing) != tt.missing || len(extra) != tt.extra {
			t.Errorf("%s: missing %v, extra %v", tt.why, missing, extra)
		}
	}
	if missing, extra := Unmatched([]Want{w, w}, []Got{n}); len(missing) != 1 || len(extra) != 0 {
		t.Errorf("one note for two wants: missing %v, extra %v", missing, extra)
	}
	if missing, extra := Unmatched([]Want{w}, []Got{n, n}); len(missing) != 0 || len(extra) != 1 {
		t.Errorf("two notes for one want: missing %v, extra %v", missing, extra)
	}
}

func TestUnframed(t *testing.T) {
	notes := []Got{{Line: 4, Check: "pop", Message: "frames 3-12: head jumps"}, {Line: 1, Check: "syntax", Message: "expected {"}}
	for text, loose := range map[string]int{"frames 3-12: head": 0, "frames 3-12": 0, "frames 3-1": 1, "head": 1} {
		if got := Unframed([]Want{{Line: 4, Check: "pop", Text: text}}, notes); len(got) != loose {
			t.Errorf("%q: %v", text, got)
		}
	}
	if got := Unframed([]Want{{Line: 1, Check: "syntax", Text: "{"}}, notes); got != nil {
		t.Errorf("a note about no frames: %v", got)
	}
}

// A setting is moved within its bounds, and not at all where it stands at one; one
// that is 0 goes up by a share of its bound, and a switch is turned.
func TestMoves(t *testing.T) {
	c := &kit.Check{ID: "pop", Settings: []kit.Setting{
		&kit.Number{Name: "share", Unit: "ratio", Default: 0.9, Min: 0.1, Max: 1},
		&kit.Number{Name: "least", Unit: "ratio", Default: 0.6, Min: 0.6, Max: 1},
		&kit.Number{Name: "none", Unit: "ratio", Default: 0, Min: 0, Max: 1},
		&kit.Number{Name: "eyes", Default: 1, Min: 0, Max: 1},
	}}
	var got []string
	values := map[string]float64{}
	for _, m := range Moves(c) {
		got = append(got, m.String())
		values[m.String()] = m.Value
	}
	if want := []string{"share x1.5", "share /1.5", "least x1.5", "none x1.5", "eyes /1.5"}; !slices.Equal(got, want) {
		t.Fatalf("got %v, want %v", got, want)
	}
	if values["share x1.5"] != 1 || values["none x1.5"] != 0.1 || values["eyes /1.5"] != 0 {
		t.Errorf("got %v", values)
	}
}

// A draft is refused as it is, and read once its marks are taken away.
func TestDraft(t *testing.T) {
	c := &Case{About: "A gull's head jumps for one frame.", Scene: "shot.bvh", Files: map[string][]byte{
		"shot.bvh": []byte("HIERARCHY\n"), ConfigName: []byte("fps = 24\n"), "more.bvh": []byte("x\n"),
	}}
	notes := []Got{{File: "shot.bvh", Line: 1, Check: "pop", Message: "frame 3: head jumps; look"}, {File: ConfigName, Line: 1, Check: "config", Message: "no"}}
	raw := Draft(c, "rate 24", notes)
	if _, err := Read("pop", "flaw-x", raw); err == nil {
		t.Error("a draft was taken for a case")
	}
	got, err := Read("pop", "flaw-x", bytes.ReplaceAll(raw, []byte("? "), nil))
	if err != nil {
		t.Fatal(err)
	}
	missing, extra := Unmatched(got.Wants, notes)
	if got.Scene != c.Scene || got.About != c.About || len(got.Files) != 3 || len(missing)+len(extra) > 0 {
		t.Errorf("got %+v, missing %v, extra %v", got, missing, extra)
	}
}

// Each folder of cases belongs to a check and holds cases only: a misspelt name
// would never be looked at.
func TestNothingStray(t *testing.T) {
	top, err := Module()
	if err != nil {
		t.Fatal(err)
	}
	folders, err := os.ReadDir(filepath.Join(top, Root))
	if err != nil {
		t.Fatal(err)
	}
	for _, d := range folders {
		if !d.IsDir() || checks.Find(d.Name()) == nil {
			t.Errorf("%s/%s belongs to no check", Root, d.Name())
			continue
		}
		files, err := os.ReadDir(filepath.Join(top, Root, d.Name()))
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range files {
			if filepath.Ext(f.Name()) != ".txtar" {
				t.Errorf("%s/%s/%s is no case", Root, d.Name(), f.Name())
			}
			if info, err := f.Info(); err == nil && info.Size() > largest {
				t.Errorf("%s/%s is of %d bytes; cut the shot, or use fewer digits", d.Name(), f.Name(), info.Size())
			}
		}
	}
}

// largest is the size in bytes beyond which nobody reads a case.
const largest = 100_000
