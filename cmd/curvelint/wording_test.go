package main

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// shownFrom are the trees whose texts a person reads.
var shownFrom = []string{"diagnostics", "server", "cmd/curvelint"}

// numberWriters are the files, or trees that end in /, which may write numbers by
// themselves, each with why; all others leave it to diagnostics/words.
var numberWriters = map[string]string{
	"diagnostics/words/":           "the one place",
	"diagnostics/checks/":          "the notes of the checks follow",
	"diagnostics/config/frames.go": "writes curvelint.toml",
	"diagnostics/fixes/pen.go":     "writes values into a scene, with the decimals of the file",
	"diagnostics/fixes/offset.go":  "writes the times of keys into a scene",
	"diagnostics/judged.go":        "panics, for whoever wrote the check",
}

// ownWords are the files or trees that may speak of ease in, ease out and evenness,
// each with why.
var ownWords = map[string]string{
	"diagnostics/checks/": "the names of settings and measures follow",
	"README.md":           "the name of a setting follows",
}

// listed returns the entry of a list that a file falls under.
func listed(list map[string]string, file string) (entry string, ok bool) {
	for entry := range list {
		if file == entry || strings.HasSuffix(entry, "/") && strings.HasPrefix(file, entry) {
			return entry, true
		}
	}
	return "", false
}

// floatVerb is a verb of package fmt that writes a number with a point.
var floatVerb = regexp.MustCompile(`%[-+#0]*\d*(?:\.(?:\d*|\*))?[feEgGF]`)

func writesFloat(format string) bool {
	return floatVerb.MatchString(strings.ReplaceAll(format, "%%", ""))
}

// misread is what one half of the trade understands the other way round, and a name
// that says the contrary of its number: much "evenness" is uneven.
var misread = regexp.MustCompile(`(?i)\beas(?:e|es|ed|ing)[-_ ](?:in|out)\b|\bease(?:In|Out)\b|evenness`)

// Numbers are worded in one package: whoever writes one for a person in another would
// word it another way.
func TestNumbersAreWordedOnce(t *testing.T) {
	used := map[string]bool{}
	eachSource(t, func(file string, f *ast.File, at func(ast.Node) string) {
		entry, may := listed(numberWriters, file)
		found := func(n ast.Node, what string) {
			if may {
				used[entry] = true
				return
			}
			t.Errorf("%s: %s writes a number; let diagnostics/words do it", at(n), what)
		}
		ast.Inspect(f, func(n ast.Node) bool {
			switch n := n.(type) {
			case *ast.BasicLit:
				if s, err := strconv.Unquote(n.Value); err == nil && n.Kind == token.STRING && writesFloat(s) {
					found(n, n.Value)
				}
			case *ast.SelectorExpr:
				if p, ok := n.X.(*ast.Ident); ok && p.Name == "strconv" && (n.Sel.Name == "FormatFloat" || n.Sel.Name == "AppendFloat") {
					found(n, "strconv."+n.Sel.Name)
				}
			}
			return true
		})
	})
	for entry, why := range numberWriters {
		if !used[entry] {
			t.Errorf("%s writes no numbers any more (%s); take it off the list", entry, why)
		}
	}
}

// Nothing that a person reads says ease in, ease out or evenness: texts in the code,
// keys of JSON, documents, help and what the editors show.
func TestNoMisreadWords(t *testing.T) {
	used := map[string]bool{}
	look := func(file, where, text string) {
		w := misread.FindString(text)
		if w == "" {
			return
		}
		if entry, may := listed(ownWords, file); may {
			used[entry] = true
			return
		}
		t.Errorf("%s says %q; say that a move leaves or arrives over n frames, and its spacing contrast", where, w)
	}
	eachSource(t, func(file string, f *ast.File, at func(ast.Node) string) {
		ast.Inspect(f, func(n ast.Node) bool {
			if l, ok := n.(*ast.BasicLit); ok && l.Kind == token.STRING {
				look(file, at(l), l.Value)
			}
			return true
		})
	})
	for _, file := range documents(t) {
		raw, err := os.ReadFile(filepath.Join(repoRoot, file))
		if err != nil {
			t.Fatal(err)
		}
		for i, line := range strings.Split(string(raw), "\n") {
			look(file, file+":"+strconv.Itoa(i+1), line)
		}
	}
	for entry, why := range ownWords {
		if !used[entry] {
			t.Errorf("%s has no such words any more (%s); take it off the list", entry, why)
		}
	}
}

// eachSource calls look for each file of Go that may hold texts for a person, tests
// aside.
func eachSource(t *testing.T, look func(file string, f *ast.File, at func(ast.Node) string)) {
	t.Helper()
	files := 0
	for _, file := range filesOf(t, shownFrom, ".go") {
		if strings.HasSuffix(file, "_test.go") {
			continue
		}
		set := token.NewFileSet()
		f, err := parser.ParseFile(set, filepath.Join(repoRoot, file), nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		files++
		look(file, f, func(n ast.Node) string { return file + ":" + strconv.Itoa(set.Position(n.Pos()).Line) })
	}
	if files < 100 {
		t.Fatalf("found %d files only", files)
	}
}

// documents are the texts beside the code that a person reads, or a test holds to what
// one reads.
func documents(t *testing.T) []string {
	t.Helper()
	list := filesOf(t, shownFrom, ".md", ".js", ".html", ".txt", ".txtar", ".json", ".lua", ".el", ".toml", ".svg")
	list = append(list, "README.md", "DEVELOPERS.md")
	return append(list, filesOf(t, []string{"testdata/demo"}, ".md", ".toml")...)
}

// filesOf returns the files below some trees whose names end in one of the endings.
func filesOf(t *testing.T, trees []string, endings ...string) (list []string) {
	t.Helper()
	for _, tree := range trees {
		err := filepath.WalkDir(filepath.Join(repoRoot, tree), func(name string, d fs.DirEntry, err error) error {
			if err != nil {
				return err
			}
			if d.IsDir() && (d.Name() == "node_modules" || d.Name() == "dist" || strings.HasPrefix(d.Name(), ".")) {
				return fs.SkipDir
			}
			if slices.Contains(endings, filepath.Ext(name)) && !d.IsDir() {
				rel, err := filepath.Rel(repoRoot, name)
				list = append(list, filepath.ToSlash(rel))
				return err
			}
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	return list
}

// The rules bite.
func TestWordingBites(t *testing.T) {
	for s, want := range map[string]bool{"%.1f degrees": true, "%g": true, "%+.0f": true, "%.*f": true, "%5.2f": true, "%6.3g": true,
		"%d %% full": false, "50 % for all": false, "%s": false, "%%g": false, "%q": false, "100 % of figure size": false} {
		if writesFloat(s) != want {
			t.Errorf("%q writes a number: %v, want %v", s, !want, want)
		}
	}
	for s, want := range map[string]bool{"ease in 3 frames": true, "Ease out": true, `json:"ease_in"`: true, "ease-in": true, "easeOut": true,
		"evenness 0.02": true, "eased in": true, "Ease this run": false, "evenly": false, "please inform": false, "increase in size": false, "ease into it": false} {
		if misread.MatchString(s) != want {
			t.Errorf("%q is misread: %v, want %v", s, !want, want)
		}
	}
}
