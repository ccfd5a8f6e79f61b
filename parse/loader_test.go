package parse

import (
	"bufio"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"curvelint/cmd/lab/scenetest"
	"curvelint/parse/scene"
)

// outcome is what the reference loader makes of a file: why it fails, or how
// many nodes move and until when.
type outcome struct {
	Fails   string
	Moving  int
	Seconds float64
}

// TestAgainstLoaders holds what our readers make of the files of Debian's
// package assimp-testmodels against what the npm loaders make of them. Each
// difference is explained in models-differences.txt; an explanation without a
// difference is wrong too.
func TestAgainstLoaders(t *testing.T) {
	scenetest.Models(t)
	raw, err := os.ReadFile("../testdata/reference/models-loader.json")
	if err != nil {
		t.Fatal(err)
	}
	var outcomes map[string]outcome
	if err := json.Unmarshal(raw, &outcomes); err != nil || len(outcomes) < 50 {
		t.Fatalf("%d files, %v", len(outcomes), err)
	}
	explained := readExplained(t)
	for name, loader := range outcomes {
		difference := differs(t, name, loader)
		if difference == "" && explained[name] != "" {
			t.Errorf("%s is explained as %q, but is the same by both", name, explained[name])
		}
		if difference != "" && explained[name] == "" {
			t.Errorf("%s: %s; explain it in testdata/reference/models-differences.txt", name, difference)
		}
		delete(explained, name)
	}
	for name := range explained {
		t.Errorf("%s is explained but no file of the package", name)
	}
}

// readExplained reads the lines "FILE: why the readers differ".
func readExplained(t *testing.T) map[string]string {
	t.Helper()
	f, err := os.Open("../testdata/reference/models-differences.txt")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	explained := map[string]string{}
	for lines := bufio.NewScanner(f); lines.Scan(); {
		if strings.HasPrefix(lines.Text(), "#") {
			continue
		}
		name, why, found := strings.Cut(lines.Text(), ": ")
		if !found || explained[name] != "" {
			t.Fatalf("expected one line FILE: REASON for each file, found %q", lines.Text())
		}
		explained[name] = why
	}
	return explained
}

// differs says how our reading of a file differs from the loader's, "" if it
// does not.
func differs(t *testing.T, name string, loader outcome) string {
	t.Helper()
	path := filepath.Join(scenetest.Models(t), name)
	raw, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	s := Parse(path, raw, scene.ReadOptions{Open: OpenWithin(filepath.Dir(path))})
	refused := ""
	for _, p := range s.Problems {
		if p.Kind != scene.Unsupported {
			refused = p.Message
			break
		}
	}
	moving, seconds := movingParts(s), 0.0
	if s.Last >= s.First {
		seconds = s.Last / s.Rate
		if s.Format == "bvh" {
			seconds = (s.Last - s.First) / s.Rate // its first frame is called 1
		}
	}
	switch {
	case refused != "" && loader.Fails == "":
		return "we say " + refused + ", the loader nothing"
	case refused == "" && loader.Fails != "":
		return "we read it, the loader says " + loader.Fails
	case refused != "":
		return ""
	case moving != loader.Moving:
		return "another number of moving nodes: " + json2(moving, loader.Moving)
	case math.Abs(seconds-loader.Seconds) > 1.5/s.Rate:
		return "another length: " + json2(seconds, loader.Seconds)
	}
	return ""
}

// json2 prints our value and the loader's.
func json2(ours, theirs any) string {
	b, _ := json.Marshal([]any{ours, theirs})
	return string(b)
}

// movingParts counts the parts that some channel of more than one value moves;
// a shape weight moves the part that it shapes.
func movingParts(s *scene.Scene) int {
	moving := map[scene.PartID]bool{}
	for i := range s.Channels {
		c := &s.Channels[i]
		for k, v := range c.Curve.Doubles() {
			if v != c.Curve.Value(k%c.Curve.Stride) {
				part := c.Part
				if s.Parts[part].Kind == scene.Weight {
					part = s.Parts[part].Parent
				}
				moving[part] = true
				break
			}
		}
	}
	return len(moving)
}
