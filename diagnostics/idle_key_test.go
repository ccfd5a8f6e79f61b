package diagnostics_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"curvelint/diagnostics"
	"curvelint/diagnostics/config"
)

// drum is a winch drum (invented data) that turns by the keys of one spline.
func drum(keys ...string) []byte {
	return []byte(`#usda 1.0
(
    startTimeCode = 0
    endTimeCode = 48
    timeCodesPerSecond = 24
)

def Xform "drum"
{
    float xformOp:rotateX.spline = {
        ` + strings.Join(keys, "\n        ") + `
    }
    uniform token[] xformOpOrder = ["xformOp:rotateX"]
}
`)
}

// Hermite cubics (OpenUSD's splines; the weights are those of any handbook, from
// memory): between (0, 0) and (24, 10) with no slope at the ends a curve is at 5
// with slope 0.625 in the middle, and a key there does nothing.
func TestIdleKeysOfSplines(t *testing.T) {
	key := func(at, v, slope float64) string {
		return fmt.Sprintf("%g: %g; pre (%g); post curve (%g),", at, v, slope, slope)
	}
	start, top, end := key(0, 0, 0), key(24, 10, 0), key(48, 0, 0)
	var run []string // the way up in 47 keys
	for i := 1; i < 48; i++ {
		s := float64(i) / 48
		run = append(run, key(192*s, 10*s*s*(3-2*s), 60*s*(1-s)/192))
	}
	tests := map[string]struct {
		keys []string
		want []string // first and last frame
	}{
		"on the slope":           {[]string{"hermite,", start, key(12, 5, 0.625), top, end}, []string{"12-12"}},
		"with rounded digits":    {[]string{"hermite,", start, key(7, 2.056, 0.517), top, end}, []string{"7-7"}},
		"another slope":          {[]string{"hermite,", start, key(12, 5, 0.7), top, end}, nil},
		"another value":          {[]string{"hermite,", start, key(12, 5.1, 0.625), top, end}, nil},
		"whole degrees":          {[]string{"hermite,", start, key(12, 5, 0.6), top, end}, nil},
		"a long run":             {slices.Concat([]string{"hermite,", start}, run, []string{key(192, 10, 0), key(240, 0, 0)}), []string{"4-188"}},
		"the peak":               {[]string{"hermite,", start, top, end}, nil},
		"a hold with three keys": {[]string{"hermite,", start, key(12, 10, 0), key(20, 10, 0), top, end}, []string{"20-20"}},
		"keyed with the poses":   {[]string{"hermite,", key(0, 3, 0), key(12, 3, 0), key(24, 3, 0), key(48, 3, 0)}, nil},
		"handles that grow":      {[]string{"bezier,", "0: 0; post curve (4, 0),", "12: 5; pre (4, 0.625); post curve (4, 0.625),", "24: 10; pre (4, 0),"}, nil},
	}
	for name, tt := range tests {
		cfg := &config.Config{}
		r := diagnostics.Judge{Config: cfg}.Scene(t.Context(), diagnostics.Read("drum.usda", drum(tt.keys...), cfg, nil))
		for _, p := range r.Study.Scene.Problems {
			t.Errorf("%s: %s", name, p.Message)
		}
		var got []string
		for _, n := range r.Notes {
			if n.Check == "idle-key" {
				got = append(got, fmt.Sprintf("%g-%g", n.First, n.Last))
			}
		}
		if !slices.Equal(got, tt.want) {
			t.Errorf("%s: idle keys at %q, want %q", name, got, tt.want)
		}
	}
}

// Where keys were set in whole degrees, half a degree is no noise.
func TestIdleKeysInWholeDegrees(t *testing.T) {
	src := strings.NewReplacer("spline = {", "timeSamples = {").Replace(string(drum("0: 0,", "12: 5,", "24: 11,", "48: 0,")))
	cfg := &config.Config{}
	for _, n := range (diagnostics.Judge{Config: cfg}).Scene(t.Context(), diagnostics.Read("drum.usda", []byte(src), cfg, nil)).Notes {
		if n.Check == "idle-key" {
			t.Errorf("a key half a degree off the line between its neighbours: %s", n.Message)
		}
	}
}
