package corpus

import (
	"fmt"
	"slices"
	"strings"
)

// Report writes the tally as Markdown: totals, a row a check, and the confusion
// table.
func (t *Tally) Report(n int, held bool) string {
	var b strings.Builder
	half := "calibration half"
	if held {
		half = "half that is kept back"
	}
	found, wrong, planted := t.Total()
	p, plo, phi := wilson(found, found+wrong)
	r, rlo, rhi := wilson(found, planted)
	fmt.Fprintf(&b, "# Score of the checks on the labelled corpus\n\n")
	fmt.Fprintf(&b, "%s, %d flawed and %d near-miss scenes a check, made by `go run ./cmd/lab/corpus/score -n %d%s`. All scenes are invented data.\n\n",
		strings.ToUpper(half[:1])+half[1:], n, n, n, map[bool]string{true: " -held"}[held])
	fmt.Fprintf(&b, "- Precision %.3f (%.3f to %.3f): %d planted notes, %d others.\n", p, plo, phi, found, wrong)
	fmt.Fprintf(&b, "- Recall %.3f (%.3f to %.3f): %d of %d flaws.\n", r, rlo, rhi, found, planted)
	if t.Units > 0 {
		fmt.Fprintf(&b, "- Natural motion: %.3f warnings and %.3f notes per 4 s and figure (%.0f such units).\n", float64(t.Warnings)/t.Units, float64(t.Notes)/t.Units, t.Units)
	}
	b.WriteString("\n")
	fmt.Fprintf(&b, "Intervals are 95 %% (Wilson). A note counts as planted when it is of the planted check, on one of the parts that cause the flaw, at its frames; every other note of warning or information counts against its check.\n\n")
	b.WriteString("| check | recall | interval | precision | interval | planted | others |\n| --- | --- | --- | --- | --- | --- | --- |\n")
	for _, c := range t.judged() {
		r, rlo, rhi := t.Recall(c)
		p, plo, phi := t.Precision(c)
		fmt.Fprintf(&b, "| `%s` | %.2f | %.2f-%.2f | %.2f | %.2f-%.2f | %d | %d |\n", c, r, rlo, rhi, p, plo, phi, t.Planted[c], t.False[c])
	}
	var others []string
	for c, k := range t.False {
		if _, ok := planters[c]; !ok {
			others = append(others, fmt.Sprintf("`%s` %d", c, k))
		}
	}
	slices.Sort(others)
	if len(others) > 0 {
		fmt.Fprintf(&b, "\nChecks that the corpus does not plant yet gave notes as well: %s.\n", strings.Join(others, ", "))
	}
	b.WriteString("\n## Which check fired where another was planted\n\n| planted | gave |\n| --- | --- |\n")
	for _, c := range t.judged() {
		var gave []string
		for o, k := range t.Confused[c] {
			gave = append(gave, fmt.Sprintf("%s %d", o, k))
		}
		slices.Sort(gave)
		fmt.Fprintf(&b, "| `%s` | %s |\n", c, strings.Join(gave, ", "))
	}
	return b.String()
}

// judged lists the checks whose plants were judged, in order.
func (t *Tally) judged() []string {
	return slices.DeleteFunc(Checks(), func(c string) bool { return t.Planted[c] == 0 })
}
