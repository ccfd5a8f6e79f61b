package diagnostics

import (
	"context"
	"fmt"
	"strings"
	"testing"

	"curvelint/diagnostics/config"
	"curvelint/diagnostics/note"
	"curvelint/parse"
	"curvelint/parse/scene"
)

// Twelve gulls that one interpolator moves have one note, where its keys are; a
// thirteenth with keys of its own has its own.
func TestOneAnimationManyParts(t *testing.T) {
	var b strings.Builder
	b.WriteString("#VRML V2.0 utf8\nDEF clock TimeSensor { cycleInterval 1 }\n")
	for i := range 13 {
		fmt.Fprintf(&b, "DEF gull%d Transform { translation %d 0 0 }\n", i, 100*i)
	}
	for _, name := range []string{"path", "own"} {
		fmt.Fprintf(&b, "DEF %s PositionInterpolator { key [0 1] keyValue [0 0 0, 0 9 0] }\nROUTE clock.fraction_changed TO %[1]s.set_fraction\n", name)
	}
	for i := range 13 {
		fmt.Fprintf(&b, "ROUTE %s.value_changed TO gull%d.set_translation\n", map[bool]string{true: "path", false: "own"}[i < 12], i)
	}
	sc := parse.Parse("gulls.wrl", []byte(b.String()), scene.ReadOptions{})
	cfg := &config.Config{}
	study, _ := Judge{Config: cfg}.Study(sc)
	var said []string
	for _, n := range (Judge{Config: cfg, Selection: Selection{Only: []string{"even-spacing"}}}).Notes(context.Background(), study).Notes {
		said = append(said, n.Message)
	}
	if len(said) != 2 || !strings.HasSuffix(said[0], "(and 11 more with these keys)") || strings.Contains(said[1], "more") {
		t.Errorf("want one note for twelve gulls and one for the last, have\n%s", strings.Join(said, "\n"))
	}
}

// Notes without a place of their own are never taken for one.
func TestGatherSharedKeepsNotesWithoutPlace(t *testing.T) {
	n := note.Note{Check: "pop", First: 3, Last: 3, Message: "m"}
	if got := gatherShared([]note.Note{n, n}); len(got) != 2 {
		t.Errorf("%d notes, want both", len(got))
	}
}
