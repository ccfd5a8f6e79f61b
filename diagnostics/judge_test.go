package diagnostics

import (
	"testing"

	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/note"
	"curvelint/parse/scene"

	"github.com/google/go-cmp/cmp"
)

// faults is how often an internal note of a step is among the notes.
func faults(notes []note.Note, step string) int {
	n := 0
	for i := range notes {
		if notes[i].Check == "internal" && notes[i].Message[:len(step)] == step {
			n++
		}
	}
	return n
}

// An update that fails is told once, and everything else comes from a new study.
func TestFaultOfAnUpdate(t *testing.T) {
	PanicOnBugs(false)
	defer PanicOnBugs(true)
	defer func(f func(*motion.Study, *scene.Scene, []scene.ChannelID, ...scene.PartID) *motion.Study) {
		updateStudy = f
	}(updateStudy)
	sc := scenery(t)
	invent(t, saying("x-sound", note.Warning, on(sc, hips, 1, 2, 1)))
	first := Judge{}.Scene(t.Context(), sc)

	good := Judge{}.Edit(t.Context(), first.Study, sc, nil)
	if d := cmp.Diff(brief(first.Notes), brief(good.Notes)); d != "" || !good.Complete {
		t.Fatal(d)
	}
	updateStudy = func(*motion.Study, *scene.Scene, []scene.ChannelID, ...scene.PartID) *motion.Study { panic("rope") }
	r := Judge{}.Edit(t.Context(), first.Study, sc, nil)
	if d := cmp.Diff([]string{"internal", "x-sound /Tug/hips 1-2"}, brief(r.Notes)); d != "" {
		t.Error(d)
	}
	if faults(r.Notes, "the update of the motion study failed") != 1 {
		t.Errorf("the notes do not say that the update failed: %v", r.Notes)
	}
}

// A study that fails with and without the edit is told once.
func TestFaultOfUpdateAndStudy(t *testing.T) {
	PanicOnBugs(false)
	defer PanicOnBugs(true)
	defer func(f func(*scene.Scene, motion.Options) *motion.Study) { newStudy = f }(newStudy)
	defer func(f func(*motion.Study, *scene.Scene, []scene.ChannelID, ...scene.PartID) *motion.Study) {
		updateStudy = f
	}(updateStudy)
	sc := scenery(t)
	first := Judge{}.Scene(t.Context(), sc)
	newStudy = func(*scene.Scene, motion.Options) *motion.Study { panic("winch") }
	updateStudy = func(*motion.Study, *scene.Scene, []scene.ChannelID, ...scene.PartID) *motion.Study { panic("rope") }
	r := Judge{}.Edit(t.Context(), first.Study, sc, nil)
	if faults(r.Notes, "the motion study failed") != 1 || faults(r.Notes, "the update") != 0 || r.Study == nil {
		t.Errorf("notes: %v", brief(r.Notes))
	}
}

// A fault in what is made of the notes leaves those on the file.
func TestFaultOfTheOrder(t *testing.T) {
	PanicOnBugs(false)
	defer PanicOnBugs(true)
	sc := scenery(t)
	sc.Problems = []scene.Problem{{Kind: scene.MissingFile, Message: "missing"}}
	defer func(f func(Judge, *Result, []note.Note, []*motion.Figure) []note.Note) { settleNotes = f }(settleNotes)
	settleNotes = func(Judge, *Result, []note.Note, []*motion.Figure) []note.Note { panic("cleat") }
	invent(t, saying("x-sound", note.Warning, on(sc, hips, 1, 2, 1)))
	r := Judge{}.Scene(t.Context(), sc)
	if faults(r.Notes, "what is made of the notes failed") != 1 {
		t.Errorf("notes: %v", brief(r.Notes))
	}
	for _, n := range r.Notes {
		if n.Check == "missing-file" {
			return
		}
	}
	t.Errorf("the problem of the file is gone: %v", brief(r.Notes))
}
