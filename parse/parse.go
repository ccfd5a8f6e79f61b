// Package parse reads a text scene of any known format into the scene model:
// it picks the format by content, then by name.
package parse

import (
	"bytes"
	"fmt"
	"path/filepath"
	"runtime/debug"
	"strings"

	"curvelint/parse/scene"
	"curvelint/parse/text"
)

// DefaultMaxBytes is the largest file that is read when the options name no
// other limit.
const DefaultMaxBytes = 1 << 30

// Parse reads the file called name, whose bytes are raw, and returns its
// scene, never nil. The format is picked by content, and by the extension of
// name when the content leaves it open. What is wrong with the file is in the
// scene's Problems; a file of no known format gives a scene without parts and
// one problem that says so. File 0 is raw, or its text in UTF-8 when raw is in
// UTF-16 or UTF-32.
func Parse(name string, raw []byte, o scene.ReadOptions) *scene.Scene {
	limit := o.MaxBytes
	if limit <= 0 {
		limit = DefaultMaxBytes
	}
	if len(raw) > limit {
		return failed(name, nil, "the file has %d bytes, more than the limit of %d; export fewer frames or split the shot", len(raw), limit)
	}
	src, decoded, err := text.Decode(raw)
	f := detect(name, src)
	if f == nil {
		return failed(name, src, "%s", unknown(src))
	}
	if len(bytes.TrimSpace(src)) == 0 {
		return failed(name, src, "the file is empty; export the shot again")
	}
	s := guard(f.parse, name, src, o)
	if decoded && len(s.Files) > 0 {
		s.Files[0].Decoded = true
	}
	if err != nil {
		end := uint32(len(src))
		s.Problems = append(s.Problems, scene.Problem{
			Kind: scene.PartialExport, Span: scene.Span{Start: end, End: end}, Message: err.Error()})
	}
	return s
}

// guard runs a parser. A fault in it must not end an editing session or hide
// the other files of a folder, so a panic becomes a problem of this file.
func guard(parse parseFunc, name string, src []byte, o scene.ReadOptions) (s *scene.Scene) {
	defer func() {
		if fault := recover(); fault != nil {
			s = failed(name, src, "%s", faultMessage("reading this file", fault))
			s.Problems[0].Kind = scene.Internal
		}
	}()
	return parse(name, src, o)
}

// faultMessage says that a step failed, by a panic that was just recovered from.
func faultMessage(step string, fault any) string {
	return fmt.Sprintf("%s failed by a fault of curvelint itself: %v (%s); please report it with the file", step, fault, FaultPlace(debug.Stack()))
}

// FaultPlace returns the file name and line where a panic arose, by the stack of
// whoever recovered from it.
func FaultPlace(stack []byte) string {
	_, below, _ := bytes.Cut(stack, []byte("\npanic("))
	lines := strings.Split(string(below), "\n")
	if len(lines) < 4 {
		return "place unknown"
	}
	place, _, _ := strings.Cut(strings.TrimSpace(lines[3]), " ")
	return filepath.Base(place)
}

// failed returns a scene with nothing but the one problem.
func failed(name string, src []byte, message string, args ...any) *scene.Scene {
	end := bytes.IndexAny(src, "\r\n")
	if end < 0 || end > 200 {
		end = min(len(src), 200)
	}
	var p scene.Problems
	p.Add(scene.Syntax, scene.Span{End: uint32(end)}, message, args...)
	return &scene.Scene{
		Files:         []*scene.File{{Path: name, Text: src}},
		Rate:          24,
		First:         0,
		Last:          -1,
		DefaultCamera: scene.NoPart,
		Problems:      p.List(),
	}
}

// Reread applies an edit of file 0 to a scene that Parse returned and reads
// again only what the edit touched, with the options of the first reading. It
// returns false, and nothing else of use but a Fault, when the whole file must be
// read again. Scenes of files in UTF-16 are never re-read.
func Reread(old *scene.Scene, e scene.Edit) (r scene.Reread, ok bool) {
	if old == nil || len(old.Files) == 0 || old.Files[0].Decoded {
		return scene.Reread{}, false
	}
	if e.Start < 0 || e.End < e.Start || e.End > len(old.Files[0].Text) {
		return scene.Reread{}, false
	}
	f := byName(old.Format)
	if f == nil || f.reread == nil {
		return scene.Reread{}, false
	}
	defer func() {
		if fault := recover(); fault != nil {
			r, ok = scene.Reread{Fault: &scene.Problem{
				Kind: scene.Internal, Message: faultMessage("reading the edited lines", fault)}}, false
		}
	}()
	return f.reread(old, e)
}

// Extensions returns the extensions of all formats, lower case and with their
// dot, in the order of the formats.
func Extensions() []string {
	var all []string
	for i := range formats {
		all = append(all, formats[i].extensions...)
	}
	return all
}

// unknown says in one line why src is of no known format and what would be.
func unknown(src []byte) string {
	what := "text of another kind"
	switch {
	case len(bytes.TrimSpace(src)) == 0:
		what = "nothing"
	case bytes.HasPrefix(src, []byte("PXR-USDC")):
		return "this is a binary USD layer, which has no lines to point at; save it as text (.usda)"
	case bytes.HasPrefix(src, []byte("glTF")):
		return "this is a binary glTF, which has no lines to point at; export it as .gltf"
	case bytes.HasPrefix(src, []byte("PK\x03\x04")):
		return "this is a zip archive (perhaps .usdz); unpack it and open the text scene inside"
	case bytes.HasPrefix(src, []byte{0x1F, 0x8B}):
		return "this is a gzip file; unpack it and open the text scene inside"
	case bytes.IndexByte(src[:min(len(src), 1024)], 0) >= 0:
		what = "binary data"
	}
	return fmt.Sprintf("expected a text scene (%s), found %s", strings.Join(Extensions(), ", "), what)
}
