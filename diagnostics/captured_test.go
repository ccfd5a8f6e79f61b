package diagnostics_test

import (
	"bufio"
	"bytes"
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"

	"curvelint/cmd/lab/scenetest"
	"curvelint/diagnostics"
	"curvelint/diagnostics/config"
	"curvelint/diagnostics/note"
	"curvelint/parse"
	"curvelint/parse/scene"
)

// readCapture reads captured human motion, from an open motion-capture collection,
// in Debian's package assimp-testmodels.
func readCapture(t *testing.T, name string) []byte {
	t.Helper()
	return scenetest.Model(t, "BVH/"+name)
}

// thin keeps every n-th motion line of a BVH, at 24 frames per second.
func thin(src []byte, n int) []byte {
	var out bytes.Buffer
	moving, line := false, 0
	count := 0
	for _, l := range bytes.Split(src, []byte("\n")) {
		if moving && len(bytes.TrimSpace(l)) > 0 {
			count++
		}
		if bytes.HasPrefix(bytes.TrimSpace(l), []byte("Frame Time")) {
			moving = true
		}
	}
	sc := bufio.NewScanner(bytes.NewReader(src))
	sc.Buffer(nil, 1<<20)
	moving = false
	for sc.Scan() {
		switch l := strings.TrimSpace(sc.Text()); {
		case strings.HasPrefix(l, "Frames:"):
			fmt.Fprintf(&out, "Frames: %d\n", (count+n-1)/n)
		case strings.HasPrefix(l, "Frame Time"):
			moving = true
			fmt.Fprintln(&out, "Frame Time: 0.0416667")
		case moving && l != "":
			if line%n == 0 {
				fmt.Fprintln(&out, l)
			}
			line++
		default:
			fmt.Fprintln(&out, l)
		}
	}
	return out.Bytes()
}

// glitches are one-frame faults of the captures themselves, which pop finds: the
// first frame of each, read from the evaluated angles (native rate, then every
// fifth frame). See testdata/corpus/CAPTURED.md.
var glitches = map[string][]float64{
	"01_03.bvh native":  {1311, 1339, 1548},
	"01_03.bvh thinned": {132, 140, 292, 631, 767},
}

// clamped are captures whose solver holds a knee at exactly 0 degrees, which is
// one summed up note of knee-pop.
var clamped = map[string]bool{"01_03.bvh native": true, "01_03.bvh thinned": true}

// Captured motion is natural: the checks say next to nothing about it but for
// faults of the capture itself.
func TestCapturedMotionIsNearlySilent(t *testing.T) {
	for _, name := range []string{"01_01.bvh", "01_03.bvh", "Boxing_Toes.bvh"} {
		src := readCapture(t, name)
		for _, c := range []struct {
			kind string
			text []byte
		}{{"native", src}, {"thinned", thin(src, 5)}} {
			sc := parse.Parse(name, c.text, scene.ReadOptions{})
			r := diagnostics.Judge{Config: &config.Config{}}.Scene(t.Context(), sc)
			warnings, what := 0, name+" "+c.kind
			for _, n := range r.Notes {
				switch {
				case n.Check == "pop" && slices.Contains(glitches[what], n.First),
					n.Check == "knee-pop" && clamped[what],
					n.Check == "surplus": // a line more than the file says
				case n.Severity <= note.Warning:
					warnings++
					t.Logf("%s: %s: %s", what, n.Check, n.Message)
				}
			}
			units := (sc.Last - sc.First) / sc.Rate / 4
			if rate := float64(warnings) / units; rate > 0.5 {
				t.Errorf("%s: %.2f warnings per 4 s, want at most 0.5", what, rate)
			}
		}
	}
}

// Whoever changes what is said of the captures looks at it: every note has a row
// in the table of judgements.
func TestCapturedMotionIsJudged(t *testing.T) {
	table, err := os.ReadFile("../testdata/corpus/CAPTURED.md")
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"01_01.bvh", "01_03.bvh", "Boxing_Toes.bvh"} {
		sc := parse.Parse(name, readCapture(t, name), scene.ReadOptions{})
		for _, n := range (diagnostics.Judge{Config: &config.Config{}}).Scene(t.Context(), sc).Notes {
			row := fmt.Sprintf("| %s | `%s`", strings.TrimSuffix(name, ".bvh"), n.Check)
			if !strings.Contains(string(table), row) {
				t.Errorf("%s: no row %q in CAPTURED.md for: %s; draw the note, look at it and judge it", name, row, n.Message)
			}
		}
	}
}
