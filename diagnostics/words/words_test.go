package words

import (
	"math"
	"testing"
)

// wording is what was written, and what is wanted.
type wording struct {
	got, want string
}

// all fails for each that is written in another way than is wanted.
func all(t *testing.T, list []wording) {
	t.Helper()
	for i, w := range list {
		if w.got != w.want {
			t.Errorf("%d: %q, want %q", i, w.got, w.want)
		}
	}
}

// Lengths are percentages of a size, one decimal below 10 and none from there.
func TestLength(t *testing.T) {
	all(t, []wording{
		{Length(0.021), "2.1 % of figure size"},
		{Length(0.02), "2 % of figure size"},
		{Length(0.0996), "10 % of figure size"}, // as it is written, it is whole
		{Length(0.0994), "9.9 % of figure size"},
		{Length(1.584), "158 % of figure size"},
		{Length(0), "0 % of figure size"},
		{Length(0.0004), "under 0.1 % of figure size"}, // it is there
		{LengthOf(0.021, 1.7), "2.1 % of figure size (3.6 cm)"},
		{LengthOf(0.021, 0), "2.1 % of figure size"}, // a file without units
		{Length(math.NaN()), "unknown % of figure size"},
	})
}

// A tenth of a degree counts up to 100 degrees.
func TestDegrees(t *testing.T) {
	all(t, []wording{
		{Degrees(12.5), "12.5 degrees"},
		{Degrees(12.04), "12 degrees"},
		{Degrees(1), "1 degree"},
		{Degrees(1.04), "1 degree"},
		{Degrees(99.94), "99.9 degrees"},
		{Degrees(99.96), "100 degrees"},
		{Degrees(181.4), "181 degrees"},
		{Degrees(-12.5), "-12.5 degrees"},
		{Degrees(0.02), "under 0.1 degrees"},
		{Degrees(0), "0 degrees"},
	})
}

// Every unit of note.Measure has its wording, and those a second too.
func TestAmount(t *testing.T) {
	all(t, []wording{
		{Amount("figure/s", 0.84), "84 % of figure size a second"},
		{Amount("degrees/s", 240.4), "240 degrees a second"},
		{Amount("degrees/s", 1), "1 degree a second"},
		{Amount("range", 0.3), "30 % of its range"},
		{Range(0.3), "30 % of its range"},
		{Amount("range/s", 1.2), "120 % of its range a second"},
		{Amount("pictures/s", 0.034), "3.4 % of picture height a second"},
		{Amount("s", 0.5), "0.5 s"},
		{Amount("frames", 3), "3 frames"},
		{Amount("count", 8), "8"},
		{Amount("ratio", 0.1), "0.10"},
		{Amount("share", 0.08), "8 %"},
		{Amount("m", 1.75), "1.75 m"},
		{Short("pictures", 0.023), "2.3 %"},
		{Short("degrees", 12.5), "12.5°"},
		{Short("figure", 0.0001), "under 0.1 %"},
		{Short("ratio", 0.1), "0.10"},
		{UnitName("figure"), "% of figure size"},
		{UnitName("degrees/s"), "degrees a second"},
		{UnitName("ratio"), ""},
	})
	if Times("range") != 100 || Times("degrees/s") != 1 || Times("ratio") != 1 {
		t.Error("what is a percentage is multiplied by 100, nothing else is")
	}
}

// Shares of things and of time are whole percentages; what is there is not 0.
func TestPercent(t *testing.T) {
	all(t, []wording{
		{Percent(0.08), "8 %"},
		{Percent(0.084), "8 %"},
		{Percent(0), "0 %"},
		{Percent(0.004), "under 1 %"},
		{Percent(0.005), "1 %"},
		{Percent(1), "100 %"},
		{Percent(-0.1), "-10 %"},
		{Percent(-0.001), "0 %"},
	})
}

// Both sides of a pair have the same decimals, and the unit stands once.
func TestChange(t *testing.T) {
	all(t, []wording{
		{Change("figure/s", 1.01, 0.84), "101 -> 84 % of figure size a second"},
		{Change("figure", 0.04, 0.081), "4.0 -> 8.1 % of figure size"},
		{Change("figure", 0.04, 0.23), "4 -> 23 % of figure size"},
		{Change("degrees", 12.5, 9), "13 -> 9 degrees"}, // a change of two digits
		{Change("degrees", 8, 9.97), "8 -> 10 degrees"},
		{Change("degrees/s", 36.9, 37.4), "36.9 -> 37.4 degrees a second"}, // 37 -> 37 would say nothing
		{Change("ratio", 0.1, 0.142), "0.10 -> 0.14"},
		{Change("share", 0.5, 0.37), "50 -> 37 %"},
		{Change("frames", 1, 5.2), "1 -> 5 frames"},
		{Change("frames", 2.6, 3.4), "2.6 -> 3.4 frames"},
		{Change("frames", 3, 3), "3 -> 3 frames"},
		{Change("count", 3, 1), "3 -> 1"},
		{Change("s", 0.5, 1.25), "0.50 -> 1.25 s"},
		{Change("s", 1.5, 2), "1.5 -> 2.0 s"},
	})
}

// Spacings have three digits, zeros included: the second and third tell an even run
// from one that eases.
func TestSpacing(t *testing.T) {
	all(t, []wording{
		{Spacing("figure", 0.0466), "4.66 % of figure size"},
		{Spacing("figure", 0.047), "4.70 % of figure size"},
		{Spacing("figure", 0.12345), "12.3 % of figure size"},
		{Spacing("figure", 1.58), "158 % of figure size"},
		{Spacing("degrees", 0.7), "0.70 degrees"},
		{Spacing("degrees", 9.996), "10.0 degrees"},
		{Spacing("range", 0.125), "12.5 % of its range"},
		{Spacing("figure", 0), "0 % of figure size"},
		{Spacing("figure", 0.00004), "0 % of figure size"}, // a rest beside a move
		{ShortSpacing("figure", 0.0466), "4.66 %"},
		{ShortSpacing("degrees", 0.7), "0.70°"},
		{Row("figure", []float64{0.021, 0.039, 0.051}, 0), "2.10 3.90 5.10"},
		{Row("figure", []float64{0.021, 0.139, 0.051}, 2), "2.1 13.9 ..."},
		{Row("degrees", []float64{0.4, 120}, 2), "0 120"},
		{Row("degrees", nil, 2), ""},
	})
}

// Frames are numbers as the file has them, with two decimals at most.
func TestFrames(t *testing.T) {
	all(t, []wording{
		{Frame(31), "31"},
		{Frame(12.5), "12.5"},
		{Frame(12.3333333), "12.33"},
		{Frame(-4), "-4"},
		{string(AppendFrame([]byte("f"), 12.25)), "f12.25"},
		{Between(31, 39), "31-39"},
		{Between(31, 31), "31"},
		{Between(31, 31.001), "31"}, // it would be written 31-31
		{Between(-8, 12), "-8 to 12"},
		{Between(-8, -4), "-8 to -4"},
		{Span(31, 39), "frames 31-39"},
		{Span(31, 31), "frame 31"},
		{Span(30.5, 31), "frames 30.5-31"},
		{Span(-8, 12), "frames -8 to 12"},
		{InFrames(2.5), "2.5 frames"},
		{InFrames(1), "1 frame"},
		{InFrames(0), "0 frames"},
	})
}

// Who leads whom, and how moves begin and end, in the words of the trade.
func TestTiming(t *testing.T) {
	all(t, []wording{
		{Leaves(5.2), "leaves over 5 frames"},
		{Leaves(1), "leaves over 1 frame"},
		{Leaves(0.4), "leaves at once"},
		{Arrives(2.6), "arrives over 3 frames"},
		{Arrives(0), "arrives at once"},
		{Later(2), "2 frames later"},
		{Later(-1.2), "1 frame sooner"},
		{Later(-0.4), "1 frame sooner"}, // it is known to differ
		{Behind(2.5, "its parent"), "2.5 frames behind its parent"},
		{Behind(-1, "its parent"), "1 frame ahead of its parent"},
		{Behind(0.2, "its parent"), "together with its parent"},
		{Behind(-0.24, ""), "together"},
		{Behind(1.45, ""), "1.5 frames behind"},
		{Behind(-1.4, ""), "1.4 frames ahead"},
		{Follow([]string{"brows", "lids", "eyes"}, []float64{0, 2, 4.5}), "brows, lids +2, eyes +4.5"},
		{Signed(2), "+2"},
		{Signed(-1.5), "-1.5"},
		{Signed(0.01), "0"},
		{Signed(-0.01), "0"},
	})
}

// Times have two decimals where a frame is a good part of them; lengths in the world
// are centimetres below a metre.
func TestMeasures(t *testing.T) {
	all(t, []wording{
		{Seconds(1.5), "1.5 s"},
		{Seconds(1.46), "1.5 s"},
		{Seconds(2), "2 s"},
		{Seconds(0.375), "0.38 s"},
		{Seconds(0.996), "1 s"},
		{Seconds(0.001), "under 0.01 s"},
		{Seconds(0), "0 s"},
		{Metres(1.754), "1.75 m"},
		{Metres(17.54), "17.5 m"},
		{Metres(1234), "1234 m"},
		{Metres(0.034), "3.4 cm"},
		{Metres(0.9996), "1 m"},
		{Metres(0.0001), "under 0.1 cm"},
	})
}

// Numbers have no noise and no exponents.
func TestNumbers(t *testing.T) {
	all(t, []wording{
		{Number(12), "12"},
		{Number(12.5), "12.5"},
		{Number(0.1 + 0.2), "0.3"},
		{Number(-1e-9), "0"},
		{Number(0.000001), "0.000001"},
		{Number(4e14), "400000000000000"},
		{Number(1e300), "1e+300"},
		{Number(math.NaN()), "nan"}, // as the file has it
		{Number(math.Inf(-1)), "-inf"},
		{Number(math.Inf(1)), "inf"},
		{Frame(math.NaN()), "unknown"},
		{Frame(math.Inf(1)), "infinite"},
		{Value(12.3456789), "12.346"},
		{Value(0.0000123456), "0.000012346"},
		{Value(123456.7), "123457"},
		{Value(100), "100"},
		{Value(-0.5), "-0.5"},
		{Value(0), "0"},
		{Ratio(0.1), "0.10"},
		{Ratio(-0.001), "0.00"},
		{OnScale(0.3, 0.1), "0.3"},
		{OnScale(0.3, 0.05), "0.30"},
		{OnScale(20, 10), "20"},
		{OnScale(-1e-12, 0.5), "0.0"},
		{Point(1.5, 0, -12.1254), "(1.5, 0, -12.125)"},
	})
	for in, want := range map[float64]float64{0: 0, 1.0 / 3: 0.333333, -1234567.8: -1234570, 1e-9: 1e-9, math.Inf(1): 0} {
		if got := Stable(in); got != want {
			t.Errorf("Stable(%g) = %g, want %g", in, got, want)
		}
	}
	if got := Stable(math.NaN()); got != 0 {
		t.Errorf("Stable(NaN) = %g", got)
	}
}

// Things are counted and listed as in a sentence.
func TestLists(t *testing.T) {
	names := []string{"brows", "eyes", "lids", "head"}
	all(t, []wording{
		{Count(1, "note"), "1 note"},
		{Count(0, "note"), "0 notes"},
		{Count(8, "spacing"), "8 spacings"},
		{Count(2, "information"), "2 information"},
		{Count(2, "foot"), "2 feet"},
		{Count(2, "pass"), "2 passes"},
		{Count(2, "stretch"), "2 stretches"},
		{List(nil), ""},
		{List(names[:1]), "brows"},
		{List(names[:2]), "brows and eyes"},
		{List(names[:3]), "brows, eyes and lids"},
		{ListOf(names, 4), "brows, eyes, lids and head"},
		{ListOf(names, 3), "brows, eyes and 2 more"},
		{ListOf(names, 1), "brows and 3 more"},
	})
	if names[2] != "lids" {
		t.Error("ListOf wrote into the names that it was given")
	}
}

// A verb goes with the last word of a name; a name that ends in s may be one thing.
func TestDoes(t *testing.T) {
	all(t, []wording{
		{Does("hips", "travels"), "travel"},
		{Does("head", "travels"), "travels"},
		{Does("pelvis", "travels"), "travels"},
		{Does("LeftEyes_01", "turns"), "turn"},
		{Does("left_brows", "is"), "are"},
		{Does("hipsCtrl", "travels"), "travels"},
		{Does("RIGHTTOES", "stops"), "stops"}, // one word to a reader of names
		{Does("R_TOES", "stops"), "stop"},
		{Does("", "stops"), "stops"},
		{Do("passes"), "pass"},
		{Do("goes"), "go"},
		{Do("has"), "have"},
		{Do("was"), "were"},
		{Do("carries"), "carry"},
		{Do("lies"), "lie"},
		{Do("closes"), "close"},
		{Do("eases"), "ease"},
	})
}

// The middle of a long name goes; both ends of a name from a rig say more.
func TestNames(t *testing.T) {
	all(t, []wording{
		{Shorten("head"), "head"},
		{Shorten("abcdefghijklmnopqrstuvwx"), "abcdefghijklmnopqrstuvwx"},
		{Shorten("deckhand_rig_left_shoulder_ctrl"), "deckhand_ri…oulder_ctrl"},
		{Shorten("ÄÖÜäöüÄÖÜäöüÄÖÜäöüÄÖÜäöüÄÖÜ"), "ÄÖÜäöüÄÖÜäö…öüÄÖÜäöüÄÖÜ"},
		{LastName("/Tug/hips/chest/head"), "head"},
		{LastName("head"), "head"},
	})
}

func FuzzNumbers(f *testing.F) {
	for _, v := range []float64{0, 1, -0.005, 9.995, 99.95, 1e14, 1e300, math.NaN(), math.Inf(-1), math.SmallestNonzeroFloat64} {
		f.Add(v)
	}
	f.Fuzz(func(t *testing.T, v float64) {
		for _, s := range []string{Number(v), Value(v), Ratio(v), Frame(v), Percent(v), Length(v), Degrees(v), Seconds(v), Metres(v),
			Spacing("figure", v), Signed(v), Change("figure", v, 0), Change("s", v, v), OnScale(v, 0.05), Leaves(v), Later(v)} {
			if s == "" || s == "-0" {
				t.Errorf("%g is written as %q", v, s)
			}
		}
	})
}
