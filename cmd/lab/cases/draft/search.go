package main

import (
	"context"
	"fmt"
	"math"
	"path"
	"slices"
	"sort"
	"strings"

	"curvelint/cmd/lab/cases"
	"curvelint/cmd/lab/cases/planted"
	"curvelint/cmd/lab/corpus"
	"curvelint/cmd/lab/designed"
	"curvelint/cmd/lab/designed/natural"
	"curvelint/diagnostics/checks/kit"
)

// search goes through the corpus for one check.
type search struct {
	ctx     context.Context
	check   *kit.Check
	wide    int // how many scenes of other paces and strengths are looked at for each seed
	flaws   []*scene
	near    []*scene
	hunt    int             // how many scenes at any pace and strength are looked at while something is open
	open    map[string]bool // changes of settings that nothing shows yet
	longest int             // the size in bytes beyond which a scene is no case
	seen    map[string]bool // texts that were judged
	other   []string        // scenes on which the check and the corpus differ
}

var forms = []corpus.Form{
	{Ext: ".bvh", Before: 0.9, After: 0.9, Rate: 24, Digits: -2},
	{Ext: ".usda", Before: 0.9, After: 0.9, Rate: 24, Digits: -2},
	{Ext: ".gltf", Before: 0.7, After: 0.7, Rate: 30, Digits: -2},
	{Ext: ".bvh", Before: 1.4, After: 1.4, Rate: 30, Digits: -2},
	{Ext: ".csv", Before: 0.6, After: 0.6, Rate: 25, Digits: -2},
	{Ext: ".x3d", Before: 0.5, After: 0.5, Rate: 24, Digits: -2},
	{Ext: ".usda", Before: 1.4, After: 1.4, Rate: 24, Digits: -2},
	{Ext: ".dae", Before: 0.4, After: 0.4, Rate: 24, Digits: -2},
	{Ext: ".bvh", Rate: 24, Digits: -2},
	{Ext: ".usda", Rate: 24, Digits: -2},
}

// look judges the scenes of so many seeds.
func (s *search) look(seeds int) error {
	for i := range seeds {
		for _, flawed := range []bool{true, false} {
			for _, form := range []corpus.Form{forms[i%len(forms)], forms[(i*7+3)%len(forms)]} {
				c, err := corpus.MakeIn(form, s.check.ID, i, flawed)
				if err != nil {
					continue // a form that cannot carry it
				}
				if err := s.judge(&scene{Case: c, check: s.check}); err != nil {
					return err
				}
			}
		}
	}
	for i := range seeds * s.wide {
		form := forms[i%len(forms)]
		form.Pace = []float64{1, 0.7, 1.4, 0.5, 2, 0.85, 1.2, 3}[i%8]
		form.Amount = []float64{1, 0.5, 0.7, 0.3, 1.4, 0.2, 0.85, 2, 0.1, 0.6, 1.2}[i%11]
		planted := s.check.ID
		flawed := i%2 == 0
		if others := corpus.Checks(); i%4 == 3 {
			planted = others[i/4%len(others)] // the proper motion of others may be near, too
		}
		c, err := corpus.MakeIn(form, planted, i/2, flawed)
		if err != nil {
			continue
		}
		if err := s.judge(&scene{Case: c, check: s.check, pace: form.Pace, strength: form.Amount}); err != nil {
			return err
		}
	}
	r := designed.Seed(7)
	for i := 0; i < s.hunt && len(s.open) > 0; i++ {
		form := forms[r.Int(len(forms))]
		form.Pace = math.Pow(2, r.Between(-3, 1.6))
		form.Amount = math.Pow(2, r.Between(-4, 1.2))
		c, err := corpus.MakeMargin(forms[r.Int(len(forms))], s.check.ID, i)
		margin := i%3 != 2 && err == nil
		if margin {
			form.Pace, form.Amount = 0, 0
		} else {
			c, err = corpus.MakeIn(form, s.check.ID, r.Int(200), !r.Chance(0.2))
		}
		if err != nil {
			continue
		}
		k := &scene{Case: c, check: s.check, pace: form.Pace, strength: form.Amount, margin: margin}
		if err := s.judge(k); err != nil {
			return err
		}
		for _, p := range k.pins {
			delete(s.open, p)
		}
	}
	for i, k := range natural.Kinds {
		c, err := corpus.MakeNatural(k, i)
		if err != nil {
			return err
		}
		if err := s.judge(&scene{Case: c, check: s.check}); err != nil {
			return err
		}
	}
	return nil
}

// judge keeps a scene on which what is said is what was planted.
func (s *search) judge(k *scene) error {
	if len(k.Text) > s.longest || s.seen[string(k.Text)] {
		return nil
	}
	s.seen[string(k.Text)] = true
	k.text, k.asCase = k.Text, planted.Case(s.check.ID, &k.Case)
	k.toml = string(k.asCase.Files[cases.ConfigName])
	studied, err := k.asCase.Study()
	if err != nil {
		return err
	}
	r := studied.Judge(s.ctx)
	sc := r.Study.Scene
	own, meant := 0, 0
	for i := range r.Notes {
		n := &r.Notes[i]
		if n.Check != s.check.ID {
			return nil // a case says one thing
		}
		own++
		if k.Kind == corpus.Flaw && k.Meant(sc, n) {
			meant++
			if len(n.Measures) > 0 {
				m := n.Measures[0]
				k.amount, k.value = fmt.Sprintf("%s %.3g %s", m.Name, m.Value, m.Unit), m.Value
			}
		}
	}
	k.wants = studied.Notes(s.ctx)
	k.first, k.last = float64(k.First)+sc.First, float64(k.Last)+sc.First
	switch {
	case k.Kind == corpus.Flaw && own == 1 && meant == 1:
		s.flaws = append(s.flaws, k)
	case k.Kind == corpus.Flaw && own == 0 && (k.altered() || k.margin):
		s.near = append(s.near, k) // too weak, too short or too slow to be noted
	case k.Kind != corpus.Flaw && own == 0:
		s.near = append(s.near, k)
	default:
		s.other = append(s.other, k.File)
		return nil
	}
	for _, m := range cases.Moves(s.check) {
		if !slices.Equal(k.wants, studied.Own(s.ctx, m.Change)) {
			k.pins = append(k.pins, m.String())
		}
	}
	return nil
}

// choose returns what to keep beside the cases that there are, and the changes of
// settings that nothing shows.
func (s *search) choose(have []*cases.Case) (kept []*scene, open []string, err error) {
	pinned, err := cases.Pinned(s.ctx, s.check, have)
	if err != nil {
		return nil, nil, err
	}
	count, formats := map[cases.Kind]int{}, map[string]bool{}
	taken := map[string]bool{}
	for _, c := range have {
		count[c.Kind]++
		taken[c.Name] = true
		if c.Kind == cases.Flaw {
			formats[path.Ext(c.Scene)] = true
		}
	}
	done := map[*scene]bool{}
	keep := func(k *scene, kind cases.Kind) {
		if done[k] {
			return
		}
		done[k] = true
		word := k.part()
		if k.Kind == corpus.Natural {
			word = strings.TrimRight(k.Name, "-0123456789")
		}
		if word == "" {
			word = "body"
		}
		ext := strings.TrimPrefix(path.Ext(k.asCase.Scene), ".")
		k.name = fmt.Sprintf("%s-%s-%s", kind, word, ext)
		for i := 2; taken[k.name]; i++ {
			k.name = fmt.Sprintf("%s-%s-%s-%d", kind, word, ext, i)
		}
		taken[k.name] = true
		kept = append(kept, k)
		count[kind]++
		for _, p := range k.pins {
			pinned[p] = append(pinned[p], k.name)
		}
		if kind == cases.Flaw {
			formats[path.Ext(k.asCase.Scene)] = true
		}
	}
	kindOf := func(k *scene) cases.Kind {
		if k.Kind == corpus.Flaw && len(k.wants) > 0 {
			return cases.Flaw
		}
		return cases.Near
	}
	// What pins most that is open, the smaller the better.
	all := slices.Concat(s.flaws, s.near)
	for {
		var best *scene
		gain := 0.0
		for _, k := range all {
			n := 0
			for _, p := range k.pins {
				if len(pinned[p]) == 0 {
					n++
				}
			}
			if g := float64(n) / float64(20_000+len(k.text)); !done[k] && n > 0 && g > gain {
				best, gain = k, g
			}
		}
		if best == nil {
			break
		}
		keep(best, kindOf(best))
	}
	// Weak, plain and strong, in formats that are not there yet.
	byValue := slices.Clone(s.flaws)
	sort.SliceStable(byValue, func(i, j int) bool { return byValue[i].value < byValue[j].value })
	for round := 0; count[cases.Flaw] < 3 && round < 6 && len(byValue) > 0; round++ {
		at := []int{0, len(byValue) / 2, len(byValue) - 1}[round%3]
		for d := range byValue {
			k := byValue[(at+d)%len(byValue)]
			if !done[k] && (!formats[path.Ext(k.asCase.Scene)] || round > 2) {
				keep(k, cases.Flaw)
				break
			}
		}
	}
	if len(formats) == 1 {
		for _, k := range s.flaws {
			if !formats[path.Ext(k.asCase.Scene)] {
				keep(k, cases.Flaw)
				break
			}
		}
	}
	bySize := slices.Clone(s.near)
	sort.SliceStable(bySize, func(i, j int) bool {
		a, b := len(bySize[i].pins) > 0, len(bySize[j].pins) > 0
		if a != b {
			return a
		}
		return len(bySize[i].text) < len(bySize[j].text)
	})
	for _, k := range bySize {
		if count[cases.Near] >= 3 {
			break
		}
		if k.Kind != corpus.Natural || len(k.pins) > 0 {
			keep(k, cases.Near)
		}
	}
	for i := len(bySize) / 2; i < len(bySize) && count[cases.Proper] == 0; i++ {
		if k := bySize[i]; !done[k] && k.Kind != corpus.Flaw {
			keep(k, cases.Proper)
		}
	}
	for _, m := range cases.Moves(s.check) {
		if len(pinned[m.String()]) == 0 {
			open = append(open, m.String())
		}
	}
	return kept, open, nil
}
