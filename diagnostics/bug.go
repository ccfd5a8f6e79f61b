package diagnostics

import (
	"fmt"
	"path/filepath"
	"runtime/debug"
	"strings"
	"sync/atomic"

	"curvelint/diagnostics/checks/tool"
	"curvelint/diagnostics/note"
	"curvelint/parse/scene"
)

var panicOnBugs atomic.Bool

// PanicOnBugs makes a fault of the tool end the program instead of becoming an
// internal note. Tests set it in TestMain, so that no fault hides in them.
func PanicOnBugs(on bool) { panicOnBugs.Store(on) }

// guard runs a step that must not fail and returns a note when it does.
func guard(step string, do func()) (fault *note.Note) {
	defer func() {
		cause := recover()
		if cause == nil {
			return
		}
		if panicOnBugs.Load() {
			panic(cause)
		}
		fault = internalNote(step, fmt.Sprintf("%v (%s)", cause, faultPlace(string(debug.Stack()))))
	}()
	do()
	return nil
}

// internalNote says on the whole file that a step failed.
func internalNote(step, cause string) *note.Note {
	return &note.Note{
		Check: tool.Internal, Severity: note.Error, First: 0, Last: -1,
		PartID: scene.NoPart, Channel: scene.NoChannel,
		Message: fmt.Sprintf("%s failed by a fault of curvelint itself: %s; please report it with the file", step, cause),
	}
}

// faultPlace returns the file name and line where a panic arose.
func faultPlace(stack string) string {
	_, below, _ := strings.Cut(stack, "\npanic(")
	lines := strings.Split(below, "\n")
	if len(lines) < 4 {
		return "place unknown"
	}
	place, _, _ := strings.Cut(strings.TrimSpace(lines[3]), " ")
	return filepath.Base(place)
}
