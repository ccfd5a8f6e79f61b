package sheet

import (
	"math"
	"strings"
	"testing"

	"curvelint/cmd/lab/designed"
)

// Values at frames of a shot at 24 a second, from the closed forms.
func TestChannels(t *testing.T) {
	for _, tt := range []struct {
		does string
		want map[int]float64 // by display frame
	}{
		{"rest 12", map[int]float64{1: 12, 40: 12}},
		{"10-22 even 24", map[int]float64{9: 0, 10: 0, 11: 2, 16: 12, 22: 24, 30: 24}},
		{"10-22 ease 24", map[int]float64{10: 0, 13: 24 * (10.0/64 - 15.0/256 + 6.0/1024), 16: 12, 22: 24}},
		{"10-22 smooth 24", map[int]float64{13: 24 * (3.0/16 - 2.0/64), 22: 24}},
		{"10-22 out 24", map[int]float64{16: 24 * 7.0 / 8}},
		{"10-22 in 24", map[int]float64{16: 24 * 1.0 / 8}},
		{"10-20 trapezoid 9 0.1", map[int]float64{11: 0.5, 12: 1.5, 15: 4.5, 20: 9}},
		{"10-22 swell 8", map[int]float64{10: 0, 16: 8, 22: 0}},
		{"14 jump 3", map[int]float64{13: 0, 14: 3, 15: 0}},
		{"14 step 3", map[int]float64{13: 0, 14: 3, 48: 3}},
		{"wave 2 36 0.25", map[int]float64{1: 2, 10: 0, 19: -2, 37: 2}},
	} {
		s, err := Shot("rate 24; last 48; part gull at 1 2 3\ngull.tx " + tt.does + " # what it does")
		if err != nil {
			t.Errorf("%s: %v", tt.does, err)
			continue
		}
		take := s.Take(24)
		if take.N != 48 {
			t.Fatalf("%d frames", take.N)
		}
		for f, want := range tt.want {
			if got := take.Rows[0].Move[f-1].X - 1; math.Abs(got-want) > 1e-9 {
				t.Errorf("%s: at frame %d %g, want %g", tt.does, f, got, want)
			}
		}
	}
}

// What lines say of a channel adds up, and a hold shows the sum on twos.
func TestHold(t *testing.T) {
	s, err := Shot("rate 12; last 20; figure weights Mask; jaw.w rest 0.1; jaw.w 3-13 even 0.5; jaw.w hold 2")
	if err != nil {
		t.Fatal(err)
	}
	jaw := s.Take(12).Rows[s.Find("jaw")].Value
	for f, want := range map[int]float64{3: 0.1, 4: 0.1, 5: 0.2, 6: 0.2, 7: 0.3, 14: 0.6} {
		if math.Abs(jaw[f-1]-want) > 1e-9 {
			t.Errorf("at frame %d %g, want %g", f, jaw[f-1], want)
		}
	}
}

func TestParts(t *testing.T) {
	s, err := Shot("figure body Tug 0.5; part winch at 0 40 0; part winch/drum at 1 0 0; weight head/smile; Tug/hips.tx rest 2")
	if err != nil {
		t.Fatal(err)
	}
	if p := s.Path(s.Find("drum")); p != "/winch/drum" {
		t.Error(p)
	}
	if p := &s.Parts[s.Find("smile")]; p.Kind != designed.Weight || p.Parent != s.Find("head") {
		t.Errorf("%+v", p)
	}
	for _, kind := range []string{"body", "beast", "bird", "face", "weights", "tail"} {
		if _, err := Shot("figure " + kind + " Tug"); err != nil {
			t.Error(err)
		}
	}
}

// A mistake is told with the line in which it is.
func TestMistakes(t *testing.T) {
	for line, say := range map[string]string{
		"":                        "no part",
		"rate -1":                 "above 0",
		"last 1e9":                "between 2 and",
		"figure crab Tug":         "no figure is called",
		"figure body":             "expected figure KIND NAME",
		"part a at 1 2":           "expected part PATH at",
		"part b/c at 1 2 3":       "no part \"b\"",
		"part /x/ at 1 2 3":       "names no part",
		"weight smile":            "belongs to a part",
		"nod 1-4 ease 3":          "a part and its channel",
		"gull.q 1-4 ease 3":       "no channel is called",
		"gull.w 1-4 ease 3":       "no channel is called",
		"gull.tx":                 "what the channel does",
		"gull.tx 1-4 glide 3":     "no way is called",
		"gull.tx 4-1 ease 3":      "expected frames",
		"gull.tx 1-4 ease":        "1 to 2 numbers",
		"gull.tx 1-4 ease 3 4":    "takes one number",
		"gull.tx 1-4 trapezoid 3": "the share",
		"gull.tx 1-4 jump 3":      "at one frame",
		"gull.tx wave 1 0":        "longer than no frames",
		"gull.tx hold 0":          "for a frame or more",
		"gull.tx rest NaN":        "no number",
		"gull.tx soon ease 3":     "expected frames such as",
		"part gull/gull at 1 2 3; gull.tx rest 1": "both /gull and /gull/gull",
	} {
		text := "part gull at 0 0 0; " + line
		if line == "" || strings.HasPrefix(line, "rate") {
			text = line
		}
		_, err := Shot(text)
		if err == nil || !strings.Contains(err.Error(), say) {
			t.Errorf("%q: got %v, want %q", line, err, say)
		}
	}
}
