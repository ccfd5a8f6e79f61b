package staging_test

import (
	"fmt"
	"strings"
	"testing"

	"curvelint/cmd/lab/cases"
	"curvelint/diagnostics/checks/staging"
)

// The frames of a note are those that its message names, its measures and weight
// what was measured over them.
func TestNotesSayWhatTheyMeasure(t *testing.T) {
	seen := 0
	for _, check := range staging.Checks {
		list, err := cases.Of(check.ID)
		if err != nil {
			t.Fatal(err)
		}
		for _, c := range list {
			s, err := c.Study()
			if err != nil {
				t.Fatal(err)
			}
			r := s.Judge(t.Context())
			for _, n := range r.Notes {
				if n.Check != check.ID {
					continue
				}
				seen++
				span := fmt.Sprintf("frames %g-%g: ", n.First, n.Last)
				if !strings.HasPrefix(n.Message, span) || len(n.Measures) == 0 || !(n.Weight > 0) || len(n.Causes) == 0 {
					t.Errorf("%s %s: %v", check.ID, c.Name, n)
					continue
				}
				seconds := (n.Last - n.First) / r.Study.Rate
				m, far := n.Measures[0], false
				switch m.Name {
				case "time", "outside":
					far = m.Value != n.Last-n.First+1 || m.Value/r.Study.Rate < 0.125
				case "speed":
					// What pulls the eye weighs by how far it goes.
					fig := r.Study.FigureOf(n.PartID)
					tenths := n.Weight / (m.Value * seconds)
					far = fig == nil || tenths <= 0 || tenths > 1 || m.Value <= 2*n.Measures[1].Value
				}
				if far {
					t.Errorf("%s %s: %+v of %s", check.ID, c.Name, n.Measures, n.Message)
				}
			}
		}
	}
	if seen < 20 {
		t.Errorf("%d notes", seen)
	}
}
