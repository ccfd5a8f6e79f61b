package usda

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"sort"
	"strconv"
	"strings"
	"testing"

	"golang.org/x/tools/txtar"
)

// TestVerdicts holds the conformance corpus against OpenUSD's own reader
// (testdata/reference/usdaverdicts.mjs): the same layers are well formed, and what
// is malformed is blamed at the same line. Each difference stands in
// usda-verdicts-differences.txt with its reason.
func TestVerdicts(t *testing.T) {
	var theirs struct {
		Layers map[string]struct {
			OK   bool `json:"ok"`
			Line int  `json:"line"`
		} `json:"layers"`
	}
	b, err := os.ReadFile("../../testdata/reference/usda-verdicts.json")
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(b, &theirs); err != nil {
		t.Fatal(err)
	}
	explained := verdictDifferences(t)
	for name, text := range namedLayers(t) {
		their, known := theirs.Layers[name]
		if !known {
			t.Errorf("%s: not in usda-verdicts.json; run usdaverdicts.mjs", name)
			continue
		}
		got := wrong(text)
		difference := ""
		switch first, _, _ := strings.Cut(got, ":"); {
		case their.OK != (got == ""):
			difference = fmt.Sprintf("theirs ok=%v, ours ok=%v", their.OK, got == "")
		case !their.OK && their.Line > 0 && first != strconv.Itoa(their.Line):
			difference = fmt.Sprintf("theirs line %d, ours line %s", their.Line, first)
		}
		_, reason := explained[name]
		if (difference != "") != reason {
			t.Errorf("%s: difference %q, explained %v", name, difference, reason)
		}
		delete(explained, name)
	}
	var rest []string
	for name := range explained {
		rest = append(rest, name)
	}
	sort.Strings(rest)
	for _, name := range rest {
		t.Errorf("%s: explained, but there is no such layer", name)
	}
}

// namedLayers returns the layers of the corpus by file and member.
func namedLayers(t *testing.T) map[string][]byte {
	t.Helper()
	files, err := filepath.Glob("../../testdata/conformance/usda/*.txtar")
	if err != nil || len(files) == 0 {
		t.Fatalf("no conformance files: %v", err)
	}
	layers := map[string][]byte{}
	for _, f := range files {
		a, err := txtar.ParseFile(f)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range a.Files {
			if !strings.HasPrefix(m.Name, "want: ") {
				layers[filepath.Base(f)+" "+m.Name] = unmarked(m.Data)
			}
		}
	}
	return layers
}

// verdictDifferences reads the layers whose verdicts differ, with the reasons: a
// reason, then the layers it explains, each indented.
func verdictDifferences(t *testing.T) map[string]string {
	t.Helper()
	b, err := os.ReadFile("../../testdata/reference/usda-verdicts-differences.txt")
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]string{}
	reason := ""
	for _, line := range strings.Split(strings.TrimSpace(string(b)), "\n") {
		if name, indented := strings.CutPrefix(line, "    "); indented {
			out[name] = reason
		} else {
			reason = line
		}
	}
	return out
}
