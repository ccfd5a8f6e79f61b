package fixes

import (
	"errors"
	"fmt"

	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/note"
	"curvelint/diagnostics/words"
	"curvelint/parse/scene"
)

// Edit replaces the text of a span; an empty span is a place to insert at.
type Edit struct {
	Span scene.Span
	Text string
}

// Fix is one way to mend what a note finds.
type Fix struct {
	// ID names the kind of fix: ease, offset-2, drift.
	ID    string
	Title string
	// Edits do not overlap. They are in the order of their places. There are
	// none where the format does not write the keys as text; only Numbers are
	// of use then.
	Edits []Edit
	// Refused says why the fix cannot be made here; Edits is then empty.
	Refused string
	// Before and After are the spacings a frame in the range of the fix, on
	// the track that it is about, when it is about spacing.
	Before, After []float64
	Unit          string // theirs, by its name in note.Measure
	// Numbers are what to retype in the animator's own package: the new
	// spacings, or the new values of keys.
	Numbers string
	// Preferred marks the fix that is usually right.
	Preferred bool
}

// errRefused is an error whose words are for the person: why a fix cannot be
// made.
type errRefused string

func (e errRefused) Error() string { return string(e) }

func refuse(format string, args ...any) error { return errRefused(fmt.Sprintf(format, args...)) }

// makers are the fixes for each check. A maker returns errNone when a fix makes
// no sense for the note or the format (with Numbers when those do), and a
// refusal when it would but for a reason that the person should know.
var makers = map[string][]func(*motion.Study, *note.Note) (Fix, error){
	"even-spacing": {ease},
	"same-frame":   {offset1, offset2, offset3},
	"frozen-hold":  {drift},
	"pop":          {smooth},
	"angle-flip":   {unwrap},
	"idle-key":     {removeIdle},
}

// errNone says that there is nothing to offer.
var errNone = errors.New("no fix")

// For returns the fixes of a note, refused ones included.
func For(s *motion.Study, n *note.Note) []Fix {
	var list []Fix
	for _, mend := range makers[n.Check] {
		f, err := mend(s, n)
		var why errRefused
		switch {
		case err == nil:
			list = append(list, f)
		case errors.As(err, &why):
			f.Refused, f.Edits = string(why), nil
			list = append(list, f)
		case f.Numbers != "":
			f.Edits = nil
			list = append(list, f)
		}
	}
	return list
}

// preview writes the first spacings of two rows: "4.70 4.70 4.70 ... becomes 2.41 3.90
// 5.12 ... degrees".
func (f *Fix) preview() string {
	return words.Row(f.Unit, f.Before, previewLength) + " becomes " + words.Row(f.Unit, f.After, previewLength) + " " + words.UnitName(f.Unit)
}

// previewLength is how many numbers of a row a title shows.
const previewLength = 6

// span writes frame indices as display frames: "frames 31-39".
func span(s *motion.Study, a, b int) string { return words.Span(s.Frame(a), s.Frame(b)) }
