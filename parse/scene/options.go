package scene

import "slices"

// ReadOptions are what a parser is told besides the bytes.
type ReadOptions struct {
	// Rate overrides the file's frames per second; 0 keeps the file's.
	Rate float64
	// Clip chooses one of several animation clips by name; "" the first.
	Clip string
	// Open reads a file that the scene names (a layer, a buffer), given the
	// path of the file that names it. It returns the path under which the
	// file shall be known. It refuses files outside the workspace with an
	// error that says so. A nil Open reads nothing: every named file is then
	// a missing-file problem.
	Open func(from, name string) (path string, text []byte, err error)
	// MaxBytes bounds the size of one file (default 1 GiB when 0) and
	// MaxDepth the nesting of blocks (default 256 when 0).
	MaxBytes int
	MaxDepth int
}

// Edit replaces the bytes [Start, End) of file 0 by New.
type Edit struct {
	Start, End int
	New        []byte
	// Text is the whole text after the edit where it has been made already,
	// so that a large one is not made again; else nil.
	Text []byte
}

// After returns the whole text after the edit, which was before until then.
func (e *Edit) After(before []byte) []byte {
	if e.Text != nil {
		return e.Text
	}
	return slices.Concat(before[:e.Start], e.New, before[e.End:])
}

// Reread is what re-reading part of a scene after an edit gives.
type Reread struct {
	Scene *Scene
	// Changed are the channels whose keys changed. Parts, ops, channels and
	// files have the same ids as in the old scene.
	Changed []ChannelID
	// Parts are the parts of which a static value changed, in their Ops. One in
	// whose place channels stand at all times need not be among them.
	Parts []PartID
	// Fault is what failed by a fault of the reader itself, so that the whole
	// file must be read again; nil when nothing did.
	Fault *Problem
}
