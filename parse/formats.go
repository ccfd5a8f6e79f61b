package parse

import (
	"bytes"
	"path/filepath"
	"slices"
	"strings"

	"curvelint/parse/bvh"
	"curvelint/parse/collada"
	"curvelint/parse/gltf"
	"curvelint/parse/scene"
	"curvelint/parse/table"
	"curvelint/parse/usda"
	"curvelint/parse/x3d"
)

type (
	parseFunc  = func(name string, src []byte, o scene.ReadOptions) *scene.Scene
	rereadFunc = func(old *scene.Scene, e scene.Edit) (scene.Reread, bool)
)

// format is what the package knows of one file format.
type format struct {
	name       string   // Scene.Format
	extensions []string // lower case, with the dot
	// is reports whether a text is of this format, by its beginning without
	// byte-order mark and white space.
	is     func(head []byte) bool
	parse  parseFunc
	reread rereadFunc // nil when the format is always read whole
}

// formats are all formats, the one place that knows them. To add one, write
// its package and add a line. Those that are surest of their content stand
// first; detection asks in this order.
var formats = []format{
	{name: "usda", extensions: []string{".usda", ".usd"}, is: hasPrefix("#usda", "#sdf"), parse: usda.Parse, reread: usda.Reread},
	{name: "bvh", extensions: []string{".bvh"}, is: hasPrefix("hierarchy"), parse: bvh.Parse, reread: bvh.Reread},
	{name: "gltf", extensions: []string{".gltf"}, is: isJSONScene, parse: gltf.Parse, reread: gltf.Reread},
	{name: "collada", extensions: []string{".dae"}, is: isXML("COLLADA"), parse: collada.Parse, reread: collada.Reread},
	{name: "x3d", extensions: []string{".x3d", ".x3dv", ".wrl"}, is: isX3D, parse: x3d.Parse, reread: x3d.Reread},
	{name: "table", extensions: []string{".csv", ".tsv"}, is: isTable, parse: table.Parse, reread: table.Reread},
}

// headSize is how many bytes detection looks at.
const headSize = 64 << 10

// detect returns the format of a text, nil if none.
func detect(name string, src []byte) *format {
	head := bytes.TrimPrefix(src, []byte("\uFEFF"))
	head = bytes.TrimLeft(head[:min(len(head), headSize)], " \t\r\n")
	for i := range formats {
		if formats[i].is(head) {
			return &formats[i]
		}
	}
	if isBinary(src) {
		return nil
	}
	return byExtension(filepath.Ext(name))
}

// isBinary reports whether src begins like a file that is no text at all, so
// that its extension means nothing.
func isBinary(src []byte) bool {
	return bytes.IndexByte(src[:min(len(src), 1024)], 0) >= 0 ||
		bytes.HasPrefix(src, []byte("PK\x03\x04")) || bytes.HasPrefix(src, []byte{0x1F, 0x8B})
}

func byExtension(ext string) *format {
	ext = strings.ToLower(ext)
	for i := range formats {
		if slices.Contains(formats[i].extensions, ext) {
			return &formats[i]
		}
	}
	return nil
}

func byName(name string) *format {
	for i := range formats {
		if formats[i].name == name {
			return &formats[i]
		}
	}
	return nil
}

// hasPrefix returns a test for texts that begin with one of the prefixes, in
// any case.
func hasPrefix(prefixes ...string) func([]byte) bool {
	return func(head []byte) bool {
		for _, p := range prefixes {
			if len(head) >= len(p) && strings.EqualFold(string(head[:len(p)]), p) {
				return true
			}
		}
		return false
	}
}

// isX3D reports whether a text is X3D in XML or in Classic VRML, or VRML97.
func isX3D(head []byte) bool {
	return hasPrefix("#vrml v", "#x3d v")(head) || rootElement(head) == "X3D"
}

// isXML returns a test for XML documents whose root element has the given
// name, with any namespace prefix.
func isXML(root string) func([]byte) bool {
	return func(head []byte) bool { return rootElement(head) == root }
}

// rootElement returns the local name of the root element of an XML document,
// "" if head holds none. It skips declarations, comments and a document type.
func rootElement(head []byte) string {
	for len(head) > 1 && head[0] == '<' {
		switch {
		case bytes.HasPrefix(head, []byte("<!--")):
			head = after(head, "-->")
		case head[1] == '?':
			head = after(head, "?>")
		case head[1] == '!':
			head = afterDoctype(head)
		default:
			name := head[1:]
			if n := bytes.IndexAny(name, " \t\r\n/>"); n >= 0 {
				name = name[:n]
			}
			return string(name[bytes.IndexByte(name, ':')+1:])
		}
		head = bytes.TrimLeft(head, " \t\r\n")
	}
	return ""
}

func after(b []byte, mark string) []byte {
	_, rest, _ := bytes.Cut(b, []byte(mark))
	return rest
}

// afterDoctype skips a document type with its internal subset in brackets.
func afterDoctype(b []byte) []byte {
	if n := bytes.IndexAny(b, "[>"); n >= 0 && b[n] == '[' {
		b = after(b, "]")
	}
	return after(b, ">")
}

// isJSONScene reports whether a text is a JSON object that begins like a
// glTF: with an "asset" among its members, or one of the other members that
// only glTF has.
func isJSONScene(head []byte) bool {
	if len(head) == 0 || head[0] != '{' {
		return false
	}
	for _, key := range []string{`"asset"`, `"accessors"`, `"bufferViews"`, `"extensionsUsed"`} {
		if bytes.Contains(head, []byte(key)) {
			return true
		}
	}
	return false
}

// isTable reports whether the first line that is no comment is the header of a
// table: several columns, the first called frame or time.
func isTable(head []byte) bool {
	for len(head) > 0 && head[0] == '#' {
		n := bytes.IndexAny(head, "\r\n")
		if n < 0 {
			return false
		}
		head = bytes.TrimLeft(head[n:], " \t\r\n")
	}
	n := bytes.IndexAny(head, ",\t\r\n;")
	if n < 0 || head[n] == '\r' || head[n] == '\n' {
		return false
	}
	first := strings.ToLower(strings.Trim(string(head[:n]), ` "`))
	return first == "frame" || first == "time"
}
