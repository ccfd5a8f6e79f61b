package text

import (
	"bytes"
	"fmt"
	"math"
	"math/rand/v2"
	"strconv"
	"strings"
	"testing"
)

func TestFloat(t *testing.T) {
	inf := math.Inf(1)
	tests := []struct {
		in       string
		want     float64
		length   int
		decimals int
	}{
		{"0", 0, 1, 0},
		{"-0.0", math.Copysign(0, -1), 4, 1},
		{"+12.50", 12.5, 6, 2},
		{".5", 0.5, 2, 1},
		{"-.25,", -0.25, 4, 2},
		{"7.", 7, 2, 0},
		{"1.5x", 1.5, 3, 1},
		{"1e3", 1000, 3, -3},
		{"2E-3 ", 0.002, 4, 3},
		{"1.25e+02", 125, 8, 0},
		{"1e", 1, 1, 0},
		{"1e+", 1, 1, 0},
		{"1.5e-x", 1.5, 3, 1},
		{"1.2.3", 1.2, 3, 1},
		{"--1", 0, 0, 0},
		{"12-3", 12, 2, 0},
		{"0x10", 0, 1, 0},
		{"1_000", 1, 1, 0},
		{"inf", inf, 3, 0},
		{"-Infinity", -inf, 9, 0},
		{"+INF)", inf, 4, 0},
		{"NaN", math.NaN(), 3, 0},
		{"-nan(ind)", math.NaN(), 4, 0},
		{"1e999", inf, 5, -999},
		{"-1e999", -inf, 6, -999},
		{"1e-999", 0, 6, 999},
		{"1e99999999999999999999", inf, 22, -9999999},
		{"123456789012345678901234567890", 123456789012345678901234567890, 30, 0},
		{"0.1234567890123456789012345", 0.1234567890123456789012345, 27, 25},
		{"-179.99999237060547", -179.99999237060547, 19, 14},
	}
	for _, tt := range tests {
		v, end, decimals, ok := FloatStep([]byte(tt.in), 0)
		if ok != (tt.length > 0) || end != tt.length {
			t.Errorf("%q: ok %v, end %d, want end %d", tt.in, ok, end, tt.length)
			continue
		}
		if math.Float64bits(v) != math.Float64bits(tt.want) && !(v != v && tt.want != tt.want) {
			t.Errorf("%q: %v, want %v", tt.in, v, tt.want)
		}
		if decimals != tt.decimals && !strings.Contains(tt.in, "9999999") {
			t.Errorf("%q: %d decimals, want %d", tt.in, decimals, tt.decimals)
		}
	}
}

func TestFloatRejects(t *testing.T) {
	for _, in := range []string{"", "-", "+", ".", "-.", "e5", ".e5", "x", " 1", "in", "na", "-i", "None", "infx"[:2]} {
		if v, end, ok := Float([]byte(in), 0); ok || end != 0 {
			t.Errorf("%q: read as %v up to %d", in, v, end)
		}
	}
	for _, i := range []int{-1, 3, 99} {
		if _, _, ok := Float([]byte("1 2"), i); ok {
			t.Errorf("a number outside the text at %d", i)
		}
	}
}

// checkAgainstStrconv holds Float to strconv.ParseFloat on s, with and without
// bytes behind it.
func checkAgainstStrconv(t *testing.T, s string) {
	t.Helper()
	want, err := strconv.ParseFloat(s, 64)
	if err != nil && !strings.Contains(err.Error(), "range") {
		t.Fatalf("bad test input %q", s)
	}
	for _, tail := range tails {
		v, end, ok := Float([]byte(s+tail), 0)
		if !ok || end != len(s) || math.Float64bits(v) != math.Float64bits(want) {
			t.Fatalf("%q before %q: %v (%x) to %d, want %v (%x)", s, tail, v, math.Float64bits(v), end, want, math.Float64bits(want))
		}
	}
}

// tails are what may stand behind a number; it is read in other ways near the
// end of the text.
var tails = func() []string {
	long := strings.Repeat("12345678 ", 4)
	return []string{"", " ", ", 1.25 12345678", "," + long, "\n" + long, ")" + long, "x" + long, "-" + long, " .e" + long}
}()

func TestFloatAwkward(t *testing.T) {
	for _, s := range []string{
		// Halfway between two float64s and a hair off, 2^53 and its neighbours.
		"9007199254740991", "1234567.123456789012345", "7654321.0000000000005", "9007199.254740993", "99999999", "0000001.5", ".1234567890123456", "9007199254740992", "9007199254740993", "9007199254740994", "9007199254740995",
		"9007199254740993.0", "9007199254740993.00001", "900719925474099.3", "0.9007199254740993",
		"18014398509481985", "18446744073709551615", "18446744073709551616", "9999999999999999999",
		"1.00000000000000011102230246251565404236316680908203125",
		"1.00000000000000011102230246251565404236316680908203124",
		"1.00000000000000011102230246251565404236316680908203126",
		"0.000000000000000000000000001", "1e22", "1e23", "8.5e23", "1e27", "1e28", "1e-27", "1e-28",
		"2.2250738585072014e-308", "2.2250738585072011e-308", "4.9e-324", "2.4e-324", "1.7976931348623157e308",
		"1.7976931348623159e308", "1e400", "6.02214076e23", "7.3177701707893310e15", "4503599627370496.5",
		"4503599627370497.5", "00000000000000000000000012.5", "0.00000000000000000000000000000000000012345",
	} {
		checkAgainstStrconv(t, s)
		checkAgainstStrconv(t, "-"+s)
	}
}

func TestFloatRandom(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	formats := []byte{'f', 'e', 'g', 'G', 'E'}
	for range 200000 {
		v := math.Float64frombits(r.Uint64())
		if r.IntN(2) == 0 {
			v = (r.Float64() - 0.5) * math.Pow(10, float64(r.IntN(30)-10))
		}
		if v != v || math.IsInf(v, 0) {
			continue
		}
		format := formats[r.IntN(len(formats))]
		if format == 'f' && math.Abs(v) > 1e30 {
			format = 'e'
		}
		checkAgainstStrconv(t, strconv.FormatFloat(v, format, r.IntN(25)-1, 64))
	}
}

// TestFloatDigits tries every count of digits before and behind the point with
// random digits, where the exact path changes to the others.
func TestFloatDigits(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	for before := range 24 {
		for behind := range 30 {
			for range 40 {
				var b []byte
				for range before {
					b = append(b, byte('0'+r.IntN(10)))
				}
				b = append(b, '.')
				for range behind {
					b = append(b, byte('0'+r.IntN(10)))
				}
				if before+behind > 0 {
					checkAgainstStrconv(t, string(b))
				}
			}
		}
	}
}

func TestStep(t *testing.T) {
	for _, tt := range []struct {
		decimals int
		want     float64
	}{{0, 1}, {3, 0.001}, {6, 1e-6}, {-2, 100}, {30, 1e-30}, {-30, 1e30}, {400, 0}} {
		if got := Step(tt.decimals); math.Abs(got-tt.want) > 1e-12*tt.want {
			t.Errorf("Step(%d) = %v, want %v", tt.decimals, got, tt.want)
		}
	}
}

func FuzzFloat(f *testing.F) {
	for _, s := range []string{"1", "-0.5e3", ".", "inf", "nan", "1e", "9007199254740993", "123456789.123456789e-5", "1e999"} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, src []byte) {
		v, end, ok := Float(src, 0)
		if far, farEnd, farOK := Float(append(src[:len(src):len(src)], tails[3]...), 0); farOK != ok || farEnd != end || far != v && v == v {
			t.Fatalf("%q: %v to %d, but %v to %d with more text behind", src, v, end, far, farEnd)
		}
		if !ok {
			if end != 0 {
				t.Fatalf("%q: no number but end %d", src, end)
			}
			return
		}
		digits := src[:end]
		if v != v {
			// C libraries print the sign of a NaN, strconv refuses it.
			digits = bytes.TrimLeft(digits, "+-")
		}
		want, err := strconv.ParseFloat(string(digits), 64)
		if err != nil && !strings.Contains(err.Error(), "range") {
			t.Fatalf("%q: read %q, which is no number", src, src[:end])
		}
		if math.Float64bits(v) != math.Float64bits(want) && !(v != v && want != want) {
			t.Fatalf("%q: %v, want %v", src[:end], v, want)
		}
	})
}

// numbers prints n numbers of an invented swing with a verb, space separated.
func numbers(n int, verb string) []byte {
	r := rand.New(rand.NewPCG(5, 6))
	var b bytes.Buffer
	for i := range n {
		fmt.Fprintf(&b, verb+" ", 120*math.Sin(float64(i)*0.01)*r.Float64())
	}
	return b.Bytes()
}

// BenchmarkFloat reads a list of numbers with Float and, as the baseline, with
// a plain loop of strconv.ParseFloat; ratio is how many times faster Float is.
func BenchmarkFloat(b *testing.B) {
	for _, verb := range []string{"%.6f", "%.4f", "%g", "%.17g", "%d"} {
		src := numbers(100000, strings.Replace(verb, "%d", "%.0f", 1))
		b.Run(verb, func(b *testing.B) {
			b.SetBytes(int64(len(src)))
			var mine, plain float64
			for b.Loop() {
				mine += seconds(func() { sink = sumFloat(src) })
				plain += seconds(func() { sink = sumStrconv(src) })
			}
			b.ReportMetric(float64(len(src))*float64(b.N)/mine/1e6, "MB/s-float")
			b.ReportMetric(float64(len(src))*float64(b.N)/plain/1e6, "MB/s-strconv")
			b.ReportMetric(plain/mine, "ratio")
		})
	}
}
