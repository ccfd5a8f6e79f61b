package diagnostics

import (
	"fmt"
	"math"
	"path/filepath"
	"slices"
	"strconv"

	"curvelint/diagnostics/checks"
	"curvelint/diagnostics/checks/tool"
	"curvelint/diagnostics/config"
	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/note"
	"curvelint/parse/scene"
)

// Use says what became of an allowance of the configuration in one file.
type Use uint8

// The uses of an allowance.
const (
	Elsewhere Use = iota // it is about other files, parts, frames or checks that did not run
	Unused               // it could have applied, but nothing needed it
	Used
)

// allow moves the notes that are allowed to r.Allowed and returns the others,
// with a hint for each allowance of the scene's own files that nothing needs.
func (r *Result) allow(cfg *config.Config, sel Selection, notes []note.Note) []note.Note {
	a := &allowances{study: r.Study, cfg: cfg, sel: sel,
		applies: make([]bool, len(cfg.Allows)), uses: make([]Use, len(cfg.Allows)),
		used: make([]bool, len(r.Study.Scene.Allows))}
	a.configured()
	var kept []note.Note
	for _, n := range notes {
		if why, ok := a.excuse(&n); ok {
			r.Allowed = append(r.Allowed, Allowed{n, why})
			continue
		}
		kept = append(kept, n)
	}
	r.Uses = &Uses{Allows: a.uses, Unmet: unmet(r.Study, cfg)}
	if !r.Complete {
		return kept
	}
	return append(kept, a.unused()...)
}

// allowances are all that apply to one study.
type allowances struct {
	study *motion.Study
	cfg   *config.Config
	sel   Selection
	// applies tells which of the configuration's are about this file, and uses
	// what became of them; used is of the scene's own.
	applies []bool
	uses    []Use
	used    []bool
}

// runs reports whether the check of an allowance gave its notes at all.
func (a *allowances) runs(id string) bool {
	c := checks.Find(id)
	return c != nil && a.sel.shows(c) && a.cfg.SeverityOf(id, c.Severity) != note.Off
}

// configured finds the allowances of the configuration that are about this
// file. Those whose frames are not all judged may be needed by what is not
// seen, so that nobody can call them unused.
func (a *allowances) configured() {
	sc := a.study.Scene
	for i := range a.cfg.Allows {
		w := &a.cfg.Allows[i]
		a.applies[i] = a.runs(w.Check) && aboutFile(a.cfg, w, sc) &&
			slices.ContainsFunc(sc.Parts, func(p scene.Part) bool { return w.Match.Match(p.Path) })
		frames := w.Frames
		if !w.HasFrames {
			frames = config.Frames{First: math.NaN()}
		}
		if a.applies[i] && a.sees(frames) {
			a.uses[i] = Unused
		}
	}
}

// sees reports whether all frames of an allowance are judged. Frames that are
// no numbers stand for the whole clip.
func (a *allowances) sees(f config.Frames) bool {
	o := &a.study.Options
	if math.IsNaN(f.First) {
		return !o.HasRange
	}
	first, last := a.study.JudgedRange()
	return first <= last && f.First >= a.study.Frame(first) && f.Last <= a.study.Frame(last)
}

// aboutFile reports whether an allowance applies to the scene's file. Patterns
// see its path from the folder of the configuration.
func aboutFile(cfg *config.Config, w *config.Allow, sc *scene.Scene) bool {
	if len(w.File) == 0 {
		return true
	}
	if len(sc.Files) == 0 {
		return false
	}
	path := sc.Files[0].Path
	if abs, err := filepath.Abs(path); err == nil {
		if dir, err := filepath.Abs(filepath.Dir(cfg.Path)); err == nil {
			if rel, err := filepath.Rel(dir, abs); err == nil && filepath.IsLocal(rel) {
				path = rel
			}
		}
	}
	return w.File.Match(filepath.ToSlash(path))
}

// excuse looks for an allowance that covers a note and returns its reason.
func (a *allowances) excuse(n *note.Note) (why string, ok bool) {
	for i := range a.cfg.Allows {
		w := &a.cfg.Allows[i]
		if w.Check != n.Check || !a.applies[i] || !w.Match.Match(n.Part) {
			continue
		}
		if w.HasFrames && !covers(a.follow(w, n.PartID), n) {
			continue
		}
		a.uses[i] = Used
		return w.Why, true
	}
	for i := range a.study.Scene.Allows {
		w := &a.study.Scene.Allows[i]
		if w.Check == n.Check && a.study.IsAncestor(w.Part, n.PartID) && covers(config.Frames{First: w.First, Last: w.Last}, n) {
			a.used[i] = true
			return w.Why, true
		}
	}
	return "", false
}

// covers reports whether allowed frames hold a note: they share at least half
// of the shorter range. Frames that are no numbers cover everything.
func covers(f config.Frames, n *note.Note) bool {
	if math.IsNaN(f.First) || !n.HasFrames() {
		return math.IsNaN(f.First)
	}
	shared := common(f.First, f.Last, n.First, n.Last)
	return shared > 0 && 2*shared >= min(count(f.First, f.Last), count(n.First, n.Last))
}

// unused returns a hint for each allowance of the scene's own files that
// nothing needs.
func (a *allowances) unused() []note.Note {
	var hints []note.Note
	sc := a.study.Scene
	for i := range sc.Allows {
		w := &sc.Allows[i]
		known := checks.Find(w.Check) != nil
		if a.used[i] || known && !(a.runs(w.Check) && a.sees(config.Frames{First: w.First, Last: w.Last})) {
			continue
		}
		n := note.Note{
			Check: tool.UnusedAllow, Severity: a.cfg.SeverityOf(tool.UnusedAllow, note.Hint),
			First: 0, Last: -1, Span: w.Span, PartID: w.Part, Channel: scene.NoChannel,
			Message: fmt.Sprintf("this allowance of %s is not needed; remove it, or correct its frames", w.Check),
		}
		if w.Part != scene.NoPart {
			n.Part = sc.Parts[w.Part].Path
		}
		if !known {
			n.Message = fmt.Sprintf("this allowance names the unknown check %s; correct it, or remove the comment", strconv.Quote(w.Check))
		}
		hints = append(hints, n)
	}
	return hints
}
