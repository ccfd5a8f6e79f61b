// Package scene is the model that every parser fills and everyone else reads:
// the parts of an animated scene in topological order, their transform stacks,
// and their animation as columns of keys that remember where in which file
// they were written.
//
// A Scene is immutable once its parser has returned it. Readers may share it
// between goroutines; a re-read after an edit makes a new Scene that may share
// columns with the old one.
//
// Conventions: matrices act on column vectors; times are display frames
// (float64, may be fractional); angles are degrees unless a name says
// otherwise; lengths are scene units.
package scene

// FileID is an index into Scene.Files. File 0 is the file that was opened.
type FileID int32

// File is one text that contributed to a scene.
type File struct {
	// Path is how the caller named the file: a path with the separators of
	// the operating system, or the name given for standard input.
	Path string
	// Text is the file's bytes as read, byte-order mark included. Spans are
	// offsets into it. Files in UTF-16 are decoded to UTF-8 before parsing
	// and Decoded is set; spans then refer to the decoded text.
	Text []byte
	// Decoded is true when Text is not byte for byte what lies on disk.
	Decoded bool
	// Missing is true for a file that a scene names but that was not read.
	Missing bool
	// Away is the length of a text that was put away, 0 while Text is there.
	Away int
}

// PutAway lets go of the text of a file, to save memory while only the motion
// is needed. Spans of keys are open until the text is there again: see
// Scene.Closed. Whoever calls it must be the only one to use the scene.
func (f *File) PutAway() { f.Text, f.Away = nil, len(f.Text) }

// Restore gives the file its text back, which must be the one that was put away.
func (f *File) Restore(text []byte) { f.Text, f.Away = text, 0 }

// Span is a range of bytes [Start, End) in one file.
type Span struct {
	File       FileID
	Start, End uint32
}

// Empty reports whether the span holds no byte.
func (s Span) Empty() bool { return s.End <= s.Start }

// Axis names a coordinate axis.
type Axis uint8

// The three axes, for Scene.Up.
const (
	AxisY Axis = iota // the zero value: most formats default to Y up
	AxisZ
	AxisX
)

// String returns "X", "Y" or "Z".
func (a Axis) String() string { return [...]string{"Y", "Z", "X"}[a%3] }

// Scene is one animated scene: what one opened file and the files it names say.
type Scene struct {
	// Format is the short name of the format: usda, bvh, gltf, collada, x3d, table.
	Format string
	Files  []*File

	// Rate is the number of frames in a second, snapped to a standard rate
	// where the file's own digits allow it (see SnapRate).
	Rate float64
	// RateKnown is false when the file says nothing and Rate is a default or
	// a guess from the keys.
	RateKnown bool
	// First and Last are the range of the shot in display frames: what the
	// file declares, else the range of its keys. Last < First for a scene
	// without animation.
	First, Last float64
	// RangeKnown is true when the file itself declares the range.
	RangeKnown bool

	// MetersPerUnit is the length of one scene unit in metres; 0 if unknown.
	MetersPerUnit float64
	Up            Axis
	// DefaultCamera is the part of the camera that the file marks as the
	// shot's, or NoPart.
	DefaultCamera PartID

	// Parts are in topological order: a parent stands before its children.
	Parts    []Part
	Channels []Channel
	Cameras  []Camera

	// Clip is the name of the animation clip shown, for formats that hold
	// several; OtherClips are the names of those not shown.
	Clip       string
	OtherClips []string

	Problems []Problem

	// Allows are the allowances written as comments in the files, in the
	// order of the files and of the places in them.
	Allows []Allow
}

// ProblemKind is the check id under which a problem is reported.
type ProblemKind string

// The kinds of problems a parser reports.
const (
	Syntax        ProblemKind = "syntax"         // error: the text breaks the format's grammar or rules
	Unsupported   ProblemKind = "unsupported"    // information: a construct that is skipped, with what that leaves out
	MissingFile   ProblemKind = "missing-file"   // warning: a named file that could not be read
	PartialExport ProblemKind = "partial-export" // warning: the file ends early or holds less than it claims
	Surplus       ProblemKind = "surplus"        // warning: the file holds more than it claims
	Internal      ProblemKind = "internal"       // error: a fault of the reader itself, not of the file
)

// Problem is something wrong with a file, at its place. Message says what was
// expected and what to do, in one line without a trailing full stop.
type Problem struct {
	Kind    ProblemKind
	Span    Span
	Message string
}

// MaxProblems bounds how many problems a parser keeps for one file; the last
// one kept says how many more there were.
const MaxProblems = 100

// Children returns for each part the ids of its children, in order.
func (s *Scene) Children() [][]PartID {
	count := make([]int32, len(s.Parts))
	for i := range s.Parts {
		if p := s.Parts[i].Parent; p != NoPart {
			count[p]++
		}
	}
	children := make([][]PartID, len(s.Parts))
	backing := make([]PartID, len(s.Parts))
	for i, n := range count {
		children[i] = backing[:0:n]
		backing = backing[n:]
	}
	for i := range s.Parts {
		if p := s.Parts[i].Parent; p != NoPart {
			children[p] = append(children[p], PartID(i))
		}
	}
	return children
}

// Find returns the part with the given path, or NoPart.
func (s *Scene) Find(path string) PartID {
	for i := range s.Parts {
		if s.Parts[i].Path == path {
			return PartID(i)
		}
	}
	return NoPart
}
