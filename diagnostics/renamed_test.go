package diagnostics_test

import (
	"bytes"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"curvelint/cmd/lab/corpus"
	"curvelint/cmd/lab/designed"
	"curvelint/cmd/lab/designed/natural"
	"curvelint/cmd/lab/designed/write"
	"curvelint/diagnostics"
	"curvelint/diagnostics/config"
	"curvelint/diagnostics/note"
	"curvelint/parse"
	"curvelint/parse/scene"
)

// nameless copies a scene with every part called joint and its number.
func nameless(sc *scene.Scene) *scene.Scene {
	c := *sc
	c.Parts = slices.Clone(sc.Parts)
	for i := range c.Parts {
		p := &c.Parts[i]
		p.Name = fmt.Sprintf("joint%d", i)
		p.Path = "/" + p.Name
		if p.Parent != scene.NoPart {
			p.Path = c.Parts[p.Parent].Path + p.Path
		}
	}
	return &c
}

// byName are the checks that know brows, lids, eyes and mouth by their names
// alone. (Twinned keys need them only for brows with lids.)
var byName = []string{"dead-stare", "masked-change", "split-attention", "rushed-read", "same-frame"}

// heard lists the notes on a scene by check, part and frames.
func heard(t *testing.T, sc *scene.Scene) []string {
	r := diagnostics.Judge{Config: &config.Config{}}.Scene(t.Context(), sc)
	var out []string
	for _, n := range r.Notes {
		if n.Severity <= note.Information {
			out = append(out, fmt.Sprintf("%s %s %g-%g", n.Check, sc.Parts[max(n.PartID, 0)].Path, n.First, n.Last))
		}
	}
	return out
}

// A figure without names gets the notes of the same figure with names, but
// where a name is the only evidence.
func TestNotesWithoutNames(t *testing.T) {
	scenes := map[string]*scene.Scene{}
	add := func(name string, src []byte) {
		sc := parse.Parse(name, src, scene.ReadOptions{})
		if slices.ContainsFunc(sc.Parts, func(p scene.Part) bool { return p.Name == "Deck" }) {
			return // that a body rides on it only its names tell, or the configuration
		}
		scenes[name] = sc
	}
	for _, check := range corpus.Checks() {
		for seed := range 4 {
			for _, flawed := range []bool{true, false} {
				if c, err := corpus.Make(check, seed, flawed); err == nil {
					add(c.File, c.Text)
				}
			}
		}
	}
	for _, k := range natural.Kinds {
		for seed := range 4 {
			if c, err := corpus.MakeNatural(k, seed); err == nil {
				add(c.File, c.Text)
			}
		}
	}
	for _, p := range []designed.Pass{designed.SplinePass, designed.PolishPass} {
		var b bytes.Buffer
		if err := write.USDA(&b, designed.Deckhand(p).Take(24)); err != nil {
			t.Fatal(err)
		}
		add("deckhand-"+p.Name+".usda", b.Bytes())
	}
	same, extra, lost, more := 0, 0, map[string]int{}, map[string]int{}
	for name, sc := range scenes {
		bare := nameless(sc)
		was, is := heard(t, sc), heard(t, bare)
		was = renameIn(sc, bare, was)
		for _, n := range was {
			if slices.ContainsFunc(is, func(m string) bool { return alike(m, n) }) {
				same++
				continue
			}
			check := strings.Fields(n)[0]
			lost[check]++
			if !slices.Contains(byName, check) {
				t.Errorf("%s: lost %s", name, n)
			}
		}
		for _, n := range is {
			if !slices.ContainsFunc(was, func(m string) bool { return alike(m, n) }) {
				more[strings.Fields(n)[0]]++
				extra++
				t.Logf("%s: more %s", name, n)
			}
		}
	}
	if extra > len(scenes)/50 {
		t.Errorf("%d notes more without names, want at most one in 50 scenes", extra)
	}
	t.Logf("%d scenes, %d notes the same; lost %v, more %v", len(scenes), same, lost, more)
}

// alike reports whether two lines are one note: what is a frame of rounding at 60
// frames a second (speeds are measured in sizes of a figure, which a stray part
// without a name may make a little larger) is left out.
func alike(a, b string) bool {
	var ca, pa, cb, pb string
	var fa, la, fb, lb float64
	fmt.Sscanf(a, "%s %s %f-%f", &ca, &pa, &fa, &la)
	fmt.Sscanf(b, "%s %s %f-%f", &cb, &pb, &fb, &lb)
	return ca == cb && pa == pb && math.Abs(fa-fb) <= 2 && math.Abs(la-lb) <= 2
}

// renameIn writes the paths of one scene in lines as those of another.
func renameIn(from, to *scene.Scene, lines []string) []string {
	out := make([]string, len(lines))
	for i, l := range lines {
		f := strings.SplitN(l, " ", 2)
		at := strings.LastIndex(f[1], " ")
		p := from.Find(f[1][:at])
		out[i] = f[0] + " " + to.Parts[max(p, 0)].Path + f[1][at:]
	}
	return out
}
