package checks

import (
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// unnamed are the folders in which numbers still stand outside settings and
// limits.
var unnamed = map[string]bool{}

// Every number that decides is a setting or a limit, with where it comes from:
// no fraction stands anywhere else in a check, and no constant is a number. What
// only ranks notes (the arguments of Weigh) decides nothing.
func TestNumbersHaveNames(t *testing.T) {
	files, err := filepath.Glob("*/*.go")
	if err != nil || len(files) < 40 {
		t.Fatalf("%d files: %v", len(files), err)
	}
	for _, name := range files {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		set := token.NewFileSet()
		f, err := parser.ParseFile(set, name, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		for _, at := range bareNumbers(f) {
			if unnamed[filepath.Dir(name)] {
				t.Logf("%s: a number without a name", set.Position(at))
				continue
			}
			t.Errorf("%s: a number without a name; make it a kit.Number, kit.Seconds or kit.Limit beside the check, and say where it comes from", set.Position(at))
		}
	}
}

// bareNumbers returns where fractions other than 0 and 1 stand outside
// declarations of settings and limits, and constants that are numbers.
func bareNumbers(f *ast.File) []token.Pos {
	var found []token.Pos
	ast.Inspect(f, func(n ast.Node) bool {
		switch x := n.(type) {
		case *ast.CompositeLit:
			switch last(x.Type) {
			case "Number", "Seconds", "Switch", "Limit":
				return false
			}
		case *ast.CallExpr:
			if last(x.Fun) == "Weigh" {
				return false
			}
		case *ast.GenDecl:
			if x.Tok != token.CONST {
				return true
			}
			for _, s := range x.Specs {
				for _, v := range s.(*ast.ValueSpec).Values {
					if l, ok := v.(*ast.BasicLit); ok && l.Kind == token.INT {
						found = append(found, l.Pos())
					}
				}
			}
		case *ast.BasicLit:
			if v, err := strconv.ParseFloat(x.Value, 64); x.Kind == token.FLOAT && (err != nil || v != 0 && v != 1) {
				found = append(found, x.Pos())
			}
		}
		return true
	})
	return found
}

// last is the last word of a name: Limit of kit.Limit.
func last(e ast.Expr) string {
	switch x := e.(type) {
	case *ast.Ident:
		return x.Name
	case *ast.SelectorExpr:
		return x.Sel.Name
	}
	return ""
}

func TestBareNumbersAreFound(t *testing.T) {
	const src = `package x
var share = kit.Limit{Name: "share", Value: 0.4}
const most = 3
const name = "a"
func f(a float64) bool { c.Weigh(fig, p, 0.2); x, y := 0.0, 1.0; return a > 0.3*2 }
`
	f, err := parser.ParseFile(token.NewFileSet(), "x.go", src, 0)
	if err != nil {
		t.Fatal(err)
	}
	if got := bareNumbers(f); len(got) != 2 {
		t.Errorf("%d numbers found, want the constant and the share in f", len(got))
	}
}

// A limit says what it does and where it comes from, and its check's document
// is printed with it.
func TestLimits(t *testing.T) {
	for _, c := range every() {
		seen := map[string]bool{}
		for _, s := range c.Settings {
			seen[s.About().Name] = true
		}
		for _, l := range c.Limits {
			if !snake.MatchString(l.Name) || seen[l.Name] {
				t.Errorf("%s: limit %q is taken or not lower case words joined by underscores", c.ID, l.Name)
			}
			seen[l.Name] = true
			if l.Unit == "" || l.Doc == "" || len(l.Source) < 8 {
				t.Errorf("%s: limit %s lacks its unit, what it does or where it comes from", c.ID, l.Name)
			}
			row := regexp.MustCompile("(?m)^\\| `" + l.Name + "` \\| " + regexp.QuoteMeta(l.Unit) + " \\|")
			if !row.MatchString(c.Text()) {
				t.Errorf("%s: its text does not list the limit %s", c.ID, l.Name)
			}
		}
	}
}
