package bvh

import (
	"bytes"
	"math/rand/v2"
	"reflect"
	"slices"
	"strconv"
	"testing"

	"curvelint/parse/scene"
)

// edited returns the text after an edit.
func edited(src []byte, e scene.Edit) []byte {
	return slices.Concat(src[:e.Start], e.New, src[e.End:])
}

// checkReread holds a re-read scene to one read anew, and the channels that it
// calls changed to those that differ.
func checkReread(t *testing.T, old *scene.Scene, e scene.Edit, got scene.Reread) {
	t.Helper()
	want := Parse(old.Files[0].Path, edited(old.Files[0].Text, e), scene.ReadOptions{})
	if !reflect.DeepEqual(got.Scene, want) {
		t.Fatalf("edit %d-%d %q: the scene read again differs from one read anew", e.Start, e.End, e.New)
	}
	for c := range want.Channels {
		differs := !slices.Equal(want.Channels[c].Curve.Values, old.Channels[c].Curve.Values)
		if differs != slices.Contains(got.Changed, scene.ChannelID(c)) {
			t.Fatalf("edit %d-%d %q: changed channels %v, but channel %d differs: %v", e.Start, e.End, e.New, got.Changed, c, differs)
		}
	}
}

func TestReread(t *testing.T) {
	src := bake(4, 30)
	old := Parse("bake.bvh", src, scene.ReadOptions{})
	at := func(channel, row int) int { return int(old.Channels[channel].Curve.Spans[row]) }
	value := func(channel, row int) int {
		return len(src[at(channel, row):]) - len(bytes.TrimLeft(src[at(channel, row):], "-.0123456789"))
	}
	for name, tt := range map[string]struct {
		edit    scene.Edit
		ok      bool
		changed []scene.ChannelID
	}{
		"a number":             {scene.Edit{Start: at(3, 9), End: at(3, 9) + value(3, 9), New: []byte("12.5")}, true, []scene.ChannelID{3}},
		"a finer number":       {scene.Edit{Start: at(3, 9), End: at(3, 9) + value(3, 9), New: []byte("12.12345678")}, true, []scene.ChannelID{3}},
		"one more digit":       {scene.Edit{Start: at(5, 20), End: at(5, 20), New: []byte("9")}, true, []scene.ChannelID{5}},
		"only a blank":         {scene.Edit{Start: at(5, 20), End: at(5, 20), New: []byte(" ")}, true, nil},
		"a blank line":         {scene.Edit{Start: at(0, 20), End: at(0, 20), New: []byte("\n")}, true, nil},
		"several lines":        {scene.Edit{Start: at(14, 10), End: at(14, 11), New: []byte("1\n" + "1 2 3 4 5 6 7 8 9 10 11 12 13 14 ")}, true, nil},
		"nothing":              {scene.Edit{Start: at(5, 20), End: at(5, 20)}, true, nil},
		"the first row":        {scene.Edit{Start: at(3, 0), End: at(3, 0), New: []byte("1")}, false, nil},
		"a row more":           {scene.Edit{Start: at(0, 9), End: at(0, 9), New: src[at(0, 5):at(0, 6)]}, false, nil},
		"a row less":           {scene.Edit{Start: at(0, 9), End: at(0, 10)}, false, nil},
		"rows joined":          {scene.Edit{Start: at(0, 9) - 1, End: at(0, 9), New: []byte(" ")}, false, nil},
		"no number":            {scene.Edit{Start: at(5, 20), End: at(5, 20), New: []byte("x")}, false, nil},
		"not a finite number":  {scene.Edit{Start: at(5, 20), End: at(5, 20), New: []byte("inf ")}, false, nil},
		"a number too many":    {scene.Edit{Start: at(5, 20), End: at(5, 20), New: []byte("1 ")}, false, nil},
		"a number too few":     {scene.Edit{Start: at(5, 20), End: at(6, 20)}, false, nil},
		"the last row":         {scene.Edit{Start: at(5, 29), End: at(5, 29) + value(5, 29), New: []byte("1")}, true, []scene.ChannelID{5}},
		"the last line end":    {scene.Edit{Start: len(src) - 1, End: len(src)}, false, nil},
		"the header":           {scene.Edit{Start: 10, End: 11, New: []byte("x")}, false, nil},
		"header and some rows": {scene.Edit{Start: 10, End: at(5, 20)}, false, nil},
	} {
		got, ok := Reread(old, tt.edit)
		if ok != tt.ok {
			t.Errorf("%s: re-read %v, want %v", name, ok, tt.ok)
			continue
		}
		if !ok {
			continue
		}
		checkReread(t, old, tt.edit, got)
		if tt.changed != nil && !slices.Equal(got.Changed, tt.changed) {
			t.Errorf("%s: changed %v, want %v", name, got.Changed, tt.changed)
		}
	}
}

// TestRereadRandom: whatever the edit, what is read again is what the whole
// text says, over chains of edits.
func TestRereadRandom(t *testing.T) {
	r := rand.New(rand.NewPCG(11, 12))
	words := []string{"", "1", "-", ".", " ", "\n", "\r\n", "12.5 ", "nan ", "3.14159265", "0 0 0", "x"}
	read := 0
	for range 400 {
		s := Parse("bake.bvh", bake(3, 8), scene.ReadOptions{})
		for range 10 {
			src := s.Files[0].Text
			start := int(s.Channels[0].Curve.Spans[0]) + r.IntN(len(src)/2)
			start = min(start, len(src))
			e := scene.Edit{Start: start, End: min(start+r.IntN(4), len(src)), New: []byte(words[r.IntN(len(words))])}
			if r.IntN(2) == 0 { // replace a whole number
				c := &s.Channels[r.IntN(len(s.Channels))].Curve
				if c.Len() > 0 {
					e.Start = int(c.Spans[r.IntN(c.Len())])
					e.End = scene.ValueEnd(src, e.Start)
					e.New = strconv.AppendFloat(nil, r.NormFloat64()*100, 'f', r.IntN(9), 64)
				}
			}
			got, ok := Reread(s, e)
			if !ok {
				continue
			}
			checkReread(t, s, e, got)
			read++
			s = got.Scene
		}
	}
	if read < 1000 {
		t.Errorf("only %d edits were read again in place", read)
	}
}
