package cases

import (
	"context"
	"fmt"
	"maps"
	"slices"
	"testing"

	"curvelint/diagnostics/checks/kit"
)

// unfelt are the limits that can be moved by half, one way or both, without a
// labelled case noticing, by check and name with the direction, and why.
var unfelt = map[string]map[string]string{
	"uniform-drift": {
		"before_hold x1.5": followed,
		"before_hold /1.5": followed,
	},
	"loose-settle": {
		"stands_still x1.5": "a joint that follows the body while its hand slides a little more could have a note beside the body's, and an animator sees one settle",
	},
	"kinked-arc": {
		"rounding x1.5": rounding,
		"rounding /1.5": rounding,
	},
}

const (
	followed = "it tells only where a drift is anchored that no channel of the figure makes, as when the deck beside it goes"
	rounding = "the rounding of float64 shows in no scene"
)

// Limits fails for each limit of the checks that can be moved by half without a
// labelled case of the check noticing. It changes the limits for a time and must
// not run beside other tests of them.
func Limits(t *testing.T, checks ...*kit.Check) {
	for _, check := range checks {
		t.Run(check.ID, func(t *testing.T) {
			list, err := Of(check.ID)
			if err != nil {
				t.Fatal(err)
			}
			felt, err := feltLimits(t.Context(), check, list)
			if err != nil {
				t.Fatal(err)
			}
			for _, m := range slices.Sorted(maps.Keys(felt)) {
				by := felt[m]
				why, exempt := unfelt[check.ID][m]
				switch {
				case exempt && by != "":
					t.Errorf("%s is felt by %s, though it is said not to be (%s)", m, by, why)
				case !exempt && by == "":
					t.Errorf("no labelled case of %s changes at %s", check.ID, m)
				}
			}
			for m := range unfelt[check.ID] {
				if _, known := felt[m]; !known {
					t.Errorf("%s has no %q to leave unfelt", check.ID, m)
				}
			}
		})
	}
}

// feltLimits returns for each move of a limit the first case whose notes it
// changes, "" for none.
func feltLimits(ctx context.Context, check *kit.Check, list []*Case) (map[string]string, error) {
	var studied []*Studied
	var usual [][]Got
	for _, k := range list {
		s, err := k.Study()
		if err != nil {
			return nil, fmt.Errorf("%s: %w", k.Name, err)
		}
		studied, usual = append(studied, s), append(usual, s.Own(ctx))
	}
	felt := map[string]string{}
	for _, l := range check.Limits {
		was := l.Value
		for name, v := range map[string]float64{l.Name + " x1.5": was * apart, l.Name + " /1.5": was / apart} {
			felt[name] = ""
			l.Value = v
			for i, s := range studied {
				if !slices.Equal(usual[i], s.Own(ctx)) {
					felt[name] = list[i].Name
					break
				}
			}
			l.Value = was
		}
	}
	return felt, nil
}
