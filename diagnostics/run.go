package diagnostics

import (
	"context"
	"runtime"
	"slices"
	"sync"

	"curvelint/diagnostics/checks"
	"curvelint/diagnostics/checks/kit"
	"curvelint/diagnostics/config"
	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/note"
	"curvelint/parse/scene"
)

// Result is what a scene was found to be.
type Result struct {
	Study *motion.Study
	// Notes are in order: by first frame (what is about no frames first),
	// then by place, check and part. Their spans are in the scene's files.
	Notes []note.Note
	// Allowed are notes that an allowance excuses.
	Allowed []Allowed
	// Uses tells what became of the configuration's words here.
	Uses *Uses
	// Complete is false when the context ended before everything was done.
	Complete bool
}

// Allowed is a note and the reason why it is allowed.
type Allowed struct {
	Note note.Note
	Why  string
}

// runChecks runs the checks on all processors and returns their notes in the
// order of the checks.
func runChecks(ctx context.Context, study *motion.Study, cfg *config.Config, list []*kit.Check) []note.Note {
	found := make([][]note.Note, len(list))
	next := make(chan int)
	var wg sync.WaitGroup
	for range min(len(list), runtime.GOMAXPROCS(0)) {
		wg.Go(func() {
			for i := range next {
				found[i] = runCheck(ctx, study, cfg, list[i])
			}
		})
	}
	for i := range list {
		if ctx.Err() != nil {
			break
		}
		next <- i
	}
	close(next)
	wg.Wait()
	var notes []note.Note
	for _, n := range found {
		notes = append(notes, n...)
	}
	return notes
}

// runCheck runs one check; a fault in it becomes a note.
func runCheck(ctx context.Context, study *motion.Study, cfg *config.Config, c *kit.Check) []note.Note {
	var notes []note.Note
	fault := guard("the check "+c.ID, func() {
		k := kit.NewContext(ctx, study, c, cfg.SeverityOf(c.ID, c.Severity), cfg.Checks[c.ID].Settings)
		found := slices.DeleteFunc(c.Run(k), func(n note.Note) bool { return beyondMeasure(study.Scene, &n) })
		for i := range found {
			found[i].Check = c.ID
			if found[i].Severity == note.Off {
				found[i].Severity = k.Severity
			}
			mustBeSound(study.Scene, &found[i])
		}
		notes = found
	})
	if fault != nil {
		return []note.Note{*fault}
	}
	return notes
}

// problemNotes turns what the parser found wrong into notes.
func problemNotes(sc *scene.Scene) []note.Note {
	notes := make([]note.Note, 0, len(sc.Problems))
	for _, p := range sc.Problems {
		n := note.Note{
			Check: string(p.Kind), Severity: note.Error, First: 0, Last: -1, Span: p.Span, Message: p.Message,
			PartID: scene.NoPart, Channel: scene.NoChannel,
		}
		if c := checks.Find(n.Check); c != nil {
			n.Severity = c.Severity
		}
		notes = append(notes, n)
	}
	return notes
}

// setSeverities applies the configuration to notes that no check has made: the
// parser's problems. A check gives its notes the configured severity itself.
func setSeverities(cfg *config.Config, notes []note.Note) {
	for i := range notes {
		n := &notes[i]
		if c := checks.Find(n.Check); c != nil && c.Run == nil {
			n.Severity = cfg.SeverityOf(n.Check, n.Severity)
		}
	}
}

// blockedFigures returns the figures that are still in blocking.
func blockedFigures(study *motion.Study) (blocked []*motion.Figure, fault *note.Note) {
	fault = guard("looking for blocked figures", func() {
		for _, fig := range study.Figures() {
			if fig.StillBlocked() {
				blocked = append(blocked, fig)
			}
		}
	})
	return blocked, fault
}

// unblocked removes the notes that mean nothing on a blocked figure.
func unblocked(study *motion.Study, notes []note.Note, blocked []*motion.Figure) []note.Note {
	if len(blocked) == 0 {
		return notes
	}
	kept := notes[:0]
	for _, n := range notes {
		silent := false
		if c := checks.Find(n.Check); c != nil && c.SilentWhenBlocked && n.PartID != scene.NoPart {
			for _, fig := range blocked {
				silent = silent || study.FigureOf(n.PartID) == fig || study.IsAncestor(fig.Root, n.PartID)
			}
		}
		if !silent {
			kept = append(kept, n)
		}
	}
	return kept
}
