package body

import "testing"

func TestShortTrips(t *testing.T) {
	for name, tt := range map[string]struct {
		v    []float64
		want bool
	}{
		"a blink":              {[]float64{0, 0, 9, 9, 0, 0}, true},
		"two, both ways":       {[]float64{0, 9, 0, 0, -9, 0}, true},
		"stays away":           {[]float64{0, 9, 9, 9, 9, 0}, false},
		"does not come back":   {[]float64{0, 0, 0, 0, 9, 9}, false},
		"comes back only":      {[]float64{9, 9, 0, 0, 0, 0}, false},
		"a ramp about nothing": {[]float64{-9, -6, -2, 2, 6, 9}, false},
		"rests":                {[]float64{0, 1, 0, -1, 0, 0}, false},
		"nothing":              {nil, false},
	} {
		if got := shortTrips(tt.v, 3, 3); got != tt.want {
			t.Errorf("%s: %v, want %v", name, got, tt.want)
		}
	}
}
