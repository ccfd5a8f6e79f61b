package words

import (
	"math"
	"testing"
)

func TestWords(t *testing.T) {
	for _, tt := range []struct{ got, want string }{
		{Number(12), "12"}, {Number(-0.25), "-0.25"}, {Number(1.0 / 3), "0.333333"}, {Number(1e16), "10000000000000000"},
		{Rounded(-0.004, 2), "0"}, {Rounded(2.999, 2), "3"}, {Rounded(-1.25, 1), "-1.3"}, {Fixed(0.5, 2), "0.50"},
		{string(Append2(nil, 2.5)), "2.5"}, {string(Append2(nil, -0.05)), "-0.05"}, {string(Append2(nil, 3)), "3"}, {string(Append2(nil, 1e20)), "100000000000000000000"},
		{Frame(31), "31"}, {Frame(12.506), "12.51"},
		{Range(31, 39), "31-39"}, {Range(31, 31), "31"}, {Frames(31, 39), "frames 31-39"}, {Frames(31.001, 31), "frame 31"},
		{Count(1, "note"), "1 note"}, {Count(0, "note"), "0 notes"}, {Count(8, "spacing"), "8 spacings"},
		{Percent(0.081), "8 %"}, {Percent(0.001), "1 %"}, {Percent(0.0001), "0 %"}, {Percent(-0.001), "0 %"}, {Percent(1), "100 %"},
		{Later(2.2), "2 frames later"}, {Later(-1.4), "1 frame sooner"}, {Later(0.8), "1 frame later"}, {Later(-0.3), "1 frame sooner"},
		{List(nil, 3), ""}, {List([]string{"brows"}, 3), "brows"}, {List([]string{"brows", "lids"}, 3), "brows and lids"},
		{List([]string{"a", "b", "c", "d", "e"}, 3), "a, b and 3 more"}, {List([]string{"a", "b", "c"}, 3), "a, b and c"},
		{Amount(FigureSize, 0.021), "2.1 % of figure size"}, {Amount(FigureSize, 0.0042), "0.42 % of figure size"}, {Amount(Degrees, 12.46), "12.5 degrees"},
		{Amount(OwnRange, 0.08), "8 % of its range"}, {Amount("figure/s", 0.84), "84 % of figure size a second"}, {Amount("degrees/s", 100), "100 degrees a second"},
		{Amount(PictureHeight, 0.3), "30 % of picture height"}, {Amount("", 3), "3"},
		{Exact(FigureSize, 0.02134), "2.13 % of figure size"}, {Bare(Degrees, 12.456), "12.46"}, {Bare(OwnRange, 0.5), "50"},
		{Leaves(1), "leaves over 1 frame"}, {Arrives(4.52), "arrives over 4.5 frames"},
		{Does("hips", "travels"), "travel"}, {Does("head", "travels"), "travels"},
		{Shorten("left_hand"), "left_hand"}, {Shorten("abcdefghijklmnopqrstuvwxyz"), "abcdefghijk…pqrstuvwxyz"},
	} {
		if tt.got != tt.want {
			t.Errorf("got %q, want %q", tt.got, tt.want)
		}
	}
	if got := Rounded(math.Copysign(0, -1), 1); got != "0" {
		t.Errorf("minus nothing is %q", got)
	}
}
