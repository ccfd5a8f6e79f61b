package diagnostics

import (
	"os"
	"strings"
	"testing"

	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/note"
	"curvelint/parse"
	"curvelint/parse/scene"
)

func TestSummarise(t *testing.T) {
	src, err := os.ReadFile("../testdata/demo/deckhand_polish.usda")
	if err != nil {
		t.Fatal(err)
	}
	sc := parse.Parse("deckhand_polish.usda", src, scene.ReadOptions{})
	study := motion.New(sc, motion.Options{})
	head := sc.Find("/Tug/hips/spine/chest/neck/head")
	many := func(check string, sev note.Severity, n int) []note.Note {
		var out []note.Note
		for i := range n {
			out = append(out, note.Note{Check: check, Severity: sev, PartID: head, Channel: scene.NoChannel,
				First: float64(i), Last: float64(i), Weight: float64(i % 5), Message: "m"})
		}
		return out
	}
	notes := append(many("pop", note.Warning, 9), many("hitch", note.Warning, 6)...)
	notes = append(notes, many("idle-key", note.Hint, 20)...)
	got := summarise(study, notes)
	count := map[string]int{}
	for _, n := range got {
		count[n.Check]++
		if n.Check == "pop" && (!strings.HasSuffix(n.Message, "(and 8 more like it)") || len(n.Related) != 8 || n.Weight != 4) {
			t.Errorf("the summary: %q, %d places, weight %g", n.Message, len(n.Related), n.Weight)
		}
	}
	if count["pop"] != 1 || count["hitch"] != 6 || count["idle-key"] != 20 {
		t.Errorf("%v, want one pop, six hitches and all hints", count)
	}
}
