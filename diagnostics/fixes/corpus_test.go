package fixes_test

import (
	"testing"

	"curvelint/cmd/lab/corpus"
	"curvelint/diagnostics/config"
	"curvelint/diagnostics/fixes"
	"curvelint/diagnostics/note"
)

// fixedChecks are the checks of the corpus that have fixes.
var fixedChecks = []string{"even-spacing", "same-frame", "frozen-hold", "pop", "angle-flip"}

// tried counts what became of the fixes of one check.
type tried struct{ notes, offered, refused, mended, worse int }

// TestCorpusFixes tries every fix on the planted flaws of the corpus: scenes of
// many parts, sizes, rates and formats, authored and baked. (Invented data.) A
// fix that is offered mends what it is for and does not bring other warnings.
func TestCorpusFixes(t *testing.T) {
	seeds := 12
	if testing.Short() {
		seeds = 3
	}
	for _, check := range fixedChecks {
		t.Run(check, func(t *testing.T) {
			t.Parallel()
			count := map[string]*tried{}
			for seed := range seeds {
				c, err := corpus.Make(check, seed, true)
				if err != nil {
					t.Fatal(err)
				}
				s := judge(t, c.File, c.Text, &config.Config{})
				for i := range s.res.Notes {
					if s.res.Notes[i].Check == check {
						try(t, s, &s.res.Notes[i], c.Name, count)
					}
				}
			}
			for id, n := range count {
				t.Logf("%s: %+v", id, *n)
			}
		})
	}
}

func try(t *testing.T, s *shot, n *note.Note, name string, count map[string]*tried) {
	t.Helper()
	for _, f := range fixes.For(s.res.Study, n) {
		k := count[f.ID]
		if k == nil {
			k = &tried{}
			count[f.ID] = k
		}
		k.notes++
		if f.Refused != "" {
			k.refused++
			t.Logf("%s: %s refused: %s", name, f.ID, f.Refused)
			continue
		}
		if len(f.Edits) == 0 {
			continue // keys that are no text
		}
		k.offered++
		after := s.with(t, &f)
		bad := problems(s, after, n)
		if len(bad) == 0 {
			k.mended++
			continue
		}
		k.worse++
		t.Logf("%s (%s): %s: %v", name, s.name, f.Title, bad)
	}
}

// problems returns what is wrong after a fix: the note if it is still there,
// and warnings that are new.
func problems(before, after *shot, n *note.Note) []string {
	var bad []string
	for i := range after.res.Notes {
		m := &after.res.Notes[i]
		if m.Check == n.Check && m.Part == n.Part && m.First <= n.Last && m.Last >= n.First {
			bad = append(bad, "still: "+m.Message)
		}
	}
	known := map[string]bool{}
	for _, w := range before.brief(note.Warning) {
		known[w] = true
	}
	for i := range after.res.Notes {
		m := &after.res.Notes[i]
		if m.Severity <= note.Warning && !known[after.briefOf(i)] && m.Check != n.Check {
			bad = append(bad, "new: "+m.Check+" "+m.Message)
		}
	}
	return bad
}
