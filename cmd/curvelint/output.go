package main

import (
	"errors"
	"io"
	"os"
	"path/filepath"

	"golang.org/x/term"
)

// output is where the notes go: standard output, or a file that appears, or is
// replaced, only when everything is in it.
type output struct {
	io.Writer
	file *os.File // the unfinished file, nil for standard output
	path string
}

func (k *checker) openOutput() (*output, error) { return openOutput(k.std.out, k.options.output) }

// openOutput returns what writes to the file at path, or to w when there is no
// path.
func openOutput(w io.Writer, path string) (*output, error) {
	if path == "" {
		return &output{Writer: w}, nil
	}
	// Beside its final place, so that renaming cannot cross file systems.
	f, err := os.CreateTemp(filepath.Dir(path), "."+filepath.Base(path)+".*.tmp")
	if err != nil {
		return nil, errors.New("--output: " + writeError(path, err))
	}
	return &output{Writer: f, file: f, path: path}, nil
}

// finish puts the file in its place, or removes it if writing it has failed. It
// returns the first error.
func (o *output) finish(err error) error {
	if o.file == nil {
		return err
	}
	if err == nil {
		err = o.file.Chmod(permissions(o.path))
	}
	if err == nil {
		err = o.file.Sync()
	}
	if e := o.file.Close(); err == nil {
		err = e
	}
	if err == nil {
		err = os.Rename(o.file.Name(), o.path)
	}
	if err != nil {
		os.Remove(o.file.Name())
		return errors.New(writeError(o.path, err))
	}
	return nil
}

// permissions keeps those of a file that is replaced.
func permissions(path string) os.FileMode {
	if info, err := os.Stat(path); err == nil {
		return info.Mode().Perm()
	}
	return 0o644
}

func writeError(path string, err error) string {
	var at *os.PathError
	var link *os.LinkError
	switch {
	case errors.As(err, &at):
		err = at.Err
	case errors.As(err, &link):
		err = link.Err
	}
	return path + " cannot be written: " + err.Error()
}

// colorful reports whether notes are shown in colour: on a terminal that has
// some, unless the environment says NO_COLOR.
func (k *checker) colorful() bool {
	return k.options.format == "text" && k.options.output == "" && isTerminal(k.std.out) &&
		os.Getenv("NO_COLOR") == "" && os.Getenv("TERM") != "dumb"
}

func isTerminal(w io.Writer) bool {
	f, ok := w.(*os.File)
	return ok && term.IsTerminal(int(f.Fd()))
}
