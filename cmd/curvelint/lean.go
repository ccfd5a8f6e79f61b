package main

import (
	"context"
	"hash/maphash"
	"os"
	"runtime"
	"runtime/debug"

	"curvelint/diagnostics"
	"curvelint/diagnostics/report"
	"curvelint/parse/scene"
)

// largeFile is the size in bytes from which a file is checked with little
// memory: without its text, which is read a second time for the lines of the
// notes.
var largeFile = 4 << 20

// largePercent is how much the heap may grow between collections when large
// files are checked. Scenes are few large blocks without pointers, so that
// collections cost next to nothing.
const largePercent = 12

// lean has little memory wasted while large files are checked, unless the
// person who runs the program has said otherwise. It returns what undoes it.
func lean(inputs []input) (undo func()) {
	if os.Getenv("GOGC") != "" {
		return func() {}
	}
	for i := range inputs {
		if inputs[i].size >= int64(largeFile) {
			old := debug.SetGCPercent(largePercent)
			return func() { debug.SetGCPercent(old) }
		}
	}
	return func() {}
}

// mayPutAway reports whether the text of a file can be read again when its
// notes are known, and is not needed before.
func (k *checker) mayPutAway(in input, sc *scene.Scene) bool {
	return !in.stdin && k.options.before == "" && k.options.format != htmlFormat && len(sc.Files) > 0 && !sc.Files[0].Decoded && len(sc.Files[0].Text) >= largeFile
}

var fingerprints = maphash.MakeSeed()

func fingerprint(raw []byte) uint64 { return maphash.Bytes(fingerprints, raw) }

// checkLean checks a scene whose text it puts away until the notes are there.
// It returns false, and leaves the outcome as it was, when the file is no longer
// the one that sum is the fingerprint of.
func (k *checker) checkLean(ctx context.Context, out *outcome, sc *scene.Scene, sum uint64) bool {
	sc.Files[0].PutAway()
	runtime.GC() // the study takes the text's place
	r := k.judge(ctx, sc, out.config)
	notes := diagnostics.Worst(r.Notes, k.options.worst)
	file := report.OfResult(r, nil)
	done := *out
	done.found(r)
	if len(notes) > 0 {
		files := sc.Files
		// The scene and its study are done with: their memory is the text's.
		r, sc = nil, nil
		debug.FreeOSMemory()
		raw, err := out.input.read(nil)
		if err != nil || fingerprint(raw) != sum {
			return false
		}
		files[0].Restore(raw)
		diagnostics.CloseSpans(files, notes)
		file.Notes = report.Placed(&scene.Scene{Files: files}, notes)
	}
	done.file = file
	*out = done
	return true
}
