package bvh

import (
	"fmt"
	"reflect"
	"strings"
	"testing"

	"curvelint/parse/scene"
)

// winch is an invented figure with every odd thing that the format allows.
const winch = `hierarchy
ROOT Deck Hand:v1.2
{
	offset 0.00 90.0 0
	CHANNELS 6 Xposition Yposition Zposition Zrotation Xrotation Yrotation
	JOINT arm.L {
		OFFSET	1, 2, 3
		Channels 6 XPOSITION yposition Zposition zROTATION Xrotation Zrotation
		End Site
		{
			OFFSET 0 5 0
		}
	}
	JOINT arm.L
	{
		OFFSET 10 0 0
		CHANNELS 3 Xposition Yposition Zposition
	}
}
ROOT gull
{
	OFFSET 0 0 0
	CHANNELS 1 Yrotation
}
MOTION
Frames:	3
Frame Time: .0416667
0 90 0   10 20 30   1 2 3   -400.5 5 6   20 0 0   1
0 90.25 0	10,20,30	1 2 3 400 5 6 21 0 0 2

1e1 90 0 10 20 30 1.1 2 3 400 5 6 22 0 0 3.1234
`

func TestParse(t *testing.T) {
	s := Parse("winch.bvh", []byte(winch), scene.ReadOptions{})
	if len(s.Problems) > 0 {
		t.Fatal(s.Problems)
	}
	if s.Rate != 24 || !s.RateKnown || s.First != 1 || s.Last != 3 || !s.RangeKnown || s.Format != "bvh" {
		t.Errorf("rate %v (known %v), frames %v to %v (known %v)", s.Rate, s.RateKnown, s.First, s.Last, s.RangeKnown)
	}
	var parts []string
	for _, p := range s.Parts {
		ops := ""
		for _, op := range p.Ops {
			ops += fmt.Sprintf(" %s%v", op.Name, op.Value)
		}
		parts = append(parts, fmt.Sprintf("%s kind %d figure %v rest %v%s", p.Path, p.Kind, p.Figure, p.Rest[3:4:4], ops))
	}
	wantParts := []string{
		"/Deck Hand:v1.2 kind 1 figure true rest [0] OFFSET[0 90 0] position[0 0 0] Zrotation[0] Xrotation[0] Yrotation[0]",
		"/Deck Hand:v1.2/arm.L kind 1 figure false rest [1] position[1 2 3] zROTATION[0] Xrotation[0] Zrotation[0]",
		"/Deck Hand:v1.2/arm.L/End Site kind 3 figure false rest [0] OFFSET[0 5 0]",
		"/Deck Hand:v1.2/arm.L[2] kind 1 figure false rest [10] OFFSET[10 0 0] position[0 0 0]",
		"/gull kind 1 figure true rest [0] OFFSET[0 0 0] Yrotation[0]",
	}
	if !reflect.DeepEqual(parts, wantParts) {
		t.Errorf("parts:\n%s\nwant:\n%s", strings.Join(parts, "\n"), strings.Join(wantParts, "\n"))
	}
	var channels []string
	for _, c := range s.Channels {
		channels = append(channels, fmt.Sprintf("%d.%d.%d %s %d %v", c.Part, c.Op, c.Component, c.Name, c.Quantity, c.Curve.Values))
	}
	wantChannels := []string{
		"0.1.0 Xposition 0 [0 0 10]", "0.1.1 Yposition 0 [90 90.25 90]", "0.1.2 Zposition 0 [0 0 0]",
		"0.2.0 Zrotation 1 [10 10 10]", "0.3.0 Xrotation 1 [20 20 20]", "0.4.0 Yrotation 1 [30 30 30]",
		"1.0.0 XPOSITION 0 [1 1 1.1]", "1.0.1 yposition 0 [2 2 2]", "1.0.2 Zposition 0 [3 3 3]",
		"1.1.0 zROTATION 1 [-400.5 400 400]", "1.2.0 Xrotation 1 [5 5 5]", "1.3.0 Zrotation 1 [6 6 6]",
		"3.1.0 Xposition 0 [20 21 22]", "3.1.1 Yposition 0 [0 0 0]", "3.1.2 Zposition 0 [0 0 0]",
		"4.1.0 Yrotation 1 [1 2 3.1234]",
	}
	if !reflect.DeepEqual(channels, wantChannels) {
		t.Errorf("channels:\n%s\nwant:\n%s", strings.Join(channels, "\n"), strings.Join(wantChannels, "\n"))
	}
}

func TestSpans(t *testing.T) {
	s := Parse("winch.bvh", []byte(winch), scene.ReadOptions{})
	text := func(at scene.Span) string { return winch[at.Start:at.End] }
	arm := &s.Parts[1]
	for what, got := range map[string][2]string{
		"definition": {text(arm.Def), "JOINT arm.L"},
		"name":       {text(arm.NameSpan), "arm.L"},
		"offset":     {text(s.Parts[0].Ops[0].Span), "0.00 90.0 0"},
		"op":         {text(arm.Ops[2].Span), "Xrotation"},
		"channel":    {text(s.Channels[9].Def), "zROTATION"},
		"key":        {text(s.KeySpan(9, 0, 0)), "-400.5"},
		"last key":   {text(s.KeySpan(15, 2, 0)), "3.1234"},
		"comma":      {text(s.KeySpan(4, 1, 0)), "20"},
		"end site":   {text(s.Parts[2].Def), "End Site"},
	} {
		if got[0] != got[1] {
			t.Errorf("%s: %q, want %q", what, got[0], got[1])
		}
	}
	if body := text(arm.Body); !strings.HasPrefix(body, "JOINT arm.L {") || !strings.HasSuffix(body, "\t}\n\t}") {
		t.Errorf("body %q", body)
	}
	if block := text(s.Channels[0].Block); !strings.HasPrefix(block, "MOTION") || !strings.HasSuffix(block, "3.1234\n") {
		t.Errorf("block %q", block)
	}
	if got, want := s.Channels[15].Curve.Step, 0.0001; got != want {
		t.Errorf("step %v, want %v", got, want)
	}
	if &s.Channels[0].Curve.Times[0] != &s.Channels[15].Curve.Times[0] {
		t.Error("columns do not share their times")
	}
}

// TestRate: the frame times as their writers print them.
func TestRate(t *testing.T) {
	for frameTime, want := range map[string]float64{
		"0.0416667": 24, "0.041667": 24, "0.04167": 24, "0.0417": 24, "0.041666": 24, "0.0416": 24, "4.16667e-02": 24,
		"0.041708": 24000. / 1001, "0.0417083": 24000. / 1001, "0.04170833": 24000. / 1001,
		"0.04": 25, "0.040000": 25, "0.0333333": 30, "0.033333": 30, "0.0333": 30, "0.033": 30,
		"0.0333667": 30000. / 1001, "0.033367": 30000. / 1001, "0.03337": 30000. / 1001,
		"0.0166667": 60, "0.016667": 60, "0.017": 60, "0.0166833": 60000. / 1001,
		"0.0083333": 120, "0.00833333": 120, "0.008333": 120, "0.008": 120,
		"0.01": 100, "0.010000": 100, "0.02": 50, "0.0208333": 48, "0.00416667": 240,
		"0.0055555": 1 / 0.0055555, "0.5": 2, "0.03636364": 1 / 0.03636364,
	} {
		src := strings.Replace(winch, ".0416667", frameTime, 1)
		s := Parse("winch.bvh", []byte(src), scene.ReadOptions{})
		if d := s.Rate - want; d > 1e-9 || d < -1e-9 || !s.RateKnown {
			t.Errorf("Frame Time %s: rate %v, want %v", frameTime, s.Rate, want)
		}
	}
	if s := Parse("winch.bvh", []byte(winch), scene.ReadOptions{Rate: 12}); s.Rate != 12 || !s.RateKnown {
		t.Errorf("rate %v with 12 in the options", s.Rate)
	}
}

// TestWriting: ways of writing the same motion.
func TestWriting(t *testing.T) {
	want := Parse("winch.bvh", []byte(winch), scene.ReadOptions{})
	lines := strings.Split(winch, "\n")
	for name, src := range map[string]string{
		"CR LF":            strings.ReplaceAll(winch, "\n", "\r\n"),
		"CR":               strings.ReplaceAll(winch, "\n", "\r"),
		"mark":             "\uFEFF" + winch,
		"no last line end": strings.TrimRight(winch, "\n"),
		"trailing blanks":  strings.ReplaceAll(winch, "\n", " \t\n"),
		"blank lines":      strings.ReplaceAll(winch, "\n", "\n\n"),
		"upper case":       strings.NewReplacer("hierarchy", "HIERARCHY", "offset", "OFFSET", "Channels", "CHANNELS", "End Site", "END SITE").Replace(winch),
		"spaced colons":    strings.NewReplacer("Frames:", "FRAMES : ", "Frame Time:", "frame  time :").Replace(winch),
		"no colons":        strings.NewReplacer("Frames:", "Frames ", "Frame Time:", "Frame Time ").Replace(winch),
		"tight colons":     strings.NewReplacer("Frames:\t", "Frames:", "Frame Time: ", "FrameTime:").Replace(winch),
		"time first":       strings.Replace(winch, "Frames:\t3\nFrame Time: .0416667", "Frame Time: .0416667\nFrames: 3", 1),
		"one line of head": strings.NewReplacer("{\n", "{ ", "}\n", "} ", "0\n", "0 ", "3\n\t\tCh", "3 Ch").Replace(strings.Join(lines[:25], "\n")) + "\n" + strings.Join(lines[25:], "\n"),
	} {
		got := Parse("winch.bvh", []byte(src), scene.ReadOptions{})
		if len(got.Problems) > 0 {
			t.Errorf("%s: %v", name, got.Problems)
			continue
		}
		if len(got.Parts) != len(want.Parts) || len(got.Channels) != len(want.Channels) || got.Rate != want.Rate {
			t.Errorf("%s: %d parts, %d channels, rate %v", name, len(got.Parts), len(got.Channels), got.Rate)
			continue
		}
		for c := range want.Channels {
			if !reflect.DeepEqual(got.Channels[c].Curve.Values, want.Channels[c].Curve.Values) {
				t.Errorf("%s: channel %d %v, want %v", name, c, got.Channels[c].Curve.Values, want.Channels[c].Curve.Values)
			}
		}
	}
}

// TestWrapped: frames broken into lines are put together only when every frame
// then has all its numbers.
func TestWrapped(t *testing.T) {
	head := "HIERARCHY\nROOT hips\n{\nOFFSET 0 0 0\nCHANNELS 4 Yposition Zrotation Xrotation Yrotation\n}\nMOTION\nFrames: 2\nFrame Time: 0.04\n"
	s := Parse("x.bvh", []byte(head+"1\n2 3 4\n\n5\n6 7 8"), scene.ReadOptions{})
	if len(s.Problems) > 0 || s.Last != 2 || !reflect.DeepEqual(s.Channels[3].Curve.Values, []float64{4, 8}) {
		t.Errorf("%v, frames to %v, %v", s.Problems, s.Last, s.Channels[3].Curve.Values)
	}
	if _, ok := Reread(s, scene.Edit{Start: len(head) + 2, End: len(head) + 3, New: []byte("9")}); ok {
		t.Error("a line of a broken frame was read again alone")
	}
	s = Parse("x.bvh", []byte(head+"1\n2 3 4\n5 6\n7 8 9\n"), scene.ReadOptions{})
	if len(s.Problems) != 2 || s.Last != 4 {
		t.Errorf("lines that make no frames: %v, frames to %v", s.Problems, s.Last)
	}
}

// TestWorkers: the number of goroutines changes nothing.
func TestWorkers(t *testing.T) {
	src := bake(20, 3000)
	src = append(src, "1 2 nan 3x\n"...)
	want := parse("bake.bvh", src, scene.ReadOptions{}, 1)
	if len(want.Problems) != 4 {
		t.Errorf("%d problems: %v", len(want.Problems), want.Problems)
	}
	for _, workers := range []int{2, 3, 8} {
		if got := parse("bake.bvh", src, scene.ReadOptions{}, workers); !reflect.DeepEqual(got, want) {
			t.Errorf("%d goroutines read another scene", workers)
		}
	}
}
