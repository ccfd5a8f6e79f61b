package main

import (
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
)

const (
	module   = "curvelint"
	repoRoot = "../.."
)

// arrows says, for each package or tree of packages (a name that ends in /),
// which of the module's own it may import; the longest name that fits counts.
// Whatever is not listed may import nothing of the module.
var arrows = []struct {
	from string
	to   []string
}{
	{"cmd/", []string{"server/", "diagnostics/", "parse/"}},
	// What does not ship stands in the lab, and nothing that ships knows it.
	{"cmd/lab/", []string{"cmd/lab/", "server/", "diagnostics/", "parse/"}},
	{"cmd/lab/designed/", []string{"cmd/lab/designed/"}},
	{"cmd/lab/scenetest", []string{"parse/scene", "parse/text"}},
	{"server", []string{"server/", "diagnostics/", "parse/"}},
	{"server/command", []string{"server/feature", "server/show", "server/wire", "server/workspace", "diagnostics/", "parse/"}},
	{"server/feature", []string{"server/judging", "server/show", "server/wire", "server/workspace", "diagnostics/", "parse/"}},
	{"server/judging", []string{"server/show", "server/wire", "server/workspace", "diagnostics/", "parse/"}},
	{"server/show", []string{"server/wire", "diagnostics/", "parse/scene", "parse/text"}},
	{"server/wire", []string{"parse/scene", "parse/text"}},
	{"server/workspace", []string{"diagnostics/", "parse/"}},

	{"diagnostics/", []string{"diagnostics/", "parse/"}},
	{"diagnostics", []string{"diagnostics/checks/", "diagnostics/config", "diagnostics/motion/", "diagnostics/note", "diagnostics/words", "parse/"}},
	// A group of checks knows no other group: what two need is in the kit.
	{"diagnostics/checks", []string{"diagnostics/checks/"}},
	{"diagnostics/checks/", []string{"diagnostics/checks/kit", "diagnostics/motion/", "diagnostics/note", "diagnostics/words", "parse/scene"}},
	{"diagnostics/checks/kit", []string{"diagnostics/motion/", "diagnostics/note", "diagnostics/words", "parse/scene"}},
	{"diagnostics/words", nil},
	// What is made of a study knows no check; pictures, comparisons and fixes do
	// not know each other, and only the page and reports show several of them.
	{"diagnostics/facts", []string{"diagnostics/motion/", "diagnostics/words", "parse/scene"}},
	{"diagnostics/chart", []string{"diagnostics/facts", "diagnostics/motion/", "diagnostics/note", "diagnostics/words", "parse/scene"}},
	{"diagnostics/passes", []string{"diagnostics/motion/", "diagnostics/note", "diagnostics/words", "parse/scene"}},
	{"diagnostics/passes/write", []string{"diagnostics/motion/", "diagnostics/note", "diagnostics/passes", "diagnostics/report", "diagnostics/words"}},
	{"diagnostics/fixes", []string{"diagnostics/config", "diagnostics/facts", "diagnostics/motion/", "diagnostics/note", "diagnostics/words", "parse/scene"}},
	{"diagnostics/report", []string{"diagnostics", "diagnostics/checks/kit", "diagnostics/config", "diagnostics/note", "diagnostics/words", "parse/"}},
	{"diagnostics/page", []string{"diagnostics", "diagnostics/motion/", "diagnostics/note", "diagnostics/passes/", "diagnostics/report", "diagnostics/words", "parse/scene"}},
	{"diagnostics/config", []string{"diagnostics/note", "diagnostics/words", "parse/scene"}},
	// The rooms of the study: a path of one thing knows no figure, a body no path;
	// the study joins them.
	{"diagnostics/motion", []string{"diagnostics/motion/", "parse/scene"}},
	{"diagnostics/motion/clip", []string{"parse/scene"}},
	{"diagnostics/motion/vec", nil},
	{"diagnostics/motion/warp", nil},
	{"diagnostics/motion/fit", []string{"diagnostics/motion/vec"}},
	{"diagnostics/motion/solve", []string{"diagnostics/motion/clip", "diagnostics/motion/vec", "parse/scene"}},
	{"diagnostics/motion/track", []string{"diagnostics/motion/clip", "diagnostics/motion/vec", "parse/scene"}},
	{"diagnostics/motion/body", []string{"diagnostics/motion/solve", "diagnostics/motion/vec", "parse/scene"}},
	{"diagnostics/note", []string{"parse/scene"}},

	{"parse/", []string{"parse/"}},
	{"parse/scene", nil},
	{"parse/text", nil},
}

// outside says which packages of other modules a tree may not use.
var outside = []struct{ from, not, why string }{
	{"parse/", "gonum.org/", "a parser reads, it does not calculate"},
	{"parse/", "go.lsp.dev/", "a parser knows no editor"},
	{"diagnostics/", "go.lsp.dev/", "positions of the protocol are made in server only"},
	{"server/", "gonum.org/", "mathematics belongs to diagnostics"},
	{"server/workspace", "go.lsp.dev/protocol", "open texts know bytes and scenes, not messages"},
	{"server/workspace", "go.lsp.dev/jsonrpc2", "open texts know bytes and scenes, not messages"},
	{"server/", "github.com/spf13/", "the command line belongs to cmd"},
}

func fits(pattern, pkg string) bool {
	tree, ok := strings.CutSuffix(pattern, "/")
	return pkg == tree || ok && strings.HasPrefix(pkg, tree+"/")
}

func allowed(from string) []string {
	best, to := "", []string(nil)
	for _, a := range arrows {
		if fits(a.from, from) && (len(a.from) > len(best) || a.from == from) {
			best, to = a.from, a.to
			if a.from == from {
				break
			}
		}
	}
	return to
}

// imports returns what each package of the module imports outside its tests.
func imports(t *testing.T) map[string][]string {
	t.Helper()
	found := map[string][]string{}
	err := filepath.WalkDir(repoRoot, func(name string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() && name != repoRoot && (strings.HasPrefix(d.Name(), ".") || d.Name() == "testdata" || d.Name() == "node_modules") {
			return fs.SkipDir
		}
		if !strings.HasSuffix(name, ".go") || strings.HasSuffix(name, "_test.go") {
			return nil
		}
		f, err := parser.ParseFile(token.NewFileSet(), name, nil, parser.ImportsOnly)
		if err != nil {
			return err
		}
		rel, err := filepath.Rel(repoRoot, filepath.Dir(name))
		if err != nil {
			return err
		}
		pkg := filepath.ToSlash(rel)
		for _, i := range f.Imports {
			p, err := strconv.Unquote(i.Path.Value)
			if err != nil {
				return err
			}
			found[pkg] = append(found[pkg], p)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return found
}

// Imports run one way: cmd, server, diagnostics, parse; and checks, motion,
// scene.
func TestArrows(t *testing.T) {
	all := imports(t)
	if len(all) < 10 {
		t.Fatalf("found %d packages only", len(all))
	}
	for pkg, list := range all {
		to := allowed(pkg)
		for _, p := range list {
			own, ok := strings.CutPrefix(p, module+"/")
			if ok && !slices.ContainsFunc(to, func(pattern string) bool { return fits(pattern, own) }) {
				t.Errorf("%s imports %s; it may import only %v", pkg, own, to)
			}
			for _, o := range outside {
				if fits(o.from, pkg) && strings.HasPrefix(p, o.not) {
					t.Errorf("%s imports %s: %s", pkg, p, o.why)
				}
			}
		}
		if strings.Contains("/"+pkg+"/", "/util/") || slices.Contains([]string{"util", "utils", "common", "helpers", "misc"}, path.Base(pkg)) {
			t.Errorf("%s is named after nothing; name a package after what it holds", pkg)
		}
	}
}

// A format knows its own parts and what all formats share, never another one.
func TestFormatsAreApart(t *testing.T) {
	shared := []string{"scene", "text", "xml", "grid"}
	formats := []string{"usda", "bvh", "gltf", "collada", "x3d", "table"}
	for pkg, list := range imports(t) {
		name := strings.TrimPrefix(pkg, "parse/")
		if name == pkg || strings.HasPrefix(name, "scene/") {
			continue
		}
		for _, p := range list {
			own, ok := strings.CutPrefix(p, module+"/parse/")
			first, _, _ := strings.Cut(own, "/")
			mine, _, _ := strings.Cut(name, "/")
			if ok && first != mine && !slices.Contains(shared, first) {
				t.Errorf("%s imports %s", pkg, own)
			}
			if ok && slices.Contains(shared, mine) && slices.Contains(formats, first) {
				t.Errorf("%s, which formats share, imports %s", pkg, own)
			}
		}
	}
}

// Each module that the project asks for has its reason in the guide, and each
// one there is asked for.
func TestDependenciesHaveReasons(t *testing.T) {
	guide, err := os.ReadFile(filepath.Join(repoRoot, "DEVELOPERS.md"))
	if err != nil {
		t.Fatal(err)
	}
	mod, err := os.ReadFile(filepath.Join(repoRoot, "go.mod"))
	if err != nil {
		t.Fatal(err)
	}
	asked := regexp.MustCompile(`(?m)^(?:require )?\s*(\S+\.\S+/\S+) v\S+$`).FindAllStringSubmatch(string(mod), -1)
	if len(asked) == 0 {
		t.Fatal("go.mod asks for nothing")
	}
	_, table, _ := strings.Cut(string(guide), "\n## Dependencies\n")
	for _, m := range asked {
		if !strings.Contains(table, "`"+m[1]+"`") {
			t.Errorf("DEVELOPERS.md does not say why %s is needed", m[1])
		}
	}
	for _, m := range regexp.MustCompile("`([a-z.]+\\.[a-z]+/[^`]+)`").FindAllStringSubmatch(table, -1) {
		if !strings.Contains(string(mod), m[1]+" v") {
			t.Errorf("DEVELOPERS.md has a reason for %s, which go.mod does not ask for", m[1])
		}
	}
}

// The top of the repository stays as it is.
func TestTopLevel(t *testing.T) {
	entries, err := os.ReadDir(repoRoot)
	if err != nil {
		t.Fatal(err)
	}
	known := []string{"cmd", "server", "diagnostics", "parse", "testdata", "README.md", "DEVELOPERS.md", "go.mod", "go.sum"}
	for _, e := range entries {
		if !strings.HasPrefix(e.Name(), ".") && !slices.Contains(known, e.Name()) && e.Name() != module {
			t.Errorf("%s at the top of the repository is new; put it where it belongs", e.Name())
		}
	}
}

// The rules bite.
func TestArrowsBite(t *testing.T) {
	for _, tt := range []struct {
		from, to string
		want     bool
	}{
		{"diagnostics/checks/spacing", "diagnostics/motion", true},
		{"diagnostics/checks/spacing", "diagnostics/checks/kit", true},
		{"diagnostics/checks/spacing", "diagnostics/checks/timing", false},
		{"diagnostics/checks/kit", "diagnostics/checks/timing", false},
		{"diagnostics/chart", "diagnostics/passes", false},
		{"diagnostics/fixes", "diagnostics/checks/spacing", false},
		{"diagnostics/passes", "diagnostics/fixes", false},
		{"diagnostics/words", "diagnostics/motion", false},
		{"diagnostics/checks/spacing", "diagnostics/config", false},
		{"diagnostics/checks/spacing", "parse/usda", false},
		{"diagnostics/motion", "diagnostics/checks", false},
		{"diagnostics/motion/track", "diagnostics/motion/body", false},
		{"diagnostics/motion/body", "diagnostics/motion/track", false},
		{"diagnostics/motion/solve", "diagnostics/motion", false},
		{"diagnostics", "diagnostics/report", false},
		{"diagnostics/report", "diagnostics", true},
		{"parse/usda", "diagnostics/note", false},
		{"parse/scene", "parse/text", false},
		{"cmd/lab/scenetest", "parse/scene", true},
		{"server/workspace", "cmd/curvelint", false},
		{"server/workspace", "server/wire", false},
		{"server/wire", "server/workspace", false},
		{"server/show", "server/workspace", false},
		{"server/judging", "server/feature", false},
		{"server/feature", "server/command", false},
		{"server/command", "server", false},
		{"cmd/curvelint", "server", true},
		{"cmd/curvelint", "cmd/lab/designed", false},
		{"diagnostics", "cmd/lab/corpus", false},
		{"cmd/lab/designed/write", "cmd/lab/designed", true},
		{"cmd/lab/designed", "parse/usda", false},
	} {
		got := slices.ContainsFunc(allowed(tt.from), func(pattern string) bool { return fits(pattern, tt.to) })
		if got != tt.want {
			t.Errorf("%s may import %s: %v, want %v", tt.from, tt.to, got, tt.want)
		}
	}
}
