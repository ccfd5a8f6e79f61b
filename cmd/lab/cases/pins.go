package cases

import (
	"context"
	"fmt"
	"math"
	"slices"
	"testing"

	"curvelint/diagnostics/checks/kit"
)

// apart is how far a setting is moved to see whether a case notices: half as
// much again, and the other way.
const apart = 1.5

// Moved is a setting at another value than its default.
type Moved struct {
	Change
	Up bool
}

// String names the setting and the direction.
func (m Moved) String() string {
	arrow := "/1.5"
	if m.Up {
		arrow = "x1.5"
	}
	return fmt.Sprintf("%s %s", m.Setting, arrow)
}

// Moves are the changes that must show in some case of the check: each setting
// half as large again and the other way, within its bounds; one that is 0, up to a
// tenth of its bound; and each switch turned.
func Moves(c *kit.Check) []Moved {
	var list []Moved
	for _, setting := range c.Settings {
		s := setting.About()
		add := func(v float64, up bool) {
			v = math.Min(math.Max(v, s.Min), s.Max)
			if v != s.Default {
				list = append(list, Moved{Change{c.ID, s.Name, v}, up})
			}
		}
		if s.Unit == "" {
			add(1-s.Default, s.Default == 0)
			continue
		}
		if s.Default == 0 && s.Min == 0 {
			add(s.Max/10, true) // no share of 0 is anything else
			continue
		}
		add(s.Default*apart, true)
		add(s.Default/apart, false)
	}
	return list
}

// unpinned are the settings and directions for which a labelled case makes no
// sense, by check and Moved.String, with the reason.
var unpinned = map[string]map[string]string{}

// Exempt returns why a change needs no labelled case, "" for those that do.
func Exempt(m Moved) string { return unpinned[m.Check][m.String()] }

// Pinned returns, for each change, the cases whose notes it changes.
func Pinned(ctx context.Context, c *kit.Check, list []*Case) (map[string][]string, error) {
	out := map[string][]string{}
	for _, k := range list {
		s, err := k.Study()
		if err != nil {
			return nil, fmt.Errorf("%s: %w", k.Name, err)
		}
		usual := s.Own(ctx)
		for _, m := range Moves(c) {
			if !slices.Equal(usual, s.Own(ctx, m.Change)) {
				out[m.String()] = append(out[m.String()], k.Name)
			}
		}
	}
	return out, nil
}

// Pins fails for each setting of the checks that can be moved by half without a
// labelled case noticing.
func Pins(t *testing.T, checks ...*kit.Check) {
	for _, check := range checks {
		t.Run(check.ID, func(t *testing.T) {
			t.Parallel()
			list, err := Of(check.ID)
			if err != nil {
				t.Fatal(err)
			}
			pinned, err := Pinned(t.Context(), check, list)
			if err != nil {
				t.Fatal(err)
			}
			known := map[string]bool{}
			for _, m := range Moves(check) {
				known[m.String()] = true
				why, exempt := unpinned[check.ID][m.String()]
				switch {
				case exempt && len(pinned[m.String()]) > 0:
					t.Errorf("%s is pinned by %v, though it is said not to be (%s)", m, pinned[m.String()], why)
				case !exempt && len(pinned[m.String()]) == 0:
					t.Errorf("no labelled case of %s changes at %s; `go run ./cmd/lab/cases/pins -search 40 %s` looks for one", check.ID, m, check.ID)
				}
			}
			for m := range unpinned[check.ID] {
				if !known[m] {
					t.Errorf("%s has no %q to leave unpinned", check.ID, m)
				}
			}
		})
	}
}
