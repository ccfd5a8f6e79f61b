package chart

import (
	"image/color"
	"math"
	"testing"
)

// linear returns the linear light of an sRGB component, IEC 61966-2-1 (from
// memory).
func linear(v uint8) float64 {
	c := float64(v) / 255
	if c <= 0.04045 {
		return c / 12.92
	}
	return math.Pow((c+0.055)/1.055, 2.4)
}

func light3(c color.NRGBA) [3]float64 { return [3]float64{linear(c.R), linear(c.G), linear(c.B)} }

// contrast is the contrast ratio of WCAG 2.1, definition "contrast ratio" (from
// memory).
func contrast(a, b color.NRGBA) float64 {
	l := func(c color.NRGBA) float64 {
		v := light3(c)
		return 0.2126*v[0] + 0.7152*v[1] + 0.0722*v[2]
	}
	hi, lo := max(l(a), l(b)), min(l(a), l(b))
	return (hi + 0.05) / (lo + 0.05)
}

// Text has a contrast of 4.5 and signs one of 3 to what is behind them: WCAG
// 2.1, success criteria 1.4.3 and 1.4.11.
func TestContrast(t *testing.T) {
	for name, p := range map[string]palette{"light": light, "dark": dark} {
		for what, c := range map[string]color.NRGBA{"ink": p.ink, "quiet": p.quiet} {
			if k := contrast(c, p.paper); k < 4.5 {
				t.Errorf("%s: %s on paper has a contrast of %.2f", name, what, k)
			}
		}
		for what, behind := range map[string]color.NRGBA{"paper": p.paper, "note": p.note} {
			for i, c := range append([]color.NRGBA{p.now, p.before}, p.series[:]...) {
				if k := contrast(c, behind); k < 3 {
					t.Errorf("%s: line %d on %s has a contrast of %.2f", name, i, what, k)
				}
			}
			if k := contrast(p.ink, behind); k < 4.5 {
				t.Errorf("%s: ink on %s has a contrast of %.2f", name, what, k)
			}
		}
	}
}

// lab returns CIE L*a*b* of linear sRGB under D65 (from memory).
func lab(v [3]float64) [3]float64 {
	f := func(t float64) float64 {
		if t > 216.0/24389 {
			return math.Cbrt(t)
		}
		return (24389.0/27*t + 16) / 116
	}
	x := f((0.4124*v[0] + 0.3576*v[1] + 0.1805*v[2]) / 0.9505)
	y := f(0.2126*v[0] + 0.7152*v[1] + 0.0722*v[2])
	z := f((0.0193*v[0] + 0.1192*v[1] + 0.9505*v[2]) / 1.089)
	return [3]float64{116*y - 16, 500 * (x - y), 200 * (y - z)}
}

// deficient are the matrices in linear sRGB of people who lack one kind of
// cones: G. M. Machado, M. M. Oliveira, L. A. F. Fernandes, "A physiologically-
// based model for simulation of color vision deficiency", IEEE Transactions on
// Visualization and Computer Graphics 15 (2009), severity 1 (from memory).
var deficient = map[string][3][3]float64{
	"everybody":    {{1, 0, 0}, {0, 1, 0}, {0, 0, 1}},
	"protanopia":   {{0.152286, 1.052583, -0.204868}, {0.114503, 0.786281, 0.099216}, {-0.003882, -0.048116, 1.051998}},
	"deuteranopia": {{0.367322, 0.860646, -0.227968}, {0.280085, 0.672501, 0.047413}, {-0.011820, 0.042940, 0.968881}},
	"tritanopia":   {{1.255528, -0.076749, -0.178779}, {-0.078411, 0.930809, 0.147602}, {0.004733, 0.691367, 0.303900}},
}

// The two passes, and notes behind either, are told apart by everybody: at
// least 20 apart in L*a*b*, where 2.3 is what one can just notice (M. Mahy and
// others, Color Research and Application 19 (1994), from memory).
func TestColourBlind(t *testing.T) {
	for name, p := range map[string]palette{"light": light, "dark": dark} {
		for who, m := range deficient {
			see := func(c color.NRGBA) [3]float64 {
				v := light3(c)
				var out [3]float64
				for i := range out {
					out[i] = min(max(m[i][0]*v[0]+m[i][1]*v[1]+m[i][2]*v[2], 0), 1)
				}
				return lab(out)
			}
			for what, pair := range map[string][2]color.NRGBA{
				"now and before": {p.now, p.before}, "now and note": {p.now, p.note},
				"before and note": {p.before, p.note}, "note and paper": {p.note, p.paper},
			} {
				a, b := see(pair[0]), see(pair[1])
				if d := math.Hypot(math.Hypot(a[0]-b[0], a[1]-b[1]), a[2]-b[2]); d < 20 {
					t.Errorf("%s: %s are %.0f apart to %s", name, what, d, who)
				}
			}
		}
	}
}
