package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"

	"golang.org/x/term"
)

// output is where the notes go: standard output, or a file that appears, or is
// replaced, only when everything is in it. A device or a pipe is written to as
// it is.
type output struct {
	io.Writer
	file *os.File // the unfinished file, nil for standard output
	path string   // where it belongs; "" for a device
	name string   // what it is called in messages
}

func (k *checker) openOutput() (*output, error) { return openOutput(k.std.out, k.options.output) }

// openOutput returns what writes to the file at path, or to w when there is no
// path.
func openOutput(w io.Writer, path string) (*output, error) {
	if path == "" {
		return &output{Writer: w}, nil
	}
	o := &output{name: path, path: path}
	if leads, err := filepath.EvalSymlinks(path); err == nil {
		o.path = leads // a link stays, what it leads to is replaced
	}
	info, err := os.Stat(o.path)
	switch {
	case err == nil && info.IsDir():
		return nil, fmt.Errorf("--output: %s cannot be written: it is a folder; expected the path of a file", path)
	case err == nil && !info.Mode().IsRegular():
		o.file, err = os.OpenFile(o.path, os.O_WRONLY, 0)
		o.path = ""
	default:
		// Beside its final place, so that renaming cannot cross file systems.
		o.file, err = os.CreateTemp(filepath.Dir(o.path), "."+filepath.Base(o.path)+".*.tmp")
	}
	if err != nil {
		return nil, errors.New("--output: " + writeError(path, err))
	}
	o.Writer = o.file
	return o, nil
}

// finish puts the file in its place, or removes it if writing it has failed. It
// returns the first error.
func (o *output) finish(err error) error {
	switch {
	case o.file == nil:
		return err
	case o.path == "":
		if e := o.file.Close(); err == nil {
			err = e
		}
	default:
		if err = o.place(err); err != nil {
			os.Remove(o.file.Name())
		}
	}
	if err != nil {
		return errors.New(writeError(o.name, err))
	}
	return nil
}

// place closes the unfinished file and puts it where it belongs, unless
// something has gone wrong by then.
func (o *output) place(err error) error {
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
	return err
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
