package write_test

import (
	"bytes"
	"encoding/json"
	"strings"
	"testing"

	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/passes"
	"curvelint/diagnostics/passes/write"
	"curvelint/parse/scene"
)

// hostile is a comparison whose names would steer a terminal or a page.
func hostile() *passes.Comparison {
	s := motion.New(&scene.Scene{Files: []*scene.File{{Path: "</title><script>x</script>\x1b[2J"}}, First: 0, Last: -1, DefaultCamera: scene.NoPart}, motion.Options{})
	return &passes.Comparison{Before: s, After: s, Compared: 1,
		Parts: []passes.Part{{Name: "<img src=x onerror=y>\x1b", Path: "/a", Moves: []passes.Move{{Motion: passes.Turn, First: 1, Last: 2, New: true}}}}}
}

func TestHostileNames(t *testing.T) {
	for _, format := range write.Formats {
		var b bytes.Buffer
		if err := write.Comparison(format, &b, hostile()); err != nil {
			t.Fatal(err)
		}
		out := b.String()
		if strings.Contains(out, "\x1b") || format == "html" && (strings.Contains(out, "<script") || strings.Contains(out, "<img")) {
			t.Errorf("%s lets names through:\n%s", format, out)
		}
		if format == "html" && (strings.Contains(out, "http") && !strings.Contains(out, "http-equiv") || strings.Contains(out, "src=\"")) {
			t.Errorf("the page needs other files:\n%s", out)
		}
	}
}

// Lists of the JSON form are never null.
func TestJSONLists(t *testing.T) {
	s := hostile()
	s.Parts = nil
	var b bytes.Buffer
	if err := write.JSON(&b, s); err != nil {
		t.Fatal(err)
	}
	var form map[string]any
	if err := json.Unmarshal(b.Bytes(), &form); err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"beats", "orders", "holds", "parts", "gone", "new"} {
		if _, ok := form[name].([]any); !ok {
			t.Errorf("%s is %v", name, form[name])
		}
	}
	if form["version"] != 1.0 {
		t.Errorf("version %v", form["version"])
	}
}
