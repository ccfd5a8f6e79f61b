// Generate draws the pictures in the documents of the checks, all or those
// named, in the folder given as its first argument.
package main

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"curvelint/diagnostics/checks"
	"curvelint/diagnostics/corpus"
	"curvelint/diagnostics/corpus/pictures"
)

func main() {
	if len(os.Args) < 2 {
		fmt.Fprintln(os.Stderr, "usage: generate FOLDER [CHECK...]")
		os.Exit(2)
	}
	if err := run(os.Args[1], os.Args[2:]); err != nil {
		fmt.Fprintln(os.Stderr, "generate:", err)
		os.Exit(1)
	}
}

func run(folder string, checks []string) error {
	if len(checks) == 0 {
		checks = corpus.Checks()
	}
	for _, check := range checks {
		p, err := pictures.Draw(context.Background(), check)
		if err != nil {
			return err
		}
		if err := write(folder, p); err != nil {
			return err
		}
	}
	return nil
}

// write writes a picture, and the line that shows it in the check's document.
func write(folder string, p *pictures.Picture) error {
	if err := os.WriteFile(filepath.Join(folder, filepath.FromSlash(p.File())), p.SVG, 0o644); err != nil {
		return err
	}
	doc := filepath.Join(folder, strings.ReplaceAll(p.Check, "-", "_")+".md")
	text, err := os.ReadFile(doc)
	if err != nil {
		return err
	}
	return os.WriteFile(doc, []byte(checks.WithPicture(string(text), p.File(), p.Alt())), 0o644)
}
