package cases

import (
	"flag"
	"fmt"
	"os"
	"path"
	"slices"
	"strings"
	"testing"

	"golang.org/x/tools/txtar"

	"curvelint/diagnostics/checks/kit"
)

// reword takes over how notes are worded now where a case expects one of the same
// check at the same line; it adds and drops none.
var reword = flag.Bool("update", false, "take over how expected notes are worded now")

// floors are how many cases of each kind a check of motion has at least.
var floors = map[Kind]int{Flaw: 3, Near: 3, Proper: 1}

// few are findings that can be had in fewer forms than a flaw of motion.
var few = map[string]struct {
	floors map[Kind]int
	why    string
}{
	"internal":     {map[Kind]int{}, "a fault of the program itself is injected by the tests of diagnostics"},
	"surplus":      {map[Kind]int{Flaw: 1, Near: 1, Proper: 1}, "only BVH says how many frames follow"},
	"unused-allow": {map[Kind]int{Flaw: 2, Near: 2, Proper: 1}, "an allowance stands in the configuration or in the text"},
	"missing-file": {map[Kind]int{Flaw: 2, Near: 1, Proper: 1}, "only USD and glTF name files"},
}

// Run judges the labelled cases of the checks and holds each to its floor.
func Run(t *testing.T, checks ...*kit.Check) {
	for _, check := range checks {
		t.Run(check.ID, func(t *testing.T) {
			t.Parallel()
			list, err := Of(check.ID)
			if err != nil {
				t.Fatal(err)
			}
			held(t, check, list)
			for _, c := range list {
				t.Run(c.Name, func(t *testing.T) { c.run(t) })
			}
		})
	}
}

// held fails when a check has too few cases, or cases in one form only.
func held(t *testing.T, check *kit.Check, list []*Case) {
	t.Helper()
	least := floors
	if f, ok := few[check.ID]; ok {
		least = f.floors
	}
	count, formats := map[Kind]int{}, map[string]bool{}
	for _, c := range list {
		count[c.Kind]++
		if c.Kind == Flaw {
			formats[path.Ext(c.Scene)] = true
		}
	}
	for _, k := range []Kind{Flaw, Near, Proper} {
		if count[k] < least[k] {
			t.Errorf("%s has %d cases %s-*.txtar in %s/%s, it needs %d; `go run ./cmd/lab/cases/draft -check %s` begins one, the package comment of cmd/lab/cases tells the form",
				check.ID, count[k], k, Root, check.ID, least[k], check.ID)
		}
	}
	if least[Flaw] >= 3 && len(formats) == 1 && check.Group != kit.Tool {
		t.Errorf("the flaws of %s are in one format only", check.ID)
	}
}

// run judges one case.
func (c *Case) run(t *testing.T) {
	s, err := c.Study()
	if err != nil {
		t.Fatal(err)
	}
	notes := s.Notes(t.Context())
	if *reword {
		c.reword(t, notes)
	}
	missing, extra := Unmatched(c.Wants, notes)
	for _, w := range missing {
		t.Errorf("missing: %s", w)
	}
	for _, n := range extra {
		t.Errorf("not expected: %s", n)
	}
	for _, w := range Unframed(c.Wants, notes) {
		t.Errorf("says nothing of the frames: %s", w)
	}
	own := 0
	for _, w := range c.Wants {
		if w.Check == c.Check {
			own++
		}
	}
	switch {
	case c.Kind == Flaw && own == 0:
		t.Errorf("a flaw of %s expects no note of it", c.Check)
	case c.Kind == Near && own > 0:
		t.Errorf("a near miss of %s expects a note of it", c.Check)
	case c.Kind == Proper && len(c.Wants) > 0:
		t.Errorf("a proper scene expects notes")
	}
}

// reword writes the file want anew with the present words of the notes.
func (c *Case) reword(t *testing.T, notes []Got) {
	left := append([]Got(nil), notes...)
	changed := false
	for i := range c.Wants {
		w := &c.Wants[i]
		at := slices.IndexFunc(left, func(g Got) bool { return g.File == w.File && g.Line == w.Line && g.Check == w.Check })
		if at < 0 || w.InText {
			continue
		}
		message, _, _ := strings.Cut(left[at].Message, ";")
		changed = changed || w.Text != message
		w.Text = message
		left = slices.Delete(left, at, at+1)
	}
	if !changed {
		return
	}
	raw, err := os.ReadFile(c.path)
	if err != nil {
		t.Fatal(err)
	}
	a := txtar.Parse(raw)
	for i := range a.Files {
		if a.Files[i].Name != WantsName {
			continue
		}
		var b strings.Builder
		for _, w := range c.Wants {
			if w.InText {
				continue
			}
			if w.File != c.Scene {
				b.WriteString(w.File + ":")
			}
			fmt.Fprintf(&b, "%d %s %q\n", w.Line, w.Check, w.Text)
		}
		a.Files[i].Data = []byte(b.String())
	}
	if err := os.WriteFile(c.path, txtar.Format(a), 0o644); err != nil {
		t.Fatal(err)
	}
}
