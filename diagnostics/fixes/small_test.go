package fixes_test

import (
	"strings"
	"testing"

	"curvelint/diagnostics/config"
	"curvelint/diagnostics/fixes"
	"curvelint/parse/scene"
)

// winch is a small authored shot (invented data): the crank's key on frame 12
// does nothing.
const winch = `#usda 1.0
(
    timeCodesPerSecond = 24
    startTimeCode = 1
    endTimeCode = 48
)
def Xform "winch" (
    doc = "a { in a string"
)
{
    # the crank
    def Xform "crank"
    {
        float xformOp:rotateX.timeSamples = {
            1: 0,
            12: 30,
            23: 60,
            40: 200,
        }
        uniform token[] xformOpOrder = ["xformOp:rotateX"]
    }
}
`

func TestRemoveIdleKeys(t *testing.T) {
	s := judge(t, "winch.usda", []byte(winch), &config.Config{})
	n := s.find(t, "idle-key", "crank")
	f := fixOf(t, s, n, "remove-idle")
	after := fixes.Apply(s.res.Study.Scene, 0, f.Edits)
	want := strings.Replace(winch, "            12: 30,\n", "", 1)
	if string(after) != want {
		t.Errorf("after the fix:\n%s", after)
	}
	mended(t, s, s.with(t, f), n, 0, -1)
}

// TestIdleKeysStayInFrames: where a line holds a frame of everything, no key
// can be taken out, and so none is offered.
func TestIdleKeysStayInFrames(t *testing.T) {
	s := judge(t, "winch.csv", []byte("frame,winch.rx\n1,0\n12,30\n23,60\n40,200\n"), &config.Config{})
	for i := range s.res.Notes {
		if n := &s.res.Notes[i]; n.Check == "idle-key" && len(fixes.For(s.res.Study, n)) > 0 {
			t.Errorf("a fix is offered for %s", n.Message)
		}
	}
}

func TestAllowComment(t *testing.T) {
	s := judge(t, "winch.usda", []byte(winch), &config.Config{})
	n := s.find(t, "idle-key", "crank")
	a := &config.Allow{Check: n.Check, Frames: config.Frames{First: n.First, Last: n.Last}, HasFrames: true, Why: "kept for the next pass"}
	e, ok := fixes.AllowComment(s.res.Study.Scene, a, n.PartID)
	if !ok {
		t.Fatal("no place for a comment")
	}
	text := fixes.Apply(s.res.Study.Scene, 0, []fixes.Edit{e})
	if !strings.Contains(string(text), "    {\n        # curvelint: allow idle-key 12 because kept for the next pass\n        float") {
		t.Errorf("comment in\n%s", text)
	}
	after := judge(t, "winch.usda", text, s.cfg)
	if len(after.res.Allowed) != 1 {
		t.Errorf("allowed: %+v, notes %v", after.res.Allowed, after.brief(4))
	}
	// A part whose header has metadata with a bracket in it.
	e, ok = fixes.AllowComment(s.res.Study.Scene, a, s.res.Study.Scene.Find("/winch"))
	if text := fixes.Apply(s.res.Study.Scene, 0, []fixes.Edit{e}); !ok || !strings.Contains(string(text), ")\n{\n    # curvelint: allow") {
		t.Errorf("comment in\n%s", text)
	}
	if _, ok := fixes.AllowComment(&scene.Scene{Format: "bvh"}, a, 0); ok {
		t.Error("a comment in a BVH")
	}
}

func TestAppendAllow(t *testing.T) {
	a := &config.Allow{Check: "pop", Why: "a hiccup"}
	for before, want := range map[string]string{"": "[[allow]]", "fps = 24\n": "\n[[allow]]", "fps = 24": "\n\n[[allow]]", "fps = 24\n\n": "[[allow]]"} {
		if got := fixes.AppendAllow(a, []byte(before)); !strings.HasPrefix(got, want) {
			t.Errorf("after %q: %q", before, got)
		}
	}
}
