package diagnostics

import (
	"errors"
	"fmt"
	"runtime/debug"
	"sync/atomic"

	"curvelint/diagnostics/checks/tool"
	"curvelint/diagnostics/note"
	"curvelint/parse"
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
		fault = internalNote(step, fmt.Sprintf("%v (%s)", cause, parse.FaultPlace(debug.Stack())))
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

// Guard runs a step beside the judging of a scene, such as drawing it, that must
// not fail. A fault in it is an error with the words of an internal note.
func Guard(step string, do func()) error {
	if fault := guard(step, do); fault != nil {
		return errors.New(fault.Message)
	}
	return nil
}
