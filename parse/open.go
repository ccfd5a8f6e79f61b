package parse

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
)

// OpenWithin returns a function for scene.ReadOptions.Open that reads the
// files which scenes name, as long as they lie inside the folder root. Names
// are relative to the file that names them and may use / or the separator of
// the operating system (or \, as written on another one). A file that is
// reached by leaving root is refused, be it by .., an absolute path, a URL or
// a symbolic link; so is what is no regular file or larger than
// DefaultMaxBytes. The path returned is relative when from is. It is safe for
// concurrent use.
func OpenWithin(root string) func(from, name string) (path string, content []byte, err error) {
	return func(from, name string) (string, []byte, error) {
		if scheme, ok := urlScheme(name); ok {
			return "", nil, fmt.Errorf("%q is a %s address; only files inside %s are read: save it there and name it by a relative path", name, scheme, root)
		}
		if name == "" || strings.ContainsRune(name, 0) {
			return "", nil, fmt.Errorf("expected the name of a file, found %q", name)
		}
		path := resolve(from, name)
		content, err := readWithin(root, path)
		if errors.Is(err, fs.ErrNotExist) && strings.Contains(name, `\`) {
			path = resolve(from, strings.ReplaceAll(name, `\`, "/"))
			content, err = readWithin(root, path)
		}
		if err != nil {
			return "", nil, err
		}
		return path, content, nil
	}
}

// urlScheme returns the scheme of a URL (RFC 3986, section 3.1). One letter
// and a colon is a drive.
func urlScheme(name string) (string, bool) {
	scheme, _, found := strings.Cut(name, ":")
	if !found || len(scheme) < 2 {
		return "", false
	}
	for i, c := range strings.ToLower(scheme) {
		letter := 'a' <= c && c <= 'z'
		if !letter && (i == 0 || !strings.ContainsRune("0123456789+-.", c)) {
			return "", false
		}
	}
	return scheme, true
}

// resolve returns where name lies, seen from the file from.
func resolve(from, name string) string {
	name = filepath.FromSlash(name)
	if filepath.IsAbs(name) {
		return filepath.Clean(name)
	}
	return filepath.Join(filepath.Dir(from), name)
}

// readWithin reads the file at path if it lies inside root.
func readWithin(root, path string) ([]byte, error) {
	base, inside, err := locate(root, path)
	if err != nil {
		return nil, err
	}
	// The folder is opened as a root, so that a link made after the look
	// above cannot lead out either.
	dir, err := os.OpenRoot(base)
	if err != nil {
		return nil, plain(err, root)
	}
	defer dir.Close()
	info, err := dir.Stat(inside)
	if err != nil {
		return nil, plain(err, path)
	}
	if !info.Mode().IsRegular() {
		return nil, fmt.Errorf("%s is no regular file", path)
	}
	f, err := dir.Open(inside)
	if err != nil {
		return nil, plain(err, path)
	}
	defer f.Close()
	return readLimited(f, path, info.Size())
}

// locate follows all links and returns the true path of root and that of path
// relative to it, or an error when path lies outside.
func locate(root, path string) (base, inside string, err error) {
	if base, err = filepath.Abs(root); err != nil {
		return "", "", err
	}
	if path, err = filepath.Abs(path); err != nil {
		return "", "", err
	}
	outside := fmt.Errorf("%s lies outside %s; only files inside it are read: copy it there and name it by a relative path", path, root)
	trueBase, err := filepath.EvalSymlinks(base)
	if err != nil {
		return "", "", plain(err, root)
	}
	if !within(base, path) && !within(trueBase, path) {
		return "", "", outside // said before looking whether it exists
	}
	truePath, err := filepath.EvalSymlinks(path)
	if err != nil {
		return "", "", plain(err, path)
	}
	if !within(trueBase, truePath) {
		return "", "", outside
	}
	inside, err = filepath.Rel(trueBase, truePath)
	return trueBase, inside, err
}

// within reports whether path is base or lies below it; both are clean and
// absolute.
func within(base, path string) bool {
	rel, err := filepath.Rel(base, path)
	return err == nil && filepath.IsLocal(rel)
}

// readLimited reads a file of about the given size, never more than the limit.
func readLimited(f io.Reader, path string, size int64) ([]byte, error) {
	tooLarge := fmt.Errorf("%s is larger than the limit of %d bytes", path, DefaultMaxBytes)
	if size > DefaultMaxBytes {
		return nil, tooLarge
	}
	content := make([]byte, 0, size+1)
	for {
		n, err := f.Read(content[len(content):cap(content)])
		content = content[:len(content)+n]
		if err == io.EOF {
			return content, nil
		}
		if err != nil {
			return nil, plain(err, path)
		}
		if len(content) > DefaultMaxBytes {
			return nil, tooLarge
		}
		if len(content) == cap(content) {
			content = append(content, 0)[:len(content)]
		}
	}
}

// plain words an error of the file system for a person; it still is what it
// was for errors.Is.
func plain(err error, path string) error {
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return &fileError{path + " does not exist", err}
	case errors.Is(err, fs.ErrPermission):
		return &fileError{path + " may not be read", err}
	}
	cause := err
	if at, ok := err.(*fs.PathError); ok {
		cause = at.Err
	}
	return &fileError{fmt.Sprintf("%s cannot be read: %v", path, cause), err}
}

type fileError struct {
	message string
	cause   error
}

func (e *fileError) Error() string { return e.message }
func (e *fileError) Unwrap() error { return e.cause }
