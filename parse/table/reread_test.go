package table

import (
	"fmt"
	"math/rand/v2"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"testing"

	"curvelint/parse/scene"
)

// sway is an invented track of a rope's end.
func sway(rows int) []byte {
	var b strings.Builder
	b.WriteString("frame,rope.tx,rope.ty,rope/end.rz\n")
	for i := range rows {
		fmt.Fprintf(&b, "%d,%.3f,%d,%.2f\n", i+1, float64(i)*0.125, i*i, 90-float64(i))
	}
	return []byte(b.String())
}

func checkReread(t *testing.T, old *scene.Scene, e scene.Edit, got scene.Reread) {
	t.Helper()
	src := old.Files[0].Text
	want := Parse(old.Files[0].Path, slices.Concat(src[:e.Start], e.New, src[e.End:]), scene.ReadOptions{})
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
	src := sway(20)
	old := Parse("rope.csv", src, scene.ReadOptions{})
	at := func(channel, row int) int { return int(old.Channels[channel].Curve.Spans[row]) }
	for name, tt := range map[string]struct {
		edit scene.Edit
		ok   bool
	}{
		"a digit":         {scene.Edit{Start: at(0, 9), End: at(0, 9), New: []byte("1")}, true},
		"decimals":        {scene.Edit{Start: at(2, 9) + 5, End: at(2, 9) + 5, New: []byte("125")}, true},
		"blanks":          {scene.Edit{Start: at(0, 9), End: at(0, 9), New: []byte("  ")}, true},
		"a frame":         {scene.Edit{Start: at(0, 9) - 2, End: at(0, 9) - 1, New: []byte(".5")}, false},
		"the same frame":  {scene.Edit{Start: at(0, 9) - 1, End: at(0, 9) - 1, New: []byte(".0")}, true},
		"the first row":   {scene.Edit{Start: at(0, 0), End: at(0, 0), New: []byte("1")}, false},
		"a cell emptied":  {scene.Edit{Start: at(0, 9), End: at(1, 9) - 1}, false},
		"a cell more":     {scene.Edit{Start: at(0, 9), End: at(0, 9), New: []byte("1,")}, false},
		"a quote":         {scene.Edit{Start: at(0, 9), End: at(0, 9), New: []byte(`"`)}, false},
		"a row commented": {scene.Edit{Start: at(0, 9) - 3, End: at(0, 9) - 3, New: []byte("#")}, false},
		"a new comment":   {scene.Edit{Start: at(0, 9) - 3, End: at(0, 9) - 3, New: []byte("# slack\n")}, true},
		"a row repeated":  {scene.Edit{Start: at(0, 9) - 3, End: at(0, 9) - 3, New: []byte("10,1,2,3\n")}, false},
		"the header":      {scene.Edit{Start: 3, End: 4, New: []byte("m")}, false},
	} {
		got, ok := Reread(old, tt.edit)
		if ok != tt.ok {
			t.Errorf("%s: re-read %v, want %v", name, ok, tt.ok)
		} else if ok {
			checkReread(t, old, tt.edit, got)
		}
	}
}

func TestRereadRandom(t *testing.T) {
	r := rand.New(rand.NewPCG(13, 14))
	words := []string{"", "1", "-", ".", " ", ",", "\n", "#", `"`, "9,1,2,3\n", "nan", "3.14159265"}
	read := 0
	for range 400 {
		s := Parse("rope.csv", sway(9), scene.ReadOptions{})
		for range 10 {
			src := s.Files[0].Text
			e := scene.Edit{Start: 30 + r.IntN(len(src)-30)}
			e.End = min(e.Start+r.IntN(4), len(src))
			e.New = []byte(words[r.IntN(len(words))])
			if c := &s.Channels[r.IntN(len(s.Channels))].Curve; r.IntN(2) == 0 && c.Len() > 0 {
				e.Start = int(c.Spans[r.IntN(c.Len())])
				e.End = scene.ValueEnd(src, e.Start)
				e.New = strconv.AppendFloat(nil, r.NormFloat64()*100, 'f', r.IntN(9), 64)
			}
			if got, ok := Reread(s, e); ok {
				checkReread(t, s, e, got)
				read++
				s = got.Scene
			}
		}
	}
	if read < 1000 {
		t.Errorf("only %d edits were read again in place", read)
	}
}
