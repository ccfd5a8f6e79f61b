package corpus

import (
	"context"
	"fmt"
	"math"
	"path"
	"slices"
	"strings"

	"curvelint/cmd/lab/designed/natural"
	"curvelint/diagnostics"
	"curvelint/diagnostics/checks"
	"curvelint/diagnostics/note"
	"curvelint/parse"
	"curvelint/parse/scene"
)

// Tally counts what the checks made of a part of the corpus.
type Tally struct {
	Planted, Found map[string]int // by check
	False          map[string]int // notes nobody planted, by check
	// Confused[a][b] counts scenes with flaw a in which check b gave a note.
	Confused map[string]map[string]int
	// Warnings and Notes are those on natural motion, Units its length in
	// figures times 4 s.
	Warnings, Notes int
	Units           float64
	Missed, Wrong   []string // what went wrong, for people

	look func(*Case)
}

// Checks lists the checks that the corpus plants, in order.
func Checks() []string {
	var out []string
	for c := range planters {
		out = append(out, c)
	}
	slices.Sort(out)
	return out
}

// Scope says which part of the corpus is judged.
type Scope struct {
	Seeds int // a check in the half; a quarter of it a kind of natural motion
	Held  bool
	// Checks are the planted checks; nil means all, and natural motion as well.
	Checks []string
	// Look is given every case that was not judged as it should be.
	Look func(*Case)
}

// Score makes and judges cases.
func Score(ctx context.Context, scope Scope) (*Tally, error) {
	n := scope.Seeds
	t := &Tally{look: scope.Look, Planted: map[string]int{}, Found: map[string]int{}, False: map[string]int{}, Confused: map[string]map[string]int{}}
	from := 0
	if scope.Held {
		from = 1
	}
	list := scope.Checks
	if list == nil {
		list = Checks()
	}
	for _, check := range list {
		for i := range n {
			for _, flawed := range []bool{true, false} {
				c, err := Make(check, 2*i+from, flawed)
				if err != nil {
					return nil, err
				}
				t.judge(ctx, &c)
			}
		}
	}
	for _, k := range natural.Kinds {
		if scope.Checks != nil {
			break
		}
		for i := range max(n/4, 1) {
			c, err := MakeNatural(k, 2*i+from)
			if err != nil {
				return nil, err
			}
			t.judge(ctx, &c)
		}
	}
	return t, ctx.Err()
}

// judge runs all checks on a case and counts.
func (t *Tally) judge(ctx context.Context, c *Case) {
	var o scene.ReadOptions
	if path.Ext(c.File) == ".csv" {
		o.Rate = c.Rate // a table does not tell its rate: people do
	}
	sc := parse.Parse(c.File, c.Text, o)
	r := diagnostics.Judge{Config: &c.Config}.Scene(ctx, sc)
	found, wrong := false, len(t.Wrong)
	defer func() {
		if t.look != nil && (len(t.Wrong) > wrong || c.Kind == Flaw && !found) {
			t.look(c)
		}
	}()
	for _, n := range r.Notes {
		if !counts(&n) {
			continue
		}
		if c.Kind == Natural {
			t.Notes++
			if n.Severity <= note.Warning {
				t.Warnings++
			}
		}
		if c.Kind == Flaw {
			if t.Confused[c.Check] == nil {
				t.Confused[c.Check] = map[string]int{}
			}
			t.Confused[c.Check][n.Check]++
		}
		if c.Kind == Flaw && n.Check == c.Check && c.Meant(sc, &n) {
			found = true
			continue
		}
		t.False[n.Check]++
		t.Wrong = append(t.Wrong, fmt.Sprintf("%s: %s %s: %s", c.File, n.Check, path.Base(n.Part), n.Message))
	}
	switch c.Kind {
	case Natural:
		t.Units += float64(len(r.Study.Figures())) * (sc.Last - sc.First) / sc.Rate / 4
	case Flaw:
		t.Planted[c.Check]++
		if found {
			t.Found[c.Check]++
		} else {
			t.Missed = append(t.Missed, fmt.Sprintf("%s: %s at %d-%d (%g fps)", c.File, path.Base(c.Label.Part), c.First, c.Last, c.Rate))
		}
	}
}

// counts reports whether a note is scored: warnings and information, and hints of
// checks that give nothing else.
func counts(n *note.Note) bool {
	if n.Severity <= note.Information {
		return true
	}
	k := checks.Find(n.Check)
	_, planted := planters[n.Check]
	return planted && k != nil && k.Severity == note.Hint
}

// Meant reports whether a note is the planted one: on one of its parts, at its
// frames.
func (c *Case) Meant(sc *scene.Scene, n *note.Note) bool {
	names := []string{path.Base(c.Label.Part)}
	for _, p := range c.Label.Also {
		names = append(names, path.Base(p))
	}
	part := path.Base(n.Part)
	if part == "skeleton" {
		part = names[0] // a skeleton is a prim of its own that carries its root
	}
	if !slices.ContainsFunc(names, func(s string) bool { return sameName(s, part) }) {
		return false
	}
	slack := c.Rate / 12
	first, last := n.First-sc.First, n.Last-sc.First
	return first <= float64(c.Last)+slack && last >= float64(c.First)-slack
}

// sameName compares names, which some formats must change a little.
func sameName(a, b string) bool {
	clean := func(s string) string { return strings.NewReplacer(":", "_", ".", "_", " ", "_").Replace(s) }
	return clean(a) == clean(b) || strings.HasPrefix(clean(b), clean(a)+"_")
}

// Precision returns how many of a check's notes were planted, with the ends of
// the 95 % interval after E. B. Wilson, J. Am. Stat. Assoc. 22 (1927) 209-212.
func (t *Tally) Precision(check string) (p, lo, hi float64) {
	return wilson(t.Found[check], t.Found[check]+t.False[check])
}

// Recall returns how many of the planted flaws were found, with its interval.
func (t *Tally) Recall(check string) (p, lo, hi float64) {
	return wilson(t.Found[check], t.Planted[check])
}

// Total returns overall precision and recall.
func (t *Tally) Total() (found, false_, planted int) {
	for _, n := range t.Found {
		found += n
	}
	for _, n := range t.False {
		false_ += n
	}
	for _, n := range t.Planted {
		planted += n
	}
	return found, false_, planted
}

// wilson is the score interval of k successes in n trials at 95 %.
func wilson(k, n int) (p, lo, hi float64) {
	if n == 0 {
		return 1, 0, 1
	}
	const z = 1.959964
	p = float64(k) / float64(n)
	m := float64(n)
	mid := (p + z*z/(2*m)) / (1 + z*z/m)
	half := z / (1 + z*z/m) * math.Sqrt(p*(1-p)/m+z*z/(4*m*m))
	return p, mid - half, mid + half
}
