// Notes draws every note on scene files as PNG into a folder and lists them, for
// looking at notes one by one:
//
//	go run ./cmd/lab/corpus/pictures/notes FOLDER FILE...
package main

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"curvelint/cmd/lab/corpus/pictures"
	"curvelint/diagnostics"
	"curvelint/diagnostics/config"
)

func main() {
	if len(os.Args) < 3 {
		fmt.Fprintln(os.Stderr, "usage: notes FOLDER FILE...")
		os.Exit(2)
	}
	for _, file := range os.Args[2:] {
		if err := draw(os.Args[1], file); err != nil {
			fmt.Fprintln(os.Stderr, "notes:", err)
			os.Exit(1)
		}
	}
}

func draw(folder, file string) error {
	raw, err := os.ReadFile(file)
	if err != nil {
		return err
	}
	cfg := &config.Config{}
	r := diagnostics.Judge{Config: cfg}.Scene(context.Background(), diagnostics.Read(file, raw, cfg, nil))
	for i, n := range r.Notes {
		fmt.Printf("%s %02d %s %s: %s\n", filepath.Base(file), i+1, n.Severity, n.Check, n.Message)
	}
	name := strings.TrimSuffix(filepath.Base(file), filepath.Ext(file))
	for _, d := range pictures.Notes(r) {
		if err := os.WriteFile(filepath.Join(folder, name+"-"+d.Name+".png"), d.PNG, 0o644); err != nil {
			return err
		}
	}
	return nil
}
