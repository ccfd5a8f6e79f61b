package workspace

import (
	"path/filepath"
	"slices"
	"strings"

	"curvelint/parse"
)

// IsScene reports whether a file is a scene by its name.
func IsScene(path string) bool {
	return slices.Contains(parse.Extensions(), strings.ToLower(filepath.Ext(path)))
}

// SurelyScene reports whether a file is a scene if its name says so. Tables hold
// all sorts of things.
func SurelyScene(path string) bool {
	ext := strings.ToLower(filepath.Ext(path))
	return ext != ".csv" && ext != ".tsv"
}

// Foreign reports whether a text is no scene and does not claim to be one by its
// name: an editor may send every JSON, XML or TOML file that is opened.
func (r *Read) Foreign() bool { return len(r.Scene.Parts) == 0 && !IsScene(r.Doc.Path) }
