// Command score judges the labelled corpus and prints how the checks do:
//
//	go run ./diagnostics/corpus/score [-n 60] [-held] [-o testdata/corpus/SCORE.md] [-v]
package main

import (
	"context"
	"flag"
	"fmt"
	"os"

	"curvelint/diagnostics/corpus"
)

func main() {
	n := flag.Int("n", 30, "seeds a check in the half")
	held := flag.Bool("held", false, "the half that is kept back, for the report")
	out := flag.String("o", "", "write the score to this file as well")
	verbose := flag.Bool("v", false, "list what was missed and what was wrong")
	flag.Parse()
	t, err := corpus.Score(context.Background(), *n, *held)
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
