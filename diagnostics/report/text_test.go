package report

import (
	"strings"
	"testing"

	"curvelint/diagnostics/note"
	"curvelint/parse/scene"
)

// Where all keys of a channel are one place, as in a glTF buffer, a place is said
// once; what is there for another reason is said too.
func TestPlaceSaidOnce(t *testing.T) {
	at := scene.Span{Start: 24, End: 25}
	n := note.Note{Check: "same-frame", Severity: note.Warning, Message: "brows and lids change together", Span: at}
	for f := range 3 {
		n.Related = append(n.Related, note.Related{Span: at, First: float64(f), Last: float64(f), Message: "lids change here too"})
	}
	n.Related = append(n.Related, note.Related{Span: at, First: 1, Last: 1, Message: "to here"})
	got := write(t, "text", Options{}, &File{Path: files[0].Path, Notes: placed(files, []note.Note{n})})
	if strings.Count(got, "lids change here too") != 1 || strings.Count(got, "to here") != 1 {
		t.Error(got)
	}
}
