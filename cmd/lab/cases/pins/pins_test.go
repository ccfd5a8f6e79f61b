package main

import (
	"bytes"
	"slices"
	"strings"
	"testing"

	"curvelint/cmd/lab/cases"
	"curvelint/diagnostics/checks"
)

func moved(names ...string) (list []cases.Moved) {
	for _, n := range names {
		list = append(list, cases.Moved{Change: cases.Change{Check: "pop", Setting: n}, Up: true})
	}
	return list
}

func TestTable(t *testing.T) {
	check := checks.Find("pop")
	all := cases.Moves(check)
	held := map[string][]string{}
	for _, m := range all[2:] {
		held[m.String()] = []string{"flaw-perch"}
	}
	var b bytes.Buffer
	open := table(&b, check, held)
	if !slices.Equal(open, all[:2]) {
		t.Errorf("open: %v", open)
	}
	if got := strings.Count(b.String(), "MISSING"); got != 2 {
		t.Errorf("%d missing in\n%s", got, b.String())
	}
	if got := strings.Count(b.String(), "flaw-perch"); got != len(all)-2 {
		t.Errorf("%d held in\n%s", got, b.String())
	}
}

// One scene for two changes is better than two, unless it is much larger.
func TestCover(t *testing.T) {
	a, b := candidate{pins: []string{"a x1.5"}, size: 5_000}, candidate{pins: []string{"b x1.5"}, size: 5_000}
	both := candidate{pins: []string{"a x1.5", "b x1.5"}, size: 8_000}
	chosen, left := cover(moved("a", "b", "c"), []candidate{a, b, both})
	if len(chosen) != 1 || chosen[0].size != both.size || !slices.Equal(left, []string{"c x1.5"}) {
		t.Errorf("chosen %v, left %v", chosen, left)
	}
	both.size = 90_000
	if chosen, left = cover(moved("a", "b"), []candidate{a, b, both}); len(chosen) != 2 || len(left) != 0 {
		t.Errorf("chosen %v, left %v", chosen, left)
	}
}

// What the search prints drafts the scene that it looked at.
func TestCommand(t *testing.T) {
	d := draft{check: "pop", seed: 3, how: " -near", form: forms[0]}
	d.form.Before, d.form.After, d.form.Pace, d.form.Amount = 0.8, 0.8, 0.5, 2
	want := "go run ./cmd/lab/cases/draft -check pop -seed 3 -near -format bvh -rate 24 -around 0.8 -digits 0 -pace 0.5 -amount 2 -o testdata/checks/pop/near-NAME.txtar"
	if got := d.command(); got != want {
		t.Errorf("got %s", got)
	}
}

// A search for something that the corpus has finds it, at a size and in a form
// that were asked for.
func TestLook(t *testing.T) {
	found, _, err := look(t.Context(), checks.Find("pop"), cases.Moves(checks.Find("pop")), 12, 30_000)
	if err != nil {
		t.Fatal(err)
	}
	if len(found) == 0 {
		t.Fatal("twelve seeds hold nothing")
	}
	for _, c := range found {
		if c.size > 30_000 || len(c.pins) == 0 || !strings.Contains(c.command, "-check pop -seed ") {
			t.Errorf("%+v", c)
		}
	}
}
