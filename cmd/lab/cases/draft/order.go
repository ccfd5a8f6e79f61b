package main

import (
	"context"
	"flag"
	"fmt"
	"io"
	"os"
	"path"
	"path/filepath"
	"slices"

	"curvelint/cmd/lab/cases"
	"curvelint/cmd/lab/cases/planted"
	"curvelint/cmd/lab/corpus"
	"curvelint/cmd/lab/designed/natural"
	"curvelint/diagnostics/checks"
)

// order is what one case shall be.
type order struct {
	check, natural, sheet, format, out string
	seed, digits                       int
	near, margin                       bool
	rate, around, pace, amount         float64
}

func (o *order) flags(f *flag.FlagSet) {
	f.StringVar(&o.check, "check", "", "draft one case of this check")
	f.IntVar(&o.seed, "seed", 0, "seed of the planter, or of natural motion")
	f.BoolVar(&o.near, "near", false, "the same motion properly animated, instead of the flaw")
	f.BoolVar(&o.margin, "margin", false, "a flaw that is just, or just not, what the check notes")
	f.StringVar(&o.natural, "natural", "", "natural motion of a kind: walk, nod, talk, ...")
	f.StringVar(&o.sheet, "sheet", "", "file with the sheet to make the scene from, - for standard input")
	f.StringVar(&o.format, "format", "", "format: bvh, usda, gltf, dae, x3d, csv; of a sheet "+planted.FormNames())
	f.StringVar(&o.out, "o", "", "file to write, which must not be there yet; without it, standard output")
	f.Float64Var(&o.rate, "rate", 0, "frames per second; 0 leaves it to the seed")
	f.Float64Var(&o.around, "around", 0, "seconds kept on both sides of what was planted; 0 keeps all")
	f.Float64Var(&o.pace, "pace", 0, "how many times slower; 0 is 1")
	f.Float64Var(&o.amount, "amount", 0, "how many times larger; 0 is 1")
	f.IntVar(&o.digits, "digits", 0, "decimals more than usual, or fewer")
}

// draft writes the draft to the ordered file or to out, and what was planted to
// told.
func (o *order) draft(in io.Reader, out, told io.Writer) error {
	if checks.Find(o.check) == nil {
		return fmt.Errorf("no check is called %q", o.check)
	}
	c, sheet, err := o.scene(in)
	if err != nil {
		return err
	}
	s, err := c.Study()
	if err != nil {
		return err
	}
	notes := s.Notes(context.Background())
	first, last := s.Frames()
	fmt.Fprintf(told, "%s\nThe file has frames %g-%g.\n", c.About, first, last)
	for _, n := range notes {
		fmt.Fprintf(told, "noted: %s\n", n)
	}
	raw := cases.Draft(c, sheet, notes)
	if o.out == "" {
		_, err = out.Write(raw)
		return err
	}
	if err := os.MkdirAll(filepath.Dir(o.out), 0o755); err != nil {
		return err
	}
	f, err := os.OpenFile(o.out, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	if err != nil {
		return err
	}
	if _, err = f.Write(raw); err != nil {
		_ = f.Close() // the error of writing tells more
		return err
	}
	fmt.Fprintf(told, "%s: %d bytes\n", o.out, len(raw))
	return f.Close()
}

// scene makes the scene, with the sheet that it was made from.
func (o *order) scene(in io.Reader) (c *cases.Case, sheet string, err error) {
	switch {
	case o.sheet != "":
		return o.fromSheet(in)
	case o.natural != "":
		return o.fromNatural()
	}
	form := corpus.Form{Before: o.around, After: o.around, Rate: o.rate, Pace: o.pace, Amount: o.amount, Digits: o.digits}
	if o.format != "" {
		form.Ext = "." + o.format
	}
	p, err := corpus.Case{}, error(nil)
	if o.margin {
		p, err = corpus.MakeMargin(form, o.check, o.seed)
	} else {
		p, err = corpus.MakeIn(form, o.check, o.seed, !o.near)
	}
	if err != nil {
		return nil, "", err
	}
	if form.Ext != "" && path.Ext(p.File) != form.Ext {
		return nil, "", fmt.Errorf("%s cannot be planted in %s; it came as %s", o.check, o.format, path.Ext(p.File))
	}
	c = planted.Case(o.check, &p)
	if o.near {
		c.About = fmt.Sprintf("The motion in which %s could be planted, properly animated, %g fps, %s.", o.check, p.Rate, formatNames[path.Ext(p.File)])
		return c, "", nil
	}
	s, err := c.Study()
	if err != nil {
		return nil, "", err
	}
	first, _ := s.Frames()
	c.About = fmt.Sprintf("Planted: %s, at %s, frames %g-%g, %g fps, %s.", checks.Find(o.check).Title, path.Base(p.Label.Part),
		first+float64(p.First), first+float64(p.Last), p.Rate, formatNames[path.Ext(p.File)])
	return c, "", nil
}

func (o *order) fromSheet(in io.Reader) (*cases.Case, string, error) {
	raw, err := os.ReadFile(o.sheet)
	if o.sheet == "-" {
		raw, err = io.ReadAll(in)
	}
	if err != nil {
		return nil, "", err
	}
	if o.format == "" {
		o.format = "usda"
	}
	c, err := planted.Sheet(o.check, string(raw), o.format, o.digits)
	if err != nil {
		return nil, "", err
	}
	c.About = "Made from a sheet; say what is planted, where and when."
	return c, string(raw), nil
}

func (o *order) fromNatural() (*cases.Case, string, error) {
	k := natural.Kind(o.natural)
	if !slices.Contains(natural.Kinds, k) {
		return nil, "", fmt.Errorf("no natural motion is called %q; there is %v", o.natural, natural.Kinds)
	}
	form := corpus.Form{Rate: o.rate, Pace: o.pace, Amount: o.amount, Digits: o.digits, Before: o.around, After: o.around}
	if o.format != "" {
		form.Ext = "." + o.format
	}
	p, err := corpus.MakeNaturalIn(form, k, o.seed)
	if err != nil {
		return nil, "", err
	}
	c := planted.Case(o.check, &p)
	c.About = fmt.Sprintf("Natural motion (%s) with nothing wrong in it, %g fps, %s.", k, p.Rate, formatNames[path.Ext(p.File)])
	return c, "", nil
}
