package checks

import (
	"os"
	"slices"
	"strings"
	"testing"
)

// sections are what an animator finds in the document of every check that looks
// at motion.
var sections = []string{"**What it is.**", "**Why ", "**How to fix it.**", "**When to leave it.**", "**How it is found.**", "## Settings", "\nSource: "}

// undrawn are checks whose flaw the corpus does not plant, so that there is no
// scene to draw.
var undrawn = []string{"lost-lead", "lockstep", "late-follow", "no-anticipation", "overshoot", "mixed-stepping", "uniform-drift",
	"sub-frame-key", "idle-key"}

func TestDocumentsAreComplete(t *testing.T) {
	for _, c := range All {
		if c.Group == Tool {
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
		alt, file, found := "", "", false
		for _, l := range strings.Split(c.Doc, "\n") {
			if a, ok := pictureWords(l); ok {
				alt, found = a, true
				_, file, _ = strings.Cut(strings.TrimSuffix(l, ")"), "](")
			}
		}
		if slices.Contains(undrawn, c.ID) {
			if found {
				t.Errorf("%s has a picture; strike it from undrawn", c.ID)
			}
			continue
		}
		if !found || len(alt) < 20 {
			t.Errorf("the document of %s has no picture, or no words for it; run go generate ./diagnostics/corpus/pictures", c.ID)
			continue
		}
		if svg, err := os.ReadFile(file); err != nil || len(svg) > 30_000 || !strings.Contains(string(svg), "<desc>") {
			t.Errorf("%s: a picture of %d bytes, want at most 30 KB with a description: %v", file, len(svg), err)
		}
		if text := c.Text(); strings.Contains(text, "](") || !strings.Contains(text, alt) {
			t.Errorf("%s: as a text the document should tell what its picture shows", c.ID)
		}
	}
}

func TestWithPicture(t *testing.T) {
	const doc = "# x: y\n\nWhat.\n\nWhy.\n\nHow.\n"
	const want = "# x: y\n\nWhat.\n\nWhy.\n\n![a (b) c](pictures/x.svg)\n\nHow.\n"
	got := WithPicture(doc, "pictures/x.svg", "a [b] c")
	if got != want {
		t.Errorf("got %q, want %q", got, want)
	}
	if got = WithPicture(got, "pictures/x.svg", "a (b) c"); got != want {
		t.Errorf("twice: got %q, want %q", got, want)
	}
}
