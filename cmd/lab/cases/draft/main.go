// Command draft makes labelled cases of checks. It has two ways.
//
// One case at a time, in the words of the person who asks for it:
//
//	go run ./cmd/lab/cases/draft -check pop -seed 3 -format bvh -around 0.8 -o testdata/checks/pop/flaw-x.txtar
//	go run ./cmd/lab/cases/draft -check pop -seed 3 -near -format gltf -o testdata/checks/pop/near-x.txtar
//	go run ./cmd/lab/cases/draft -check pop -natural nod -seed 2 -o testdata/checks/pop/proper-x.txtar
//	go run ./cmd/lab/cases/draft -check pop -sheet - -format csv -o testdata/checks/pop/flaw-x.txtar <<END
//	rate 24; last 30; figure weights Mask
//	jaw.w rest 0.3; jaw.w 14 jump 0.16
//	END
//
// The flaw and the near miss of a seed come from the planters of the corpus;
// with -margin, a flaw of a strength near a threshold. -around keeps so many seconds on both sides, -pace makes everything so many
// times slower, -amount so many times larger, -digits writes more decimals. A
// sheet (package sheet) is for thresholds to which no planter comes. What was
// planted is told on standard error; what curvelint notes stands in the draft,
// marked with ?, and so does the comment. The loader refuses a draft until a
// person has looked at the motion, written what the case is and taken the marks
// away. Where the two differ, the check is wrong or the case is, and no mark is
// to be taken away before that is known.
//
// Many at a time, from the corpus: flaws that were planted and nothing else,
// near misses that a changed setting would note, and proper scenes.
//
//	go run ./cmd/lab/cases/draft [-n 60] [-wide 4] [-hunt 500] [-write] CHECK...
//
// Without -write it lists what it would keep. It keeps three flaws, three near
// misses and a proper scene of a check, in different formats, and what pins the
// settings that the cases on disk leave open; it never changes a case that is
// there. A scene on which the corpus and the check differ is left out and
// counted. A flaw that was made so weak that nothing is noted is kept as a near
// miss: whether an audience sees it, a person must say.
package main

import (
	"context"
	"flag"
	"fmt"
	"os"
	"path/filepath"

	"curvelint/cmd/lab/cases"
	"curvelint/diagnostics/checks"
)

func main() {
	seeds := flag.Int("n", 60, "seeds to look through")
	wide := flag.Int("wide", 0, "scenes of other paces and strengths for each seed")
	longest := flag.Int("longest", 60_000, "size in bytes beyond which a scene is no case")
	hunt := flag.Int("hunt", 0, "scenes at any pace and strength while a setting is open")
	write := flag.Bool("write", false, "write what is kept below testdata/checks")
	var o order
	o.flags(flag.CommandLine)
	flag.Parse()
	if o.check != "" && flag.NArg() == 0 {
		if err := o.draft(os.Stdin, os.Stdout, os.Stderr); err != nil {
			fmt.Fprintln(os.Stderr, "draft:", err)
			os.Exit(1)
		}
		return
	}
	if flag.NArg() == 0 {
		fmt.Fprintln(os.Stderr, "usage: draft -check CHECK [-seed N] [-near] [-natural KIND] [-sheet FILE] [-format FORM] [-o FILE]\n       draft [-n SEEDS] [-write] CHECK...")
		os.Exit(2)
	}
	for _, id := range flag.Args() {
		if err := draft(id, *seeds, *wide, *longest, *hunt, *write); err != nil {
			fmt.Fprintln(os.Stderr, "draft:", err)
			os.Exit(1)
		}
	}
}

func draft(id string, seeds, wide, longest, hunt int, write bool) error {
	check := checks.Find(id)
	if check == nil {
		return fmt.Errorf("no check is called %q", id)
	}
	have, err := cases.Of(id)
	if err != nil {
		return err
	}
	pinned, err := cases.Pinned(context.Background(), check, have)
	if err != nil {
		return err
	}
	open := map[string]bool{}
	for _, m := range cases.Moves(check) {
		if len(pinned[m.String()]) == 0 {
			open[m.String()] = true
		}
	}
	s := search{hunt: hunt, open: open, ctx: context.Background(), check: check, wide: wide, longest: longest, seen: map[string]bool{}}
	if err := s.look(seeds); err != nil {
		return err
	}
	kept, left, err := s.choose(have)
	if err != nil {
		return err
	}
	fmt.Printf("%s: %d flaws, %d near misses in the corpus; not as planted: %d\n", id, len(s.flaws), len(s.near), len(s.other))
	top, err := cases.Module()
	if err != nil {
		return err
	}
	for _, k := range kept {
		fmt.Printf("  %s (%d bytes)\n    %s\n", k.name, len(k.text), k.about())
		if !write {
			continue
		}
		dir := filepath.Join(top, filepath.FromSlash(cases.Root), id)
		if err := os.MkdirAll(dir, 0o755); err != nil {
			return err
		}
		if err := os.WriteFile(filepath.Join(dir, k.name+".txtar"), k.archive(), 0o644); err != nil {
			return err
		}
	}
	for _, m := range left {
		fmt.Printf("  open: %s\n", m)
	}
	return nil
}
