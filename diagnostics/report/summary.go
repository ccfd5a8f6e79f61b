package report

import (
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"curvelint/diagnostics/note"
	"curvelint/diagnostics/words"
)

// Summary counts the notes of a run and tells a person how many there are.
type Summary struct {
	files []fileCount
	total counts
	notes int // files with notes
}

// counts holds the number of notes by severity.
type counts [note.Hint + 1]int

type fileCount struct {
	path   string
	before string // the earlier pass, "" if none
	counts counts
}

// sum returns the number of notes.
func (c *counts) sum() int {
	n := 0
	for _, k := range c {
		n += k
	}
	return n
}

// Add counts the notes of a file. Before is the path of its earlier pass, ""
// if it has none.
func (s *Summary) Add(f *File, before string) {
	k := fileCount{path: f.Path, before: before}
	for i := range f.Notes {
		k.counts[f.Notes[i].severity]++
		s.total[f.Notes[i].severity]++
	}
	if k.counts.sum() > 0 {
		s.notes++
	}
	s.files = append(s.files, k)
}

// Reaches reports whether there is a note at or above a severity.
func (s *Summary) Reaches(bar note.Severity) bool {
	for severity := note.Error; severity <= bar; severity++ {
		if s.total[severity] > 0 {
			return true
		}
	}
	return false
}

// fewFiles is the number of files up to which each has its line.
const fewFiles = 12

// Write writes the summary: a line for each file when they are few, else for
// those with the most notes, and the total.
func (s *Summary) Write(w io.Writer) error {
	shown := slices.Clone(s.files)
	if len(shown) > fewFiles {
		slices.SortStableFunc(shown, func(a, b fileCount) int { return b.counts.sum() - a.counts.sum() })
		shown = shown[:fewFiles]
		shown = slices.DeleteFunc(shown, func(k fileCount) bool { return k.counts.sum() == 0 })
	}
	var b strings.Builder
	for i := range shown {
		fmt.Fprintf(&b, "%s: %s%s\n", visible(shown[i].path), shown[i].counts.phrase(), s.since(&shown[i]))
	}
	if len(s.files) > 1 {
		fmt.Fprintf(&b, "%s, %d with notes: %s\n", words.Count(len(s.files), "file"), s.notes, s.total.phrase())
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// since tells how many notes the earlier pass of a file had, if it was counted
// too.
func (s *Summary) since(k *fileCount) string {
	if k.before == "" {
		return ""
	}
	i := slices.IndexFunc(s.files, func(f fileCount) bool { return f.path == k.before })
	if i < 0 {
		return ""
	}
	now, then := k.counts.sum(), s.files[i].counts.sum()
	if now == 0 && then == 0 {
		return ""
	}
	word := "as many as"
	switch {
	case now < then:
		word = "down from " + strconv.Itoa(then) + " in"
	case now > then:
		word = "up from " + strconv.Itoa(then) + " in"
	}
	return fmt.Sprintf(", %s %s", word, visible(k.before))
}

// phrase writes "9 notes (1 error, 6 warnings, 2 hints)", "no notes".
func (c *counts) phrase() string {
	if c.sum() == 0 {
		return "no notes"
	}
	var kinds []string
	for severity := note.Error; severity <= note.Hint; severity++ {
		if n := c[severity]; n > 0 {
			kinds = append(kinds, words.Count(n, severity.String()))
		}
	}
	return words.Count(c.sum(), "note") + " (" + strings.Join(kinds, ", ") + ")"
}
