package diagnostics

import (
	"context"

	"curvelint/diagnostics/checks"
	"curvelint/diagnostics/config"
	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/note"
	"curvelint/parse/scene"
)

// Judge is the one place where a scene becomes a study and a study becomes
// notes. Whatever fails in it by a fault of the program itself, be it the study,
// its update after an edit, a check, or what is made of the notes of all, becomes
// a note of the finding internal that names the step, and everything else still
// comes. The zero value judges without a configuration.
type Judge struct {
	Config    *config.Config // nil is that of a shot without one
	Selection Selection
}

// The steps of a judge; tests put in some that fail.
var (
	newStudy    = motion.New
	updateStudy = (*motion.Study).Update
	settleNotes = Judge.settle
)

// config is what the judge goes by, never nil.
func (j Judge) config() *config.Config {
	if j.Config == nil {
		return &config.Config{}
	}
	return j.Config
}

// Scene studies a scene and gives the notes on it.
func (j Judge) Scene(ctx context.Context, sc *scene.Scene) *Result {
	study, fault := j.Study(sc)
	return j.notes(ctx, study, fault)
}

// Edit does what Scene does for a scene that differs from that of an earlier
// study, made by the same configuration, only in the keys of some channels and
// in static values of some parts. A study that cannot be updated is made anew.
func (j Judge) Edit(ctx context.Context, before *motion.Study, sc *scene.Scene, changed []scene.ChannelID, parts ...scene.PartID) *Result {
	var study *motion.Study
	fault := guard("the update of the motion study", func() { study = updateStudy(before, sc, changed, parts...) })
	if fault == nil {
		return j.notes(ctx, study)
	}
	study, again := j.Study(sc)
	if again != nil {
		return j.notes(ctx, study, again) // it fails without the edit, too: once is enough
	}
	return j.notes(ctx, study, fault)
}

// Notes gives the notes on a study that was made with the judge's configuration.
func (j Judge) Notes(ctx context.Context, study *motion.Study) *Result {
	return j.notes(ctx, study)
}

// Study studies a scene. The study is never nil: when the program fails, it is
// an empty one and the note says so.
func (j Judge) Study(sc *scene.Scene) (study *motion.Study, fault *note.Note) {
	fault = guard("the motion study", func() {
		study = newStudy(sc, StudyOptions(j.config()))
		study.Figures() // on which all that is asked of it later depends
	})
	if fault != nil {
		empty := &scene.Scene{Format: sc.Format, Files: sc.Files, Rate: sc.Rate, First: 0, Last: -1,
			DefaultCamera: scene.NoPart, Problems: sc.Problems}
		study = motion.New(empty, motion.Options{})
	}
	return study, fault
}

// notes judges a study; faults are those that making it had.
func (j Judge) notes(ctx context.Context, study *motion.Study, faults ...*note.Note) *Result {
	cfg := j.config()
	r := &Result{Study: study}
	blocked, fault := blockedFigures(study)
	notes := append(problemNotes(study.Scene), runChecks(ctx, study, cfg, j.Selection.toRun(cfg))...)
	for _, f := range append(faults, fault) {
		if f != nil {
			notes = append(notes, *f)
		}
	}
	r.Complete = ctx.Err() == nil
	fault = guard("what is made of the notes", func() { r.Notes = settleNotes(j, r, notes, blocked) })
	if fault != nil {
		r.Notes = append(ProblemNotes(study.Scene, cfg), *fault)
		sortNotes(r.Notes)
	}
	return r
}

// settle makes of the notes of all checks those that are shown, in their order.
func (j Judge) settle(r *Result, notes []note.Note, blocked []*motion.Figure) []note.Note {
	cfg := j.config()
	notes = clearOfHandles(r.Study, notes)
	notes = unblocked(r.Study, notes, blocked)
	setSeverities(cfg, notes)
	sortNotes(notes)
	// What lies outside the range may still be the cause of what lies inside.
	notes = inRange(r.Study, merge(r.Study, notes))
	notes = summarise(r.Study, gatherShared(r.allow(cfg, j.Selection, notes)))
	var shown []note.Note
	for _, n := range notes {
		if n.Severity != note.Off && j.Selection.shows(checks.Find(n.Check)) {
			shown = append(shown, n)
		}
	}
	sortNotes(shown)
	return shown
}
