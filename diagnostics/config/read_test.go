package config

import (
	"strings"
	"testing"

	"curvelint/diagnostics/note"
)

const whole = `# the night ferry
fps = 23.98
first_frame = 1001
frames = "1001-1096"
step = 2
camera = "/Shot/cam"
focus = "head"
floor = 0
handles = 8
aspect = 1.85
lead = ["eyes", "head", "chest", "hips"]
loop = false

[groups]
brows = ["*brow*"]
lids  = "*lid*"

[[part]]
match = "/Shot/winch/**"
kind = "mechanical"

[[chain]]
match = ["*rope*"]

[[figure]]
match = ["/body/**", "/face/**"]

[[point]]
match = "*grip_l"
name = "left grip"
role = "hand"
offset = [0, 4.5, -1]

[checks.even-spacing]
severity = "information"
contrast = 0.08
continuous = true

[[part]]
match = "/Tug/**"
carrier = "/Shot/deck"

[[allow]]
check = "frozen-hold"
match = "/Tug/**"
frames = "40-52"
stroke = "38-54"
why = "freeze frame for the gag"

[[pass]]
name = "*_polish.usda"
before = "*_spline.usda"
`

func TestParse(t *testing.T) {
	c := Parse("curvelint.toml", []byte(whole), testSchema)
	for _, p := range c.Problems {
		t.Errorf("%q: %s", whole[p.Span.Start:p.Span.End], p.Message)
	}
	if want := 24000.0 / 1001; c.FPS != want {
		t.Errorf("fps %v, want %v", c.FPS, want)
	}
	if !c.HasFirstFrame || c.FirstFrame != 1001 || !c.HasFrames || c.Frames != (Frames{1001, 1096}) {
		t.Errorf("frames: %+v", c)
	}
	if c.Step != 2 || c.Camera != "/Shot/cam" || c.Focus != "head" || !c.HasFloor || c.Floor != 0 ||
		c.Handles != 8 || c.Aspect != 1.85 || len(c.Lead) != 4 || c.Loop {
		t.Errorf("plain keys: %+v", c)
	}
	if len(c.Groups) != 2 || c.Groups[1].Name != "lids" || !c.Groups[1].Match.Match("/Tug/head/L_Lid") {
		t.Errorf("groups: %+v", c.Groups)
	}
	if len(c.Parts) != 2 || c.Parts[0].Kind != Mechanical || c.Parts[1].Carrier != "/Shot/deck" {
		t.Errorf("parts: %+v", c.Parts)
	}
	if len(c.Chains) != 1 || c.Chains[0].Name != "*rope*" {
		t.Errorf("chains: %+v", c.Chains)
	}
	if len(c.Figures) != 1 || !c.Figures[0].Match.Match("/face/brow_l") {
		t.Errorf("figures: %+v", c.Figures)
	}
	if len(c.Points) != 1 || c.Points[0].Name != "left grip" || c.Points[0].Role != "hand" || c.Points[0].Offset != [3]float64{0, 4.5, -1} {
		t.Errorf("points: %+v", c.Points)
	}
	k := c.Checks["even-spacing"]
	if !k.HasSeverity || k.Severity != note.Information || k.Settings["contrast"] != 0.08 || k.Settings["continuous"] != 1 {
		t.Errorf("checks: %+v", c.Checks)
	}
	if len(c.Allows) != 1 || c.Allows[0].Frames != (Frames{40, 52}) || c.Allows[0].Stroke != (Frames{38, 54}) {
		t.Errorf("allows: %+v", c.Allows)
	}
	if first, last := c.Judged(993, 1104); first != 1001 || last != 1096 {
		t.Errorf("judged %g-%g, want 1001-1096", first, last)
	}
}

// Each case has one mistake: the problem must sit on the marked text, between
// ‹ and ›, and say what is wanted; the rest must still count.
func TestParseProblems(t *testing.T) {
	tests := []struct{ name, src, want string }{
		{"unknown key", "‹fsp› = 24", `unknown key "fsp"; did you mean "fps"?`},
		{"unknown key, none like it", "‹colour› = 1", "expected one of fps, first_frame"},
		{"hyphen for underscore", "‹first-frame› = 1", `did you mean "first_frame"?`},
		{"text for number", `fps = ‹"24"›`, "fps: expected a number"},
		{"number out of range", "fps = ‹0›", "from 1 to 1000, found 0"},
		{"not a number", "floor = ‹nan›", "found nan"},
		{"broken whole number", "handles = ‹8.5›", "whole number"},
		{"date", "camera = ‹2020-01-01›", "found a date"},
		{"step", "step = ‹3›", "from 1 to 2, found 3"},
		{"frames backwards", `frames = ‹"52-40"›`, "ends before it begins"},
		{"frames", `frames = ‹"40 to 52"›`, "such as 40-52"},
		{"frames too large", `frames = ‹"1-1e99"›`, "such as 40-52"},
		{"frames too large, in digits", `frames = ‹"1-99999999999999"›`, "up to 1000000000"},
		{"empty text", `camera = ‹" "›`, "camera is empty"},
		{"truth", "loop = ‹1›", "true or false"},
		{"glob", "[groups]\nbrows = [\"*brow*\", ‹\"[\"›]", "has no ]"},
		{"glob range", "[groups]\nbrows = ‹\"[z-a]\"›", "runs backwards"},
		{"glob end", "[groups]\nbrows = ‹'brow\\'›", "stands before nothing"},
		{"glob slash", "[groups]\nbrows = ‹'/a//b'›", "a name is empty"},
		{"lonely slash", "[groups]\nbrows = ‹'/'›", "expected a pattern"},
		{"empty list", "[groups]\n‹brows› = []", "at least one pattern"},
		{"groups as list", "‹groups› = []", "single brackets"},
		{"part as table", "[‹part›]\nmatch = \"x\"", "two brackets"},
		{"part without match", "[[‹part›]]\nkind = \"mechanical\"", "no match"},
		{"part without a word", "[[‹part›]]\nmatch = \"x\"", "says nothing"},
		{"unknown kind", "[[part]]\nmatch = \"x\"\nkind = ‹\"machine\"›", "expected one of living, mechanical"},
		{"unknown key in part", "[[part]]\nmatch = \"x\"\nkind = \"living\"\n‹sort› = 1", `unknown key "sort" in [[part]]`},
		{"chain without match", "[[‹chain›]]\nname = \"rope\"", "no match"},
		{"figure without match", "[[‹figure›]]", "no match"},
		{"point without match", "[[‹point›]]\nrole = \"hand\"", "no match"},
		{"unknown role", "[[point]]\nmatch = \"x\"\nrole = ‹\"hands\"›", `unknown role "hands"; did you mean "hand"?`},
		{"offset", "[[point]]\nmatch = \"x\"\n‹offset› = [1, 2]", "three numbers"},
		{"offset of text", "[[point]]\nmatch = \"x\"\noffset = [1, 2, ‹\"3\"›]", "expected a number"},
		{"unknown check", "[checks.‹even-spacings›]\nseverity = \"off\"", `did you mean "even-spacing"?`},
		{"check as value", "[checks]\n‹even-spacing› = \"off\"", "a line of its own"},
		{"unknown setting", "[checks.even-spacing]\n‹contrst› = 0.1", `did you mean "contrast"?`},
		{"setting out of range", "[checks.even-spacing]\ncontrast = ‹3›", "from 0.01 to 0.5 ratio, found 3; the default is 0.1"},
		{"setting of wrong type", "[checks.even-spacing]\ncontrast = ‹true›", "expected a number such as 0.1 ratio, found true or false"},
		{"severity", "[checks.even-spacing]\nseverity = ‹\"warn\"›", `did you mean "warning"?`},
		{"allow without why", "[[‹allow›]]\ncheck = \"frozen-hold\"\nmatch = \"x\"", "no why"},
		{"allow of an unknown check", "[[allow]]\ncheck = ‹\"hold\"›\nmatch = \"x\"\nwhy = \"y\"", `unknown check "hold"`},
		{"stroke without frames", "[[allow]]\ncheck = \"frozen-hold\"\nmatch = \"x\"\nwhy = \"y\"\n‹stroke› = \"1-2\"", "stroke needs frames"},
		{"pass without before", "[[‹pass›]]\nname = \"x\"", "needs both"},
		{"pass stars", "[[pass]]\nname = \"x\"\nbefore = ‹\"*\"›", "name only 0"},
		{"list of other things", "part = [‹1›]", "expected a table under [[part]]"},
		{"broken TOML", "‹camera = \"/Shot›", ""},
		{"key twice", "camera = \"/a\"\n‹camera› = \"/b\"", ""},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			marked := "handles = 8\n" + tt.src + "\n"
			if strings.HasPrefix(tt.src, "handles") {
				marked = tt.src + "\n"
			}
			before, rest, _ := strings.Cut(marked, "‹")
			place, after, _ := strings.Cut(rest, "›")
			c := Parse("curvelint.toml", []byte(before+place+after), testSchema)
			if len(c.Problems) != 1 {
				t.Fatalf("%d problems, want 1: %+v", len(c.Problems), c.Problems)
			}
			p := c.Problems[0]
			if p.Span.Start != len(before) || p.Span.End != len(before)+len(place) {
				t.Errorf("at %q, want at %q", (before + place + after)[p.Span.Start:p.Span.End], place)
			}
			if !strings.Contains(p.Message, tt.want) || p.Message == "" {
				t.Errorf("message %q, want one with %q", p.Message, tt.want)
			}
			if c.Handles != 8 && !strings.HasPrefix(tt.src, "handles") {
				t.Error("the line before the mistake does not count")
			}
		})
	}
}

func FuzzParse(f *testing.F) {
	f.Add([]byte(whole))
	f.Add([]byte("a.b.c = {d = [1, {e = 2}]}\n[[a.b.x]]\n[a.b.x.y]"))
	f.Add([]byte("[[allow]]\n[[allow.allow]]\n[allow.check]"))
	f.Add([]byte("checks = 1\n[checks]"))
	f.Fuzz(func(t *testing.T, src []byte) {
		c := Parse("curvelint.toml", src, testSchema)
		for _, p := range c.Problems {
			if p.Span.Start < 0 || p.Span.End < p.Span.Start || p.Span.End > len(src) || p.Message == "" {
				t.Fatalf("problem %+v in a file of %d bytes", p, len(src))
			}
		}
	})
}
