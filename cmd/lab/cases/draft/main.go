// Command draft looks through the corpus for labelled cases of checks: flaws
// that were planted and nothing else, near misses that a changed setting would
// note, and proper scenes.
//
//	go run ./cmd/lab/cases/draft [-n 60] [-wide 4] [-hunt 500] [-write] CHECK...
//
// Without -write it lists what it would keep. It keeps three flaws, three near
// misses and a proper scene of a check, in different formats, and what pins the
// settings that the cases on disk leave open; it never changes a case that is
// there. What it writes is checked against what the corpus planted, not against
// what the check says: a scene on which the two differ is left out and listed.
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
	flag.Parse()
	if flag.NArg() == 0 {
		fmt.Fprintln(os.Stderr, "usage: draft [-n SEEDS] [-write] CHECK...")
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
