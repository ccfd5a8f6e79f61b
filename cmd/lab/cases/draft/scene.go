package main

import (
	"fmt"
	"path"
	"strings"

	"curvelint/cmd/lab/cases"
	"curvelint/cmd/lab/corpus"
	"curvelint/diagnostics/checks/kit"

	"golang.org/x/tools/txtar"
)

// scene is a scene of the corpus that may become a case.
type scene struct {
	corpus.Case
	check    *kit.Check
	asCase   *cases.Case
	name     string
	text     []byte
	toml     string
	wants    []cases.Got
	first    float64 // frames of the flaw, as the file numbers them
	last     float64 //
	amount   string  // the first measure of the note
	value    float64 //
	pace     float64 // how many times slower than the corpus makes it, 0 is 1
	strength float64 // how many times larger, 0 is 1
	margin   bool
	pins     []string // changes of settings at which its notes change
}

// formatNames are what people call the formats.
var formatNames = map[string]string{".usda": "USD text", ".bvh": "BVH", ".gltf": "glTF", ".dae": "COLLADA", ".x3d": "X3D", ".csv": "a table"}

// altered reports whether the scene has another pace or strength than the corpus
// gives it.
func (s *scene) altered() bool { return s.pace+s.strength > 0 && (s.pace != 1 || s.strength != 1) }

// archive is the case as a file.
func (s *scene) archive() []byte {
	a := &txtar.Archive{Comment: []byte(s.about() + "\n")}
	if s.toml != "" {
		a.Files = append(a.Files, txtar.File{Name: "curvelint.toml", Data: []byte(s.toml)})
	}
	a.Files = append(a.Files, txtar.File{Name: s.asCase.Scene, Data: s.text})
	var wants strings.Builder
	for _, w := range s.wants {
		message, _, _ := strings.Cut(w.Message, ";")
		fmt.Fprintf(&wants, "%d %s %q\n", w.Line, w.Check, message)
	}
	if wants.Len() > 0 {
		a.Files = append(a.Files, txtar.File{Name: "want", Data: []byte(wants.String())})
	}
	return txtar.Format(a)
}

// about says what the case is.
func (s *scene) about() string {
	form := fmt.Sprintf("%g fps, %s", s.Rate, formatNames[path.Ext(s.asCase.Scene)])
	pins := ""
	if len(s.pins) > 0 {
		pins = "\nWhat it says changes with " + strings.Join(s.pins, ", ") + "."
	}
	if s.altered() {
		form = fmt.Sprintf("%s, at %.2g of the strength and %.2g of the speed", form, s.strength, 1/s.pace)
	}
	if s.Kind == corpus.Flaw && len(s.wants) == 0 {
		return fmt.Sprintf("Under what is noted: %s, at %s, frames %g-%g, %s.%s", s.check.Title, path.Base(s.Label.Part), s.first, s.last, form, pins)
	}
	if s.Kind == corpus.Flaw {
		return fmt.Sprintf("Planted: %s, at %s, frames %g-%g, %s (%s).%s", s.check.Title, path.Base(s.Label.Part), s.first, s.last, form, s.amount, pins)
	}
	if s.Kind == corpus.Natural {
		return fmt.Sprintf("Natural motion (%s): nothing is wrong, %s.%s", strings.TrimRight(s.Name, "-0123456789"), form, pins)
	}
	return fmt.Sprintf("The motion of a flaw of this kind, properly animated: no %s, %s.%s", s.check.ID, form, pins)
}

// part is the name of the part that has the flaw, for a file name.
func (s *scene) part() string {
	base := strings.ToLower(path.Base(s.Label.Part))
	return strings.Trim(strings.Map(func(r rune) rune {
		switch {
		case r >= 'a' && r <= 'z', r >= '0' && r <= '9':
			return r
		}
		return '-'
	}, base), "-")
}
