package pictures

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"curvelint/cmd/lab/corpus"
	"curvelint/diagnostics/checks"
)

// title is what a picture is of, without names and numbers.
var title = regexp.MustCompile(`<title>.*?( spacing| arc| timeline| and its|, frames)`)

// Every flaw that the corpus plants can be drawn, with its note marked, and the
// pictures in the documents are of the same kind. (Which scene was drawn may
// change with the corpus; go generate draws them anew.)
func TestPicturesOfTheCorpus(t *testing.T) {
	for _, check := range Checks() {
		t.Run(check, func(t *testing.T) {
			t.Parallel()
			p, err := Draw(t.Context(), check)
			if err != nil {
				t.Fatal(err)
			}
			onDisk, err := os.ReadFile(filepath.Join("../../../../diagnostics/checks", checks.Find(check).Folder(), p.File()))
			if err != nil {
				t.Fatalf("%v; run go generate ./cmd/lab/corpus/pictures", err)
			}
			for _, svg := range [][]byte{p.SVG, onDisk} {
				if !bytes.Contains(svg, []byte(">"+check+"<")) {
					t.Error("the note is not marked in the picture")
				}
				if len(svg) > 30_000 {
					t.Errorf("%d bytes are too many for a small picture", len(svg))
				}
			}
			if is, was := title.FindSubmatch(p.SVG), title.FindSubmatch(onDisk); is == nil || was == nil || !bytes.Equal(is[1], was[1]) {
				t.Errorf("drawn again it is %s, not %s; run go generate ./cmd/lab/corpus/pictures", is, was)
			}
			if !strings.Contains(checks.Find(check).Doc, "]("+p.File()+")") {
				t.Error("the document does not show its picture; run go generate ./cmd/lab/corpus/pictures")
			}
		})
	}
}

// Every note of a scene that is about frames can be looked at.
func TestNotes(t *testing.T) {
	c, err := corpus.Make("hitch", 0, true)
	if err != nil {
		t.Fatal(err)
	}
	r := study(t.Context(), &c)
	drawings := Notes(r)
	for i := range r.Notes {
		name := fmt.Sprintf("%02d-%s-", i+1, r.Notes[i].Check)
		if !slices.ContainsFunc(drawings, func(d Drawing) bool { return strings.HasPrefix(d.Name, name) && len(d.PNG) > 0 }) {
			t.Errorf("%s is not drawn", r.Notes[i].Message)
		}
	}
}
