package main

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"curvelint/diagnostics"
	"curvelint/diagnostics/config"
)

func readReadme(t *testing.T) string {
	t.Helper()
	b, err := os.ReadFile(filepath.Join(repoRoot, "README.md"))
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

// The README's first command finds flaws in the earlier pass, none in the
// polished one, and says so.
func TestReadmeCommand(t *testing.T) {
	line := regexp.MustCompile(`(?m)^go run \./cmd/curvelint (check .*)$`).FindStringSubmatch(readReadme(t))
	if line == nil {
		t.Fatal("README.md has no command that starts with go run ./cmd/curvelint check")
	}
	t.Chdir(repoRoot)
	status, out, errs := call(t, "", strings.Fields(line[1])...)
	if status != statusNotes || !strings.Contains(out, "deckhand_spline.usda:") {
		t.Errorf("status %d\n%s%s", status, out, errs)
	}
	if strings.Contains(out, "deckhand_polish.usda:") && strings.Contains(out, "warning: ") &&
		regexp.MustCompile(`deckhand_polish\.usda:\d+:\d+: warning`).MatchString(out) {
		t.Errorf("a warning on the polished pass:\n%s", out)
	}
	if !strings.Contains(errs, "down from ") {
		t.Errorf("the summary does not say how few notes remain:\n%s", errs)
	}
}

// The README's configuration is one.
func TestReadmeConfiguration(t *testing.T) {
	_, below, ok := strings.Cut(readReadme(t), "\n## Configuration\n")
	_, below, ok2 := strings.Cut(below, "```toml\n")
	src, _, ok3 := strings.Cut(below, "```\n")
	if !ok || !ok2 || !ok3 {
		t.Fatal("README.md shows no configuration")
	}
	c := config.Parse("README.md", []byte(src), diagnostics.Schema())
	for _, p := range c.Problems {
		t.Errorf("%q: %s", src[p.Span.Start:p.Span.End], p.Message)
	}
	if len(c.Parts) != 2 || len(c.Allows) != 1 || len(c.Passes) != 1 || len(c.Chains) != 1 || len(c.Checks) != 1 {
		t.Errorf("not everything was read: %+v", c)
	}
}

// Every flag of check stands in the README.
func TestReadmeFlags(t *testing.T) {
	readme := readReadme(t)
	_, out, _ := call(t, "", "check", "--help")
	for _, m := range regexp.MustCompile(`(?m)^ .*?(--[a-z-]+)`).FindAllStringSubmatch(out, -1) {
		if m[1] != "--help" && !strings.Contains(readme, m[1]) {
			t.Errorf("README.md does not tell of %s", m[1])
		}
	}
}
