package parse

import (
	"encoding/binary"
	"reflect"
	"slices"
	"strings"
	"testing"
	"unicode/utf16"

	"curvelint/cmd/lab/scenetest"
	"curvelint/parse/scene"
)

const gull = "HIERARCHY\nROOT gull\n{\n\tOFFSET 0 0 0\n\tCHANNELS 1 Yrotation\n}\nMOTION\nFrames: 2\nFrame Time: 0.0416667\n1\n2\n"

func TestDetect(t *testing.T) {
	tests := []struct {
		name, src string
		format    string
	}{
		{"gull.bvh", gull, "bvh"},
		{"gull.txt", gull, "bvh"},
		{"gull", "\n\n" + gull, "bvh"},
		{"gull.csv", gull, "bvh"},
		{"gull.BVH", "ROOT gull", "bvh"},
		{"rope.csv", "frame,rope.tx\n1,2\n", "table"},
		{"-", "# twos\nFrame\trope.tx\n1\t2\n", "table"},
		{"-", "\"time\",\"rope.tx\"\n1,2\n", "table"},
		{"rope.tsv", "rope.tx\n1\n", "table"},
		{"winch.wrl", "#VRML V2.0 utf8\n", "x3d"},
		{"winch.txt", "#X3D V3.3 utf8\n", "x3d"},
		{"-", "<?xml version='1.0'?>\n<!-- winch --><!DOCTYPE X3D [<!ENTITY a \"b\">]>\n<X3D/>", "x3d"},
		{"winch.X3DV", "DEF Winch Transform {}", "x3d"},
		{"-", "frame\n1\n", ""},
		{"notes.txt", "Pull the rope on frame 12.\n", ""},
		{"empty", "", ""},
		{"scene.bvh", "PXR-USDC\x00\x00", ""},
	}
	for _, tt := range tests {
		s := Parse(tt.name, []byte(tt.src), scene.ReadOptions{})
		if s.Format != tt.format {
			t.Errorf("%s %.20q: format %q, want %q", tt.name, tt.src, s.Format, tt.format)
		}
		if len(s.Files) == 0 || s.Files[0].Path != tt.name || string(s.Files[0].Text) != tt.src {
			t.Errorf("%s %.20q: file 0 is not the file", tt.name, tt.src)
		}
	}
}

func TestUnknown(t *testing.T) {
	for src, want := range map[string]string{
		"":                                "found nothing",
		" \r\n\t":                         "found nothing",
		"Pull the rope.":                  "found text of another kind",
		"\x7fELF\x00\x01":                 "found binary data",
		"PXR-USDC\x00\x08":                "binary USD layer",
		"glTF\x02\x00\x00\x00":            "binary glTF",
		"PK\x03\x04 something.usda":       "zip archive",
		"\x1f\x8b\x08":                    "gzip file",
		strings.Repeat("x", 5000):         "found text of another kind",
		"some words, a comma\nand 1, 2\n": "found text of another kind",
	} {
		s := Parse("mystery", []byte(src), scene.ReadOptions{})
		if len(s.Problems) != 1 {
			t.Errorf("%.20q: problems %v, want one", src, s.Problems)
			continue
		}
		p := s.Problems[0]
		if p.Kind != scene.Syntax || !strings.Contains(p.Message, want) || strings.Contains(p.Message, "\n") {
			t.Errorf("%.20q: %s %q, want %q in it", src, p.Kind, p.Message, want)
		}
		if int(p.Span.End) > len(src) || s.Last >= s.First || s.DefaultCamera != scene.NoPart {
			t.Errorf("%.20q: span %v, frames %v to %v, camera %v", src, p.Span, s.First, s.Last, s.DefaultCamera)
		}
	}
	if s := Parse("mystery", nil, scene.ReadOptions{}); !strings.Contains(s.Problems[0].Message, ".bvh") {
		t.Errorf("%q names no extension to try", s.Problems[0].Message)
	}
	for _, ext := range Extensions() {
		if s := Parse("shot"+ext, []byte(" \n"), scene.ReadOptions{}); len(s.Problems) != 1 || !strings.Contains(s.Problems[0].Message, "the file is empty") {
			t.Errorf("empty %s: %v, want one problem that says so", ext, s.Problems)
		}
	}
}

func TestTooLarge(t *testing.T) {
	s := Parse("gull.bvh", []byte(gull), scene.ReadOptions{MaxBytes: 10})
	if len(s.Problems) != 1 || !strings.Contains(s.Problems[0].Message, "limit of 10") || len(s.Files[0].Text) > 0 {
		t.Errorf("%v, %d bytes kept", s.Problems, len(s.Files[0].Text))
	}
}

func TestUTF16(t *testing.T) {
	raw := []byte{0xFF, 0xFE}
	for _, u := range utf16.Encode([]rune(gull)) {
		raw = binary.LittleEndian.AppendUint16(raw, u)
	}
	s := Parse("gull.bvh", raw, scene.ReadOptions{})
	if !s.Files[0].Decoded || string(s.Files[0].Text) != gull || len(s.Problems) > 0 || len(s.Channels) != 1 {
		t.Errorf("decoded %v, problems %v", s.Files[0].Decoded, s.Problems)
	}
	if _, ok := Reread(s, scene.Edit{Start: len(gull) - 2, End: len(gull) - 1, New: []byte("3")}); ok {
		t.Error("a decoded file was read again in part")
	}
	s = Parse("gull.bvh", append(raw, 'x'), scene.ReadOptions{})
	if n := len(s.Problems); n != 1 || s.Problems[0].Kind != scene.PartialExport || len(s.Channels) != 1 {
		t.Errorf("with half a character at the end: %v", s.Problems)
	}
}

func TestReread(t *testing.T) {
	src := strings.Replace(gull, "Frames: 2", "Frames: 4", 1) + "3\n4\n"
	s := Parse("gull.bvh", []byte(src), scene.ReadOptions{})
	at := strings.LastIndex(src, "3\n")
	r, ok := Reread(s, scene.Edit{Start: at, End: at + 1, New: []byte("30")})
	if !ok || !reflect.DeepEqual(r.Changed, []scene.ChannelID{0}) || r.Scene.Channels[0].Curve.Values[2] != 30 {
		t.Errorf("%v, changed %v", ok, r.Changed)
	}
	for _, e := range []scene.Edit{{Start: -1}, {Start: 5, End: 4}, {Start: 0, End: len(src) + 1}} {
		if _, ok := Reread(s, e); ok {
			t.Errorf("edit %v outside the text was applied", e)
		}
	}
	if _, ok := Reread(nil, scene.Edit{}); ok {
		t.Error("no scene was read again")
	}
}

// TestGuard: a fault in a parser is a problem of the one file, with the place
// of the fault.
func TestGuard(t *testing.T) {
	s := guard(func(string, []byte, scene.ReadOptions) *scene.Scene {
		var none []int
		_ = none[len(none)]
		return nil
	}, "gull.bvh", []byte(gull), scene.ReadOptions{})
	if len(s.Problems) != 1 || s.Problems[0].Kind != scene.Internal || !strings.Contains(s.Problems[0].Message, "parse_test.go:") {
		t.Errorf("%v", s.Problems)
	}
}

// A fault in re-reading sends the caller to the whole file, and is told.
func TestFaultOfReread(t *testing.T) {
	old := formats
	formats = slices.Clone(formats)
	defer func() { formats = old }()
	for i := range formats {
		formats[i].reread = func(*scene.Scene, scene.Edit) (scene.Reread, bool) { panic("rope") }
	}
	r, ok := Reread(Parse("gull.bvh", []byte(gull), scene.ReadOptions{}), scene.Edit{New: []byte(" ")})
	if ok || r.Fault == nil || r.Fault.Kind != scene.Internal || !strings.Contains(r.Fault.Message, "rope (parse_test.go:") {
		t.Errorf("ok %v, fault %+v", ok, r.Fault)
	}
}

func TestRootElement(t *testing.T) {
	for src, want := range map[string]string{
		"<COLLADA>":                                                  "COLLADA",
		"<?xml version='1.0'?>\n<X3D a=''>":                          "X3D",
		"<!-- <X3D> --><!-- --> <COLLADA/>":                          "COLLADA",
		"<!DOCTYPE X3D PUBLIC \"a\" \"b\"><X3D>":                     "X3D",
		"<!DOCTYPE x [<!ENTITY a \"b\">]><dae:COLLADA xmlns:dae=''>": "COLLADA",
		"<": "", "<?": "", "<!--": "", "<!DOCTYPE [": "", "<!DOCTYPE": "", "x": "",
	} {
		if got := rootElement([]byte(src)); got != want {
			t.Errorf("%s: %q, want %q", src, got, want)
		}
	}
}

func FuzzParse(f *testing.F) {
	f.Add("gull.bvh", []byte(gull))
	f.Add("rope.csv", []byte("frame,rope.tx\n1,2\n"))
	f.Add("a.usda", []byte("#usda 1.0\n"))
	f.Add("a.dae", []byte("<COLLADA/>"))
	f.Add("a.x3dv", []byte("#X3D V3.3 utf8\n"))
	f.Add("a.gltf", []byte(`{"asset":{"version":"2.0"}}`))
	f.Fuzz(func(t *testing.T, name string, raw []byte) {
		s := Parse(name, raw, scene.ReadOptions{})
		if err := scenetest.Check(s); err != nil {
			t.Fatal(err)
		}
	})
}
