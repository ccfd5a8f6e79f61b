package diagnostics

import (
	"math/rand/v2"
	"testing"

	"curvelint/diagnostics/config"
	"curvelint/diagnostics/note"
	"curvelint/parse/scene"

	"github.com/google/go-cmp/cmp"
)

func TestMerge(t *testing.T) {
	sc := scenery(t)
	middle := saying("x-middle", note.Warning)
	middle.YieldsTo = []string{"x-narrow"}
	wide := saying("x-wide", note.Warning)
	wide.YieldsTo = []string{"x-middle"}
	invent(t, wide, middle, saying("x-narrow", note.Warning), saying("x-apart", note.Warning))

	of := func(check string, part scene.PartID, first, last, weight float64, causes ...scene.PartID) note.Note {
		n := on(sc, part, first, last, weight)
		n.Check, n.Causes = check, causes
		return n
	}
	tests := []struct {
		name  string
		notes []note.Note
		want  []string
	}{
		{"the narrowest stands", []note.Note{of("x-wide", head, 30, 40, 9), of("x-middle", head, 31, 39, 5), of("x-narrow", head, 33, 35, 1)},
			[]string{"x-narrow /Tug/hips/chest/head 33-35"}},
		{"through one that is not there", []note.Note{of("x-wide", head, 30, 40, 9), of("x-narrow", head, 33, 35, 1)},
			[]string{"x-narrow /Tug/hips/chest/head 33-35"}},
		{"others stay", []note.Note{of("x-wide", head, 30, 40, 9), of("x-apart", head, 30, 40, 9)},
			[]string{"x-apart /Tug/hips/chest/head 30-40", "x-wide /Tug/hips/chest/head 30-40"}},
		{"other frames stay", []note.Note{of("x-wide", head, 30, 40, 9), of("x-narrow", head, 42, 44, 1)},
			[]string{"x-wide /Tug/hips/chest/head 30-40", "x-narrow /Tug/hips/chest/head 42-44"}},
		{"neighbouring spacings are the same frames", []note.Note{of("x-wide", head, 30, 31, 9), of("x-narrow", head, 32, 40, 1)},
			[]string{"x-narrow /Tug/hips/chest/head 32-40"}},
		{"a speck does not hide a long note", []note.Note{of("x-wide", head, 30, 60, 9), of("x-narrow", head, 33, 33, 1)},
			[]string{"x-wide /Tug/hips/chest/head 30-60", "x-narrow /Tug/hips/chest/head 33"}},
		{"a part above explains", []note.Note{of("x-wide", head, 30, 40, 9), of("x-narrow", hips, 30, 40, 1)},
			[]string{"x-narrow /Tug/hips 30-40"}},
		{"a part below does not", []note.Note{of("x-wide", hips, 30, 40, 9), of("x-narrow", head, 30, 40, 1)},
			[]string{"x-wide /Tug/hips 30-40", "x-narrow /Tug/hips/chest/head 30-40"}},
		{"unless it names it", []note.Note{of("x-wide", hips, 30, 40, 9), of("x-narrow", head, 30, 40, 1, hips)},
			[]string{"x-narrow /Tug/hips/chest/head 30-40"}},
		{"another figure stays", []note.Note{of("x-wide", gull, 30, 40, 9), of("x-narrow", head, 30, 40, 1)},
			[]string{"x-narrow /Tug/hips/chest/head 30-40", "x-wide /Gull 30-40"}},
		{"one driver, one note: the heavier", []note.Note{of("x-apart", head, 30, 40, 1), of("x-apart", head, 32, 44, 2)},
			[]string{"x-apart /Tug/hips/chest/head 32-44"}},
		{"one driver, equal notes: the earlier", []note.Note{of("x-apart", head, 30, 40, 1), of("x-apart", head, 32, 42, 1)},
			[]string{"x-apart /Tug/hips/chest/head 30-40"}},
		{"one driver, other frames", []note.Note{of("x-apart", head, 30, 40, 1), of("x-apart", head, 50, 60, 1)},
			[]string{"x-apart /Tug/hips/chest/head 30-40", "x-apart /Tug/hips/chest/head 50-60"}},
		{"explained by the driver", []note.Note{of("x-apart", hips, 30, 40, 2, chest, head), of("x-apart", head, 30, 40, 1)},
			[]string{"x-apart /Tug/hips 30-40"}},
		{"not explained though below", []note.Note{of("x-apart", hips, 30, 40, 2), of("x-apart", head, 30, 40, 1)},
			[]string{"x-apart /Tug/hips 30-40", "x-apart /Tug/hips/chest/head 30-40"}},
	}
	s := study(sc, &config.Config{})
	for _, tt := range tests {
		for range 8 {
			rand.Shuffle(len(tt.notes), func(i, j int) { tt.notes[i], tt.notes[j] = tt.notes[j], tt.notes[i] })
			notes := append([]note.Note(nil), tt.notes...)
			sortNotes(notes)
			if d := cmp.Diff(tt.want, brief(merge(s, notes))); d != "" {
				t.Errorf("%s: %s", tt.name, d)
				break
			}
		}
	}
}

func TestYieldsEnds(t *testing.T) {
	a, b := saying("x-a", note.Warning), saying("x-b", note.Warning)
	a.YieldsTo, b.YieldsTo = []string{"x-b"}, []string{"x-a"}
	invent(t, a, b)
	if yields("x-a", "x-none") {
		t.Error("yields to what does not exist")
	}
}

func TestWorst(t *testing.T) {
	sc := scenery(t)
	notes := []note.Note{on(sc, tug, 1, 2, 0.1), on(sc, hips, 3, 4, 3), on(sc, chest, 5, 6, 2), on(sc, head, 7, 8, 2), on(sc, hand, 9, 10, 0)}
	for i := range notes {
		notes[i].Severity = note.Warning
	}
	notes[4].Severity = note.Error
	for n, want := range map[int][]scene.PartID{
		0: {tug, hips, chest, head, hand}, 9: {tug, hips, chest, head, hand},
		1: {hand}, 2: {hips, hand}, 3: {hips, chest, hand},
	} {
		var got []scene.PartID
		for _, k := range Worst(notes, n) {
			got = append(got, k.PartID)
		}
		if d := cmp.Diff(want, got); d != "" {
			t.Errorf("worst %d: %s", n, d)
		}
	}
}

// Notes that overlap only their neighbours are merged in time linear in their
// number: doubling it doubles the time.
func BenchmarkMerge(b *testing.B) {
	for _, n := range []int{1000, 2000, 4000} {
		b.Run(map[int]string{1000: "1000", 2000: "2000", 4000: "4000"}[n], func(b *testing.B) {
			sc := scenery(b)
			s := study(sc, &config.Config{})
			notes := make([]note.Note, n)
			for i := range notes {
				notes[i] = on(sc, head, float64(3*i), float64(3*i+4), float64(i%7))
				notes[i].Check = "idle-key"
			}
			for b.Loop() {
				merge(s, append([]note.Note(nil), notes...))
			}
		})
	}
}
