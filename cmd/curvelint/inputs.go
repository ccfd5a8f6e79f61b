package main

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"curvelint/parse"
)

// input is one file to check.
type input struct {
	path  string // as it is shown
	size  int64
	stdin bool
}

// expand turns arguments into files: folders into the scene files below them,
// in the order of their paths. What cannot be read is said at once.
func (k *checker) expand(args []string) []input {
	var inputs []input
	seen := map[string]bool{}
	add := func(in input) {
		if key := filepath.Clean(in.path); !seen[key] {
			seen[key] = true
			inputs = append(inputs, in)
		}
	}
	for _, arg := range args {
		if arg == "-" {
			name := k.options.name
			if name == "" {
				name = "stdin"
			}
			add(input{path: name, stdin: true})
			continue
		}
		info, err := os.Stat(arg)
		switch {
		case err != nil:
			k.notThere(arg, err)
		case info.IsDir():
			for _, in := range k.folder(arg) {
				add(in)
			}
		default:
			add(input{path: arg, size: info.Size()})
		}
	}
	return inputs
}

// notThere complains about a path that cannot be looked at, once.
func (k *checker) notThere(path string, err error) {
	if k.missing[path] {
		return
	}
	if k.missing == nil {
		k.missing = map[string]bool{}
	}
	k.missing[path] = true
	k.complain("%s", readError(path, err))
}

// inputOf returns one file, which must be there.
func inputOf(path string) (input, error) {
	info, err := os.Stat(path)
	if err != nil {
		return input{}, err
	}
	return input{path: path, size: info.Size()}, nil
}

// folder returns the scene files below a folder. Hidden folders and hidden
// files are skipped; links to files are followed, links to folders are not.
func (k *checker) folder(root string) []input {
	var found []input
	err := fs.WalkDir(os.DirFS(root), ".", func(name string, d fs.DirEntry, err error) error {
		path := filepath.Join(root, filepath.FromSlash(name))
		hidden := name != "." && strings.HasPrefix(d.Name(), ".")
		switch {
		case err != nil:
			k.complain("%s", readError(path, err))
			return fs.SkipDir
		case d.IsDir() && hidden:
			return fs.SkipDir
		case d.IsDir() || hidden || !isScene(name):
			return nil
		}
		info, err := os.Stat(path)
		if err != nil {
			k.notThere(path, err)
		} else if info.Mode().IsRegular() {
			found = append(found, input{path: path, size: info.Size()})
		}
		return nil
	})
	if err != nil {
		k.complain("%s", readError(root, err))
	}
	slices.SortFunc(found, func(a, b input) int { return strings.Compare(a.path, b.path) })
	return found
}

func isScene(name string) bool {
	return slices.Contains(parse.Extensions(), strings.ToLower(filepath.Ext(name)))
}

func extensionList() string { return strings.Join(parse.Extensions(), " ") }

// read returns the bytes of an input.
func (in *input) read(stdin io.Reader) ([]byte, error) {
	if in.stdin {
		raw, err := io.ReadAll(io.LimitReader(stdin, parse.DefaultMaxBytes+1))
		if err == nil && len(raw) > parse.DefaultMaxBytes {
			err = errors.New("it is too large")
		}
		return raw, err
	}
	if in.size > parse.DefaultMaxBytes {
		return nil, errors.New("it is too large")
	}
	info, err := os.Stat(in.path)
	if err != nil {
		return nil, err
	}
	if !info.Mode().IsRegular() {
		return nil, errors.New("it is no regular file")
	}
	return os.ReadFile(in.path)
}

// readError says in a person's words why a path could not be read.
func readError(path string, err error) string {
	var at *fs.PathError
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return path + " does not exist"
	case errors.Is(err, fs.ErrPermission):
		return path + " may not be read"
	case errors.As(err, &at):
		return path + " cannot be read: " + at.Err.Error()
	}
	return path + " cannot be read: " + err.Error()
}
