package checks

import (
	"os"
	"strings"
	"testing"

	"curvelint/diagnostics/checks/kit"
)

// sections are what an animator finds in the document of every check that looks
// at motion.
var sections = []string{"**What it is.**", "**Why ", "**How to fix it.**", "**When to leave it.**", "**How it is found.**", "## Settings", "\nSource: "}

func TestDocumentsAreComplete(t *testing.T) {
	for _, c := range All {
		if c.Group == kit.Tool {
			continue
		}
		at := 0
		for _, s := range sections {
			if s == "## Settings" && len(c.Settings) == 0 {
				continue
			}
			i := strings.Index(c.Doc[at:], s)
			if i < 0 {
				t.Errorf("the document of %s lacks %q, or has it in another place", c.ID, strings.TrimSpace(s))
				break
			}
			at += i
		}
		found := 0
		for _, l := range strings.Split(c.Doc, "\n") {
			alt, file, ok := kit.PictureIn(l)
			if !ok {
				continue
			}
			found++
			if svg, err := os.ReadFile(c.Folder() + "/" + file); err != nil || len(svg) > 30_000 || !strings.Contains(string(svg), "<desc>") || len(alt) < 20 {
				t.Errorf("%s: a picture of %d bytes and the words %q, want at most 30 KB with a description: %v", file, len(svg), alt, err)
			}
			if text := c.Text(); strings.Contains(text, "](") || !strings.Contains(text, strings.Split(strings.TrimSuffix(alt, "."), kit.Dashed)[0]) {
				t.Errorf("%s: as a text the document should tell what its picture shows", c.ID)
			}
		}
		if found == 0 {
			t.Errorf("the document of %s has no picture; run go generate ./cmd/lab/corpus/pictures", c.ID)
		}
	}
}
