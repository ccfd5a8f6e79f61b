package checks

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"curvelint/diagnostics/checks/kit"
)

var update = flag.Bool("update", false, "write the tables of checks in README.md anew")

// The marks between which README.md lists the checks.
const (
	tableBegin = "<!-- checks: written by go test ./diagnostics/checks -run Readme -update -->\n"
	tableEnd   = "<!-- end of checks -->\n"
)

// The README lists every check as the registry has it.
func TestReadmeTable(t *testing.T) {
	path := filepath.Join("..", "..", "README.md")
	readme, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	before, rest, ok := strings.Cut(string(readme), tableBegin)
	table, after, ok2 := strings.Cut(rest, tableEnd)
	if !ok || !ok2 {
		t.Fatalf("README.md has no place for the checks between %q and %q", tableBegin, tableEnd)
	}
	if table == readmeTable() {
		return
	}
	if !*update {
		t.Fatal("README.md does not list the checks as they are; run go test ./diagnostics/checks -run Readme -update")
	}
	if err := os.WriteFile(path, []byte(before+tableBegin+readmeTable()+tableEnd+after), 0o644); err != nil {
		t.Fatal(err)
	}
}

func readmeTable() string {
	var b strings.Builder
	group := kit.Group("")
	for _, c := range every() {
		if c.Group != group {
			group = c.Group
			fmt.Fprintf(&b, "\n**%s**\n\n| check | severity | finds |\n| --- | --- | --- |\n", group)
		}
		fmt.Fprintf(&b, "| `%s` | %s | %s |\n", c.ID, c.Severity, c.Title)
	}
	return b.String() + "\n"
}
