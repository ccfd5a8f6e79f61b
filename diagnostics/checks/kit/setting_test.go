package kit

import (
	"testing"

	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/note"
	"curvelint/parse/scene"
)

func TestSettings(t *testing.T) {
	depth := &Number{Name: "depth", Unit: "ratio", Default: 0.5, Max: 1}
	hold := &Seconds{Name: "hold", Default: 0.25, Max: 1}
	alien := &Number{Name: "depth", Unit: "ratio", Default: 0.5, Max: 1}
	c := &Check{ID: "invented", Severity: note.Warning, Settings: []Setting{depth, hold}}
	study := motion.New(&scene.Scene{Rate: 24}, motion.Options{})

	usual := NewContext(t.Context(), study, c, note.Off, nil)
	if usual.Severity != note.Warning || depth.In(usual) != 0.5 || hold.In(usual) != 0.25 || hold.Frames(usual) != 6 {
		t.Errorf("defaults: %+v", usual)
	}
	set := NewContext(t.Context(), study, c, note.Hint, map[string]float64{"depth": 0.25, "hold": 0.5})
	if set.Severity != note.Hint || depth.In(set) != 0.25 || hold.Frames(set) != 12 {
		t.Errorf("as configured: %+v", set)
	}
	defer func() {
		if recover() == nil {
			t.Error("a setting of another check is no mistake")
		}
	}()
	alien.In(set)
}

func TestLimit(t *testing.T) {
	if got := (&Limit{Name: "pause", Value: 0.1, Unit: "s"}).Frames(24); got != 2 {
		t.Errorf("%d frames, want 2", got)
	}
	defer func() {
		if recover() == nil {
			t.Error("a share has frames")
		}
	}()
	(&Limit{Name: "share", Value: 0.1, Unit: "ratio"}).Frames(24)
}
