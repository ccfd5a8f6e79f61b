package cases

import (
	"fmt"
	"os"
	"path"
	"path/filepath"
	"strings"

	"golang.org/x/tools/txtar"
)

// Kind says what a case is for.
type Kind string

// The kinds of cases, which begin their file names.
const (
	Flaw   Kind = "flaw"
	Near   Kind = "near"
	Proper Kind = "proper"
)

// Case is one labelled scene.
type Case struct {
	Name  string // without the ending: flaw-reach
	Kind  Kind
	Check string // the check whose folder it is in
	About string // what the case is, for an animator
	// Scene is the name of the file that is judged; Files are all, by name.
	Scene string
	Files map[string][]byte
	Wants []Want
	path  string // of the case's file
}

// The names of the files that are no scene: the case's configuration, its
// expected notes, and the sheet that its scene was made from.
const (
	ConfigName = "curvelint.toml"
	WantsName  = "want"
	SheetName  = "sheet"
)

// Root is the folder of the cases of all checks, below the top of the module.
const Root = "testdata/checks"

// Module returns the top of the module, which holds go.mod, at or above the
// working folder.
func Module() (string, error) {
	dir, err := os.Getwd()
	if err != nil {
		return "", err
	}
	for {
		if _, err := os.Stat(filepath.Join(dir, "go.mod")); err == nil {
			return dir, nil
		}
		up := filepath.Dir(dir)
		if up == dir {
			return "", fmt.Errorf("no go.mod at or above the working folder; run this inside the module")
		}
		dir = up
	}
}

// Of reads the cases of a check, in the order of their names; none when it has
// no folder.
func Of(check string) ([]*Case, error) {
	top, err := Module()
	if err != nil {
		return nil, err
	}
	files, err := filepath.Glob(filepath.Join(top, filepath.FromSlash(Root), check, "*.txtar"))
	if err != nil {
		return nil, err
	}
	var list []*Case
	for _, name := range files {
		raw, err := os.ReadFile(name)
		if err != nil {
			return nil, err
		}
		c, err := Read(check, strings.TrimSuffix(filepath.Base(name), ".txtar"), raw)
		if err != nil {
			return nil, fmt.Errorf("%s/%s: %w", check, filepath.Base(name), err)
		}
		c.path = name
		list = append(list, c)
	}
	return list, nil
}

// Read reads one case.
func Read(check, name string, raw []byte) (*Case, error) {
	a := txtar.Parse(raw)
	c := &Case{Name: name, Check: check, About: strings.TrimSpace(string(a.Comment)), Files: map[string][]byte{}}
	kind, _, _ := strings.Cut(name, "-")
	switch c.Kind = Kind(kind); c.Kind {
	case Flaw, Near, Proper:
	default:
		return nil, fmt.Errorf("the name must begin with flaw-, near- or proper-")
	}
	switch {
	case strings.HasPrefix(c.About, draftMark):
		return nil, fmt.Errorf("its comment is a draft; look at the motion, say what the case is, and take the ? away")
	case len(c.About) < 20:
		return nil, fmt.Errorf("the comment at its top must say what the case is")
	}
	var wants []byte
	for _, f := range a.Files {
		switch {
		case f.Name == WantsName:
			wants = f.Data
			continue
		case f.Name == SheetName:
			continue
		case f.Name == ConfigName:
		case c.Scene == "":
			c.Scene = f.Name
		}
		c.Files[f.Name] = f.Data
	}
	if c.Scene == "" {
		return nil, fmt.Errorf("it holds no scene")
	}
	var err error
	if c.Wants, err = listed(wants, c.Scene); err != nil {
		return nil, err
	}
	for _, f := range a.Files {
		if !comments[path.Ext(f.Name)] {
			continue
		}
		inText, err := written(f.Name, f.Data)
		if err != nil {
			return nil, err
		}
		c.Wants = append(c.Wants, inText...)
	}
	return c, nil
}

// comments are the formats in which what follows # is a comment.
var comments = map[string]bool{".usda": true, ".toml": true, ".x3dv": true, ".wrl": true, ".csv": true}
