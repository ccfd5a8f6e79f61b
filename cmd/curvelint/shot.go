package main

import (
	"context"
	"errors"
	"os"

	"curvelint/diagnostics"
	"curvelint/diagnostics/config"
	"curvelint/diagnostics/motion"
	"curvelint/parse"
)

// shot is one file, studied and judged.
type shot struct {
	path   string
	config *config.Config
	result *diagnostics.Result
	reads  []string // the paths of all files that it is made of
}

// loadShot reads, studies and judges the file at path with the configuration
// that holds for it. An error says what could not be read, or that nothing that
// moves is in it.
func loadShot(ctx context.Context, finder *config.Finder, path string) (*shot, error) {
	study, c, err := loadStudy(finder, path)
	if err != nil {
		return nil, err
	}
	s := &shot{path: path, config: c, result: diagnostics.Judge{Config: c}.Notes(ctx, study)}
	for _, f := range study.Scene.Files {
		s.reads = append(s.reads, f.Path)
	}
	return s, ctx.Err()
}

// loadStudy reads and studies the file at path with the configuration that holds
// for it.
func loadStudy(finder *config.Finder, path string) (*motion.Study, *config.Config, error) {
	c, err := finder.For(path)
	if err != nil {
		return nil, nil, err
	}
	info, err := os.Stat(path)
	if err != nil {
		return nil, nil, errors.New(readError(path, err))
	}
	in := input{path: path, size: info.Size()}
	raw, err := in.read(nil)
	if err != nil {
		return nil, nil, errors.New(readError(path, err))
	}
	sc := diagnostics.Read(path, raw, c, parse.OpenWithin(sceneRoot(path, c)))
	if unreadable(sc) {
		return nil, nil, errors.New(path + " cannot be read: " + sc.Problems[0].Message)
	}
	study, fault := diagnostics.Judge{Config: c}.Study(sc)
	if fault != nil {
		return nil, nil, errors.New(path + ": " + fault.Message)
	}
	return study, c, nil
}
