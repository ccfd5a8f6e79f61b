package main

import (
	"context"
	"fmt"
	"math"
	"path"
	"slices"

	"curvelint/cmd/lab/cases"
	"curvelint/cmd/lab/cases/planted"
	"curvelint/cmd/lab/corpus"
	"curvelint/cmd/lab/designed"
	"curvelint/diagnostics/checks/kit"
)

// candidate is a scene that would hold changes of settings.
type candidate struct {
	pins             []string
	size             int // bytes
	planted, command string
}

// forms are the forms that are looked at, those of small files first.
var forms = []corpus.Form{
	{Ext: ".bvh", Rate: 24}, {Ext: ".csv", Rate: 25}, {Ext: ".bvh", Rate: 30}, {Ext: ".usda", Rate: 24}, {Ext: ".x3d", Rate: 24}, {Ext: ".gltf", Rate: 30}, {Ext: ".dae", Rate: 24},
}

// look judges, for so many seeds, the flaw and the near miss as the corpus makes
// them, both twice at another pace and strength, and two flaws near a threshold,
// in different formats. It returns those that are judged as they were planted
// and hold something open, and how many were judged otherwise.
func look(ctx context.Context, check *kit.Check, open []cases.Moved, seeds, longest int) (found []candidate, differ int, err error) {
	r := designed.Seed(uint64(len(check.ID)))
	for i := range 8 * seeds {
		d := draft{check: check.ID, seed: i / 8, form: forms[(i+i/8)%len(forms)]}
		d.form.Before, d.form.After, d.form.Digits = 0.8, 0.8, -1
		switch i % 8 {
		case 0:
		case 1:
			d.how = " -near"
		case 2, 3:
			d.how, d.seed = " -margin", 2*d.seed+i%2
		default: // most scenes are far from any threshold as they are
			d.form.Pace, d.form.Amount = round(math.Pow(2, r.Between(-2, 1.6))), round(math.Pow(2, r.Between(-4, 1)))
			if i%2 == 1 {
				d.how = " -near"
			}
		}
		p, ok, err := d.scene()
		if err != nil {
			return nil, 0, err
		}
		if !ok || len(p.Text) > longest {
			continue
		}
		c, asPlanted, err := weigh(ctx, check, &p, open)
		switch {
		case err != nil:
			return nil, 0, err
		case !asPlanted:
			differ++
		case len(c.pins) > 0:
			c.command = d.command()
			found = append(found, c)
		}
	}
	return found, differ, nil
}

// round keeps three digits, so that a command says all.
func round(v float64) float64 { return math.Round(v*1000) / 1000 }

// weigh judges a scene as it is and with each open change. It is as planted when
// no check but the one in question says anything, and that one only what was
// planted.
func weigh(ctx context.Context, check *kit.Check, p *corpus.Case, open []cases.Moved) (c candidate, asPlanted bool, err error) {
	s, err := planted.Case(check.ID, p).Study()
	if err != nil {
		return c, false, err
	}
	r := s.Judge(ctx)
	noted := 0
	for i := range r.Notes {
		n := &r.Notes[i]
		if n.Check != check.ID || p.Kind != corpus.Flaw || !p.Meant(r.Study.Scene, n) {
			return c, false, nil
		}
		noted++
	}
	usual := s.Own(ctx)
	for _, m := range open {
		if !slices.Equal(usual, s.Own(ctx, m.Change)) {
			c.pins = append(c.pins, m.String())
		}
	}
	c.size = len(p.Text)
	switch {
	case p.Kind == corpus.Near:
		c.planted = "properly animated"
	case noted == 0:
		c.planted = fmt.Sprintf("flaw at %s, not noted: is it one?", path.Base(p.Label.Part))
	default:
		c.planted = fmt.Sprintf("flaw at %s, noted", path.Base(p.Label.Part))
	}
	return c, true, nil
}

// draft is a scene as the command draft is asked for it.
type draft struct {
	check, how string
	seed       int
	form       corpus.Form
}

// scene makes it; ok is false for what cannot be had: a check without margins, a
// format that cannot carry it.
func (d draft) scene() (p corpus.Case, ok bool, err error) {
	if d.how == " -margin" {
		if p, err = corpus.MakeMargin(d.form, d.check, d.seed); err != nil {
			return p, false, nil
		}
	} else if p, err = corpus.MakeIn(d.form, d.check, d.seed, d.how == ""); err != nil {
		return p, false, err
	}
	return p, path.Ext(p.File) == d.form.Ext, nil
}

func (d draft) command() string {
	f, kind := d.form, "flaw"
	if d.how == " -near" {
		kind = "near"
	}
	pace := ""
	if f.Pace > 0 {
		pace = fmt.Sprintf(" -pace %g -amount %g", f.Pace, f.Amount)
	}
	return fmt.Sprintf("go run ./cmd/lab/cases/draft -check %s -seed %d%s -format %s -rate %g -around %g -digits %d%s -o %s/%s/%s-NAME.txtar",
		d.check, d.seed, d.how, f.Ext[1:], f.Rate, f.Before, f.Digits, pace, cases.Root, d.check, kind)
}

// cover chooses candidates that together hold what is open, by how much they
// hold for their size, and returns what none of them holds.
func cover(open []cases.Moved, found []candidate) (chosen []candidate, left []string) {
	for _, m := range open {
		left = append(left, m.String())
	}
	for {
		best, gain := -1, 0.0
		for i, c := range found {
			n := 0
			for _, p := range c.pins {
				if slices.Contains(left, p) {
					n++
				}
			}
			// 20 KB of text weigh as much as a case more to read.
			if g := float64(n) / float64(20_000+c.size); g > gain {
				best, gain = i, g
			}
		}
		if best < 0 {
			return chosen, left
		}
		chosen = append(chosen, found[best])
		left = slices.DeleteFunc(left, func(m string) bool { return slices.Contains(found[best].pins, m) })
	}
}
