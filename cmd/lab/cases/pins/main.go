// Command pins shows which labelled cases hold each setting of a check in place:
// those whose notes change when it is half as large again (x1.5) or the other
// way (/1.5).
//
//	go run ./cmd/lab/cases/pins pop
//	go run ./cmd/lab/cases/pins -search 40 pop
//
// With -search it looks through so many seeds of the planters, flaws and near
// misses in several formats, paces and strengths, for scenes that would hold
// what nothing holds yet, and prints a small set of them as commands that draft
// them. -longest bounds their size. What a draft is called, and whether it is
// right, a person decides: a flaw that is too weak to be noted is a near miss
// only if an audience would let it pass.
package main

import (
	"context"
	"flag"
	"fmt"
	"io"
	"os"
	"strings"

	"curvelint/cmd/lab/cases"
	"curvelint/diagnostics/checks"
	"curvelint/diagnostics/checks/kit"
)

func main() {
	seeds := flag.Int("search", 0, "seeds to look through for what is missing")
	longest := flag.Int("longest", 40_000, "size in bytes beyond which a scene is no case")
	flag.Parse()
	if flag.NArg() == 0 {
		fmt.Fprintln(os.Stderr, "usage: pins [-search SEEDS] CHECK...")
		os.Exit(2)
	}
	for _, id := range flag.Args() {
		if err := pins(context.Background(), os.Stdout, id, *seeds, *longest); err != nil {
			fmt.Fprintln(os.Stderr, "pins:", err)
			os.Exit(1)
		}
	}
}

// pins prints the table of a check, and what a search of so many seeds finds.
func pins(ctx context.Context, w io.Writer, id string, seeds, longest int) error {
	check := checks.Find(id)
	if check == nil {
		return fmt.Errorf("no check is called %q", id)
	}
	list, err := cases.Of(id)
	if err != nil {
		return err
	}
	held, err := cases.Pinned(ctx, check, list)
	if err != nil {
		return err
	}
	open := table(w, check, held)
	if len(open) == 0 || seeds == 0 {
		return nil
	}
	found, differ, err := look(ctx, check, open, seeds, longest)
	if err != nil {
		return err
	}
	chosen, left := cover(open, found)
	fmt.Fprintf(w, "%d scenes would hold something; on %d the corpus and the check differ\n", len(found), differ)
	for _, c := range chosen {
		fmt.Fprintf(w, "# %s; %d bytes; %s\n%s\n", strings.Join(c.pins, ", "), c.size, c.planted, c.command)
	}
	for _, m := range left {
		fmt.Fprintf(w, "# nothing found for %s\n", m)
	}
	return nil
}

// table prints which cases hold each change and returns those that nothing
// holds.
func table(w io.Writer, check *kit.Check, held map[string][]string) (open []cases.Moved) {
	fmt.Fprintln(w, check.ID)
	for _, m := range cases.Moves(check) {
		names, why := held[m.String()], cases.Exempt(m)
		says := strings.Join(names, " ")
		switch {
		case len(names) == 0 && why != "":
			says = "exempt: " + why
		case len(names) == 0:
			says = "MISSING"
			open = append(open, m)
		}
		fmt.Fprintf(w, "  %-22s %-8.4g %s\n", m, m.Value, says)
	}
	return open
}
