package timing_test

import (
	"fmt"
	"strings"
	"testing"

	"curvelint/cmd/lab/cases"
	"curvelint/diagnostics/checks/timing"
)

// A note is about the frames that its message names; that of a late follower is
// about the answer, too. It says what was measured and what it explains.
func TestNotesSayWhatTheyMeasure(t *testing.T) {
	seen := 0
	for _, check := range timing.Checks {
		list, err := cases.Of(check.ID)
		if err != nil {
			t.Fatal(err)
		}
		for _, c := range list {
			s, err := c.Study()
			if err != nil {
				t.Fatal(err)
			}
			for _, n := range s.Judge(t.Context()).Notes {
				if n.Check != check.ID {
					continue
				}
				seen++
				var first, last float64
				if k, _ := fmt.Sscanf(n.Message, "frames %g-%g:", &first, &last); k == 0 {
					fmt.Sscanf(strings.TrimSuffix(strings.Fields(n.Message)[1], ":"), "%g", &first)
					last = first
				}
				same := n.First == first && n.Last == last
				if check == timing.LateFollow {
					same = n.First <= first && n.Last >= last && n.First < n.Last
				}
				if !same || len(n.Measures) == 0 || !(n.Weight > 0) || len(n.Causes) == 0 {
					t.Errorf("%s %s: frames %g-%g, weight %g: %s", check.ID, c.Name, n.First, n.Last, n.Weight, n.Message)
				}
				if check == timing.RushedRead && n.Measures[0].Value != last-first {
					t.Errorf("%s: held for %g frames: %s", c.Name, n.Measures[0].Value, n.Message)
				}
			}
		}
	}
	if seen < 50 {
		t.Errorf("%d notes", seen)
	}
}
