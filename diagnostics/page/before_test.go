package page

import (
	"slices"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

func TestBefore(t *testing.T) {
	s, b := demoShot(t, "deckhand_polish.usda"), demoShot(t, "deckhand_spline.usda")
	s.Before, s.BeforeNotes = b.Study, b.Notes
	f := decoded(t, s)
	if f.Before == nil || f.Change.Name != "deckhand_spline.usda" || f.Before.Against != [2]float64{0, 1} {
		t.Fatalf("earlier pass %+v", f.Before)
	}
	if len(f.Change.Fixed) != len(b.Notes) || len(f.Change.Items) < 5 || f.Change.Lines[0] != "timing unchanged" {
		t.Errorf("changes %+v", f.Change)
	}
	// The other way round every note is new.
	b.Before, b.BeforeNotes = s.Study, s.Notes
	f = decoded(t, b)
	fresh := 0
	for _, n := range f.Notes {
		if n.New {
			fresh++
		}
	}
	if fresh != len(f.Notes) || fresh == 0 {
		t.Errorf("%d new notes of %d, want all", fresh, len(f.Notes))
	}
}

func TestBeforeInMetres(t *testing.T) {
	s := demoShot(t, "deckhand_polish.usda")
	s.Before = demoShot(t, "formats/deckhand_polish.gltf").Study
	f := decoded(t, s)
	i := column(t, f, "/Tug/hips/spine/chest/neck/head")
	j := slices.IndexFunc(f.Before.Parts, func(p partOf) bool { return p.Name == "head" && f.Before.Figures[p.Figure].Name == "Tug" })
	for _, frame := range []int{0, 50, 95} {
		a, b := f.Now.place(t, i, frame), f.Before.place(t, j, frame)
		if d := r3.Norm(r3.Sub(a, b)); d > 0.05 {
			t.Errorf("frame %d: %g apart", frame, d)
		}
	}
}

func TestOnto(t *testing.T) {
	o := &onto{axes(r3.Vec{Z: 1}), axes(r3.Vec{Y: 1}), 2}
	for p, want := range map[r3.Vec]r3.Vec{{X: 1}: {X: 2}, {Z: 1}: {Y: 2}, {Y: -1}: {Z: 2}} {
		if got := o.place(p); got != want {
			t.Errorf("%v comes to %v, want %v", p, got, want)
		}
	}
}

func TestReference(t *testing.T) {
	s := demoShot(t, "deckhand_polish.usda")
	s.Before = studied(t, "take.bvh", []byte(winch), settings(t)).Study
	f := decoded(t, s)
	if f.Before != nil || f.Change == nil || f.Change.Name != "take.bvh" {
		t.Errorf("before %+v, change %+v", f.Before, f.Change)
	}
}
