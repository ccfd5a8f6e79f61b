package corpus

import (
	"context"
	"math"

	"curvelint/cmd/lab/designed/natural"
	"curvelint/diagnostics"
	"curvelint/diagnostics/checks"
	"curvelint/diagnostics/checks/kit"
	"curvelint/diagnostics/config"
	"curvelint/parse"
	"curvelint/parse/scene"
)

// Sweep is a threshold of a check and the values it is tried at.
type Sweep struct {
	Check, Setting string
	Values         []float64
	// Along are settings that are changed in the same proportion.
	Along []string
}

// Sweeps are the thresholds of the five main checks.
var Sweeps = []Sweep{
	{"same-frame", "window", []float64{0.001, 1. / 96, 1. / 48, 1. / 32, 1. / 24, 1. / 16, 1. / 12, 1. / 8}, nil},
	{"even-spacing", "contrast", []float64{0.01, 0.02, 0.03, 0.05, 0.07, 0.1, 0.15, 0.2, 0.3, 0.5, 0.8}, nil},
	{"frozen-hold", "min_time", []float64{0.08, 0.12, 0.17, 0.25, 0.33, 0.5, 0.7, 1, 1.5, 2}, []string{"min_end_time"}},
	{"hitch", "depth", []float64{0.1, 0.2, 0.3, 0.4, 0.5, 0.55, 0.6}, nil},
	{"pop", "min_jump", []float64{0.0005, 0.001, 0.0025, 0.005, 0.01, 0.02, 0.04, 0.08},
		[]string{"min_turn", "min_swing", "min_value", "min_step"}},
}

// Operating is how a check does with one value of a threshold.
type Operating struct {
	Value float64
	// Found of Planted flaws were noted; False of Proper scenes without the
	// flaw got a note as well.
	Found, Planted, False, Proper int
}

// Run judges the flaws of n seeds, as many near misses, and n/4 scenes of each
// kind of natural motion, with every value of the threshold.
func (w Sweep) Run(ctx context.Context, n int) ([]Operating, error) {
	out := make([]Operating, len(w.Values))
	for i, v := range w.Values {
		out[i].Value = v
	}
	for i := range n {
		for _, flawed := range []bool{true, false} {
			c, err := Make(w.Check, 2*i, flawed)
			if err != nil {
				return nil, err
			}
			w.try(ctx, &c, out)
		}
	}
	for _, k := range natural.Kinds {
		for i := range max(n/4, 1) {
			c, err := MakeNatural(k, 2*i)
			if err != nil {
				return nil, err
			}
			w.try(ctx, &c, out)
		}
	}
	return out, ctx.Err()
}

// try judges one scene with every value.
func (w Sweep) try(ctx context.Context, c *Case, out []Operating) {
	sc := parse.Parse(c.File, c.Text, scene.ReadOptions{Rate: math.Max(c.Rate, 0)})
	study, _ := diagnostics.Judge{Config: &c.Config}.Study(sc)
	for i := range out {
		noted, found := false, false
		cfg := w.configured(c.Config, out[i].Value)
		for _, n := range (diagnostics.Judge{Config: &cfg, Selection: diagnostics.Selection{Only: []string{w.Check}}}).Notes(ctx, study).Notes {
			if n.Check == w.Check && counts(&n) {
				noted = true
				found = found || c.Kind == Flaw && c.Meant(sc, &n)
			}
		}
		switch {
		case c.Kind == Flaw:
			out[i].Planted++
			if found {
				out[i].Found++
			}
		default:
			out[i].Proper++
			if noted {
				out[i].False++
			}
		}
	}
}

// Default is the threshold's own value.
func (w Sweep) Default() kit.SettingInfo {
	for _, s := range checks.Find(w.Check).Settings {
		if s := s.About(); s.Name == w.Setting {
			return s
		}
	}
	return kit.SettingInfo{}
}

// configured adds the threshold to a configuration.
func (w Sweep) configured(c config.Config, value float64) config.Config {
	settings := map[string]float64{w.Setting: value}
	times := value / w.Default().Default
	for _, s := range checks.Find(w.Check).Settings {
		for _, name := range w.Along {
			if s := s.About(); s.Name == name {
				settings[name] = s.Default * times
			}
		}
	}
	c.Checks = map[string]config.Check{w.Check: {Settings: settings}}
	return c
}
