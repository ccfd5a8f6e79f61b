package x3d

import (
	"bytes"
	"math/rand/v2"
	"reflect"
	"slices"
	"strconv"
	"testing"

	"curvelint/parse/scene"
)

// checkReread holds a re-read scene to one read anew, and the channels that it
// calls changed to those that differ.
func checkReread(t *testing.T, old *scene.Scene, e scene.Edit, got scene.Reread) {
	t.Helper()
	src := slices.Concat(old.Files[0].Text[:e.Start], e.New, old.Files[0].Text[e.End:])
	want := Parse(old.Files[0].Path, src, scene.ReadOptions{})
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
	for _, xml := range []bool{false, true} {
		src := bake(3, 8, xml)
		old := Parse("bake", src, scene.ReadOptions{})
		at := func(channel, key int) int { return int(old.Channels[channel].Curve.Spans[key]) }
		last := len(old.Channels) - 1
		end := int(old.Channels[last].Block.End)
		for name, tt := range map[string]struct {
			edit    scene.Edit
			ok      bool
			changed []scene.ChannelID
		}{
			"a position":         {scene.Edit{Start: at(1, 3), End: at(1, 3) + 4, New: []byte("7.25")}, true, []scene.ChannelID{1}},
			"a rotation":         {scene.Edit{Start: at(last, 3), End: at(last, 3) + 1, New: []byte("9")}, true, []scene.ChannelID{scene.ChannelID(last)}},
			"the first number":   {scene.Edit{Start: at(0, 0), End: at(0, 0) + 1, New: []byte("12")}, true, []scene.ChannelID{0}},
			"more digits":        {scene.Edit{Start: at(2, 2) + 4, End: at(2, 2) + 4, New: []byte("123456")}, true, nil},
			"white space":        {scene.Edit{Start: at(1, 3), End: at(1, 3), New: []byte("\n  ")}, true, nil},
			"the end":            {scene.Edit{Start: end - 1, End: end, New: []byte("  ")}, true, nil},
			"another number":     {scene.Edit{Start: at(1, 3), End: at(1, 3), New: []byte("1 ")}, false, nil},
			"a whole key more":   {scene.Edit{Start: at(0, 3), End: at(0, 3), New: []byte("1 2 3 ")}, false, nil},
			"no number":          {scene.Edit{Start: at(1, 3), End: at(1, 3), New: []byte("x")}, false, nil},
			"half a number":      {scene.Edit{Start: at(1, 3), End: at(1, 3), New: []byte("- ")}, false, nil},
			"not finite":         {scene.Edit{Start: at(1, 3), End: at(1, 3) + 1, New: []byte("1e99")}, false, nil},
			"a comment":          {scene.Edit{Start: at(1, 3), End: at(1, 3), New: []byte("# ")}, false, nil},
			"a bracket":          {scene.Edit{Start: at(1, 3), End: at(1, 3), New: []byte("]")}, false, nil},
			"a quote":            {scene.Edit{Start: at(1, 3), End: at(1, 3), New: []byte("'")}, false, nil},
			"before the block":   {scene.Edit{Start: int(old.Channels[0].Block.Start), End: int(old.Channels[0].Block.Start), New: []byte("1")}, false, nil},
			"a key":              {scene.Edit{Start: bytes.Index(src, []byte("0.14")), End: bytes.Index(src, []byte("0.14")) + 4, New: []byte("0.15")}, false, nil},
			"over the block":     {scene.Edit{Start: end - 1, End: end + 1}, false, nil},
			"nothing, somewhere": {scene.Edit{Start: 3, End: 3}, false, nil},
		} {
			got, ok := Reread(old, tt.edit)
			if ok != tt.ok {
				t.Errorf("xml %v, %s: re-read %v, want %v", xml, name, ok, tt.ok)
				continue
			}
			if !ok {
				continue
			}
			checkReread(t, old, tt.edit, got)
			if tt.changed != nil && !slices.Equal(got.Changed, tt.changed) {
				t.Errorf("xml %v, %s: changed %v, want %v", xml, name, got.Changed, tt.changed)
			}
		}
	}
}

// TestRereadMade: what is not just written in the block is never re-read.
func TestRereadMade(t *testing.T) {
	const spline = "#X3D V3.2 utf8\nDEF N Transform {} DEF V Viewpoint {} DEF T TimeSensor {}\nUNIT angle degree 0.0174533\n"
	for name, src := range map[string]string{
		"degrees":       spline + "DEF P OrientationInterpolator { key [ 0 1 ] keyValue [ 0 0 1 0, 0 0 1 90 ] } ROUTE T.fraction_changed TO P.set_fraction ROUTE P.value_changed TO N.rotation",
		"spline":        spline + "DEF P SplinePositionInterpolator { key [ 0 1 ] keyValue [ 0 0 0, 0 90 0 ] } ROUTE T.fraction_changed TO P.set_fraction ROUTE P.value_changed TO N.translation",
		"jump":          spline + "DEF P PositionInterpolator { key [ 0 0.5 0.5 1 ] keyValue [ 0 0 0 0 1 0 0 2 0 0 90 0 ] } ROUTE T.fraction_changed TO P.set_fraction ROUTE P.value_changed TO N.translation",
		"lens":          spline + "DEF P ScalarInterpolator { key [ 0 1 ] keyValue [ 40 90 ] } ROUTE T.fraction_changed TO P.set_fraction ROUTE P.value_changed TO V.fieldOfView",
		"left out keys": spline + "DEF P PositionInterpolator { key [ 0 1 0.5 ] keyValue [ 0 0 0 0 1 0 0 90 0 ] } ROUTE T.fraction_changed TO P.set_fraction ROUTE P.value_changed TO N.translation",
	} {
		s := Parse("x.x3dv", []byte(src), scene.ReadOptions{})
		if len(s.Channels) == 0 {
			t.Fatalf("%s: no channel, %v", name, s.Problems)
		}
		at := bytes.Index([]byte(src), []byte("90"))
		if _, ok := Reread(s, scene.Edit{Start: at, End: at + 1, New: []byte("8")}); ok {
			t.Errorf("%s was re-read", name)
		}
	}
}

// TestRereadRandom: whatever the edit, what is read again is what the whole
// text says, over chains of edits.
func TestRereadRandom(t *testing.T) {
	r := rand.New(rand.NewPCG(21, 22))
	words := []string{"", "1", "-", ".", " ", "\n", "12.5 ", "nan ", "3.14159265", "0 0 0", "x", "e", "]", "'"}
	read := 0
	for i := range 200 {
		s := Parse("bake", bake(2, 6, i%2 == 0), scene.ReadOptions{})
		for range 10 {
			src := s.Files[0].Text
			start := r.IntN(len(src))
			e := scene.Edit{Start: start, End: min(start+r.IntN(4), len(src)), New: []byte(words[r.IntN(len(words))])}
			if c := &s.Channels[r.IntN(len(s.Channels))].Curve; r.IntN(2) == 0 && c.Len() > 0 {
				e.Start = int(c.Spans[r.IntN(c.Len())])
				e.End = scene.ValueEnd(src, e.Start)
				e.New = strconv.AppendFloat(nil, r.NormFloat64()*100, 'f', r.IntN(9), 64)
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
	if read < 800 {
		t.Errorf("only %d edits were read again in place", read)
	}
}

func FuzzReread(f *testing.F) {
	f.Add(bake(2, 5, false), 300, 302, []byte("12.5"))
	f.Add([]byte(winchXML), 1500, 1501, []byte("1"))
	f.Fuzz(func(t *testing.T, src []byte, start, end int, text []byte) {
		if start < 0 || end < start || end > len(src) {
			return
		}
		old := Parse("x", src, scene.ReadOptions{})
		e := scene.Edit{Start: start, End: end, New: text}
		if got, ok := Reread(old, e); ok {
			checkReread(t, old, e, got)
		}
	})
}
