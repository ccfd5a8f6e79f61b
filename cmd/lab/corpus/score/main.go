// Command score judges the labelled corpus and prints how the checks do:
//
//	go run ./cmd/lab/corpus/score [-n 60] [-held] [-o testdata/corpus/SCORE.md] [-v] [-checks hitch,pop] [-dump folder]
package main

import (
	"context"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"curvelint/cmd/lab/corpus"
)

func main() {
	n := flag.Int("n", 30, "seeds a check in the half")
	held := flag.Bool("held", false, "the half that is kept back, for the report")
	out := flag.String("o", "", "write the score to this file as well")
	verbose := flag.Bool("v", false, "list what was missed and what was wrong")
	only := flag.String("checks", "", "planted checks to judge, with commas between; all and natural motion if empty")
	dump := flag.String("dump", "", "write the scenes that were misjudged into this folder")
	flag.Parse()
	scope := corpus.Scope{Seeds: *n, Held: *held}
	if *only != "" {
		scope.Checks = strings.Split(*only, ",")
	}
	if *dump != "" {
		scope.Look = func(c *corpus.Case) {
			if err := os.WriteFile(filepath.Join(*dump, c.File), c.Text, 0o644); err != nil {
				fmt.Fprintln(os.Stderr, "score:", err)
			}
		}
	}
	t, err := corpus.Score(context.Background(), scope)
	if err != nil {
		fmt.Fprintln(os.Stderr, "score:", err)
		os.Exit(2)
	}
	text := t.Report(*n, *held)
	fmt.Print(text)
	if *verbose {
		for _, m := range t.Missed {
			fmt.Println("missed", m)
		}
		for _, w := range t.Wrong {
			fmt.Println("wrong", w)
		}
	}
	if *out != "" {
		if err := os.WriteFile(*out, []byte(text), 0o644); err != nil {
			fmt.Fprintln(os.Stderr, "score:", err)
			os.Exit(2)
		}
	}
}
