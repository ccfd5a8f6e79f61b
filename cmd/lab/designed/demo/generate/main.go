// Generate writes the demo's files into the folder given as its argument.
package main

import (
	"fmt"
	"os"
	"path/filepath"

	"curvelint/cmd/lab/designed/demo"
)

func main() {
	if len(os.Args) != 2 {
		fmt.Fprintln(os.Stderr, "usage: generate FOLDER")
		os.Exit(2)
	}
	if err := run(os.Args[1]); err != nil {
		fmt.Fprintln(os.Stderr, "generate:", err)
		os.Exit(1)
	}
}

func run(folder string) error {
	files, err := demo.Files()
	if err != nil {
		return err
	}
	for _, f := range files {
		path := filepath.Join(folder, filepath.FromSlash(f.Path))
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			return err
		}
		if err := os.WriteFile(path, f.Text, 0o644); err != nil {
			return err
		}
	}
	return nil
}
