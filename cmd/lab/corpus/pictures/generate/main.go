// Generate draws the pictures in the documents of the checks, all or those
// named, in the folder given as its first argument.
package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"curvelint/cmd/lab/corpus"
	"curvelint/cmd/lab/corpus/pictures"
	"curvelint/diagnostics/checks"
	"curvelint/diagnostics/checks/kit"
)

func main() {
	thresholds := flag.Bool("thresholds", false, "draw how often the main checks are right when their thresholds are swept; takes a minute")
	flag.Parse()
	if flag.NArg() == 0 {
		fmt.Fprintln(os.Stderr, "usage: generate [-thresholds] FOLDER [CHECK...]")
		os.Exit(2)
	}
	draw := pictures.Draw
	all := pictures.Checks()
	if *thresholds {
		draw, all = threshold, nil
		for _, w := range corpus.Sweeps {
			all = append(all, w.Check)
		}
	}
	if flag.NArg() > 1 {
		all = flag.Args()[1:]
	}
	for _, check := range all {
		p, err := draw(context.Background(), check)
		if errors.Is(err, pictures.ErrUnseen) {
			fmt.Fprintln(os.Stderr, "generate: left as it is:", err)
			continue
		}
		if err == nil {
			err = write(flag.Arg(0), check, p)
		}
		if err != nil {
			fmt.Fprintln(os.Stderr, "generate:", err)
			os.Exit(1)
		}
	}
}

// threshold draws the curve of one check over 24 seeds.
func threshold(ctx context.Context, check string) (*pictures.Picture, error) {
	for _, w := range corpus.Sweeps {
		if w.Check == check {
			return pictures.Threshold(ctx, w, 24)
		}
	}
	return nil, fmt.Errorf("no threshold of %s is swept", check)
}

// write writes a picture, and the line that shows it in a check's document.
func write(folder, check string, p *pictures.Picture) error {
	if err := os.WriteFile(filepath.Join(folder, checks.Find(check).Folder(), filepath.FromSlash(p.File())), p.SVG, 0o644); err != nil {
		return err
	}
	doc := filepath.Join(folder, checks.Find(check).Folder(), strings.ReplaceAll(check, "-", "_")+".md")
	text, err := os.ReadFile(doc)
	if err != nil {
		return err
	}
	return os.WriteFile(doc, []byte(kit.WithPicture(string(text), p.File(), p.Alt())), 0o644)
}
