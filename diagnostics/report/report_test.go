package report

import (
	"bytes"
	"encoding/json"
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"curvelint/diagnostics"
	"curvelint/diagnostics/config"
	"curvelint/diagnostics/note"
	"curvelint/parse/scene"

	"github.com/google/go-cmp/cmp"
)

var update = flag.Bool("update", false, "write the golden files anew")

func TestMain(m *testing.M) {
	diagnostics.PanicOnBugs(true)
	os.Exit(m.Run())
}

// files are the texts of an invented shot in two layers; one has a character
// of two bytes, one of four, and carriage returns.
var files = []*scene.File{
	{Path: filepath.Join("shots", "tug.usda"), Text: []byte("#usda 1.0\r\n# M\u00f6we \U0001F426 x\r\nhead 1 2\r\n")},
	{Path: "deck layer.usda", Text: []byte("def deck\n")},
}

func invented() []note.Note {
	return []note.Note{
		{Check: "syntax", Severity: note.Error, First: 0, Last: -1, Message: "expected a value, found \"}\"",
			Span: scene.Span{Start: 0, End: 5}},
		{Check: "still-blocked", Severity: note.Warning, Weight: 0.8000000001, Part: "/Tug/hips/chest/head", First: 31, Last: 39,
			Span: scene.Span{Start: 24, End: 25}, Message: "frames 31-39: head travels evenly",
			Measures: []note.Measure{{Name: "spacing", Value: 0.02123456789, Unit: "figure"}},
			Related: []note.Related{
				{Span: scene.Span{Start: 32, End: 33}, Part: "/Tug/hips/chest/head", First: 39, Last: 39, Message: "to here"},
				{Span: scene.Span{File: 1, Start: 4, End: 8}, Part: "/Deck", First: 31.5, Last: 31.5, Message: "carried by this"},
			}},
		{Check: "unused-allow", Severity: note.Hint, First: 40, Last: 40, Part: "/Deck", Span: scene.Span{File: 1, Start: 0, End: 8},
			Message: "bad name \x1b[31m\n\u202e\xff", Tags: []note.Tag{note.Unnecessary}},
	}
}

func inventedFile() *File {
	return &File{Path: files[0].Path, Format: "usda", FPS: 24, Frames: frames(1, 96), Figures: 1, Parts: 14, Notes: placed(files, invented())}
}

func write(t *testing.T, format string, o Options, list ...*File) string {
	t.Helper()
	var b bytes.Buffer
	w, err := New(format, &b, o)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range list {
		if err := w.File(f); err != nil {
			t.Fatal(err)
		}
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func golden(t *testing.T, name, got string) {
	t.Helper()
	path := filepath.Join("testdata", name)
	if *update {
		if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(string(want), got); d != "" {
		t.Errorf("%s differs; if that is meant, run go test with -update\n%s", path, d)
	}
}

func TestGolden(t *testing.T) {
	empty := &File{Path: "empty.bvh", Format: "bvh", FPS: 120, Parts: 1, Notes: []Note{}}
	golden(t, "report.txt", write(t, "text", Options{}, inventedFile(), empty))
	golden(t, "report.color.txt", write(t, "text", Options{Color: true}, inventedFile()))
	golden(t, "report.json", write(t, "json", Options{}, inventedFile(), empty))
	golden(t, "none.json", write(t, "json", Options{}))
}

func TestUnknownFormat(t *testing.T) {
	if _, err := New("yaml", nil, Options{}); err == nil || !strings.Contains(err.Error(), "sarif") {
		t.Errorf("error %v", err)
	}
}

// The names and shapes are those that programs rely on.
func TestJSONForm(t *testing.T) {
	var form struct {
		Version int
		Files   []map[string]any
	}
	if err := json.Unmarshal([]byte(write(t, "json", Options{}, inventedFile())), &form); err != nil {
		t.Fatal(err)
	}
	if form.Version != 1 {
		t.Errorf("version %d", form.Version)
	}
	n := form.Files[0]["notes"].([]any)[1].(map[string]any)
	related := n["related"].([]any)[0].(map[string]any)
	want := map[string]any{
		"check": "still-blocked", "severity": "warning", "weight": 0.8, "path": files[0].Path, "part": "/Tug/hips/chest/head",
		"frames": []any{31.0, 39.0}, "start": map[string]any{"line": 2.0, "column": 14.0}, "end": map[string]any{"line": 2.0, "column": 15.0},
		"message":  "frames 31-39: head travels evenly",
		"measures": []any{map[string]any{"name": "spacing", "value": 0.0212346, "unit": "figure"}},
		"related":  n["related"],
	}
	if d := cmp.Diff(want, n); d != "" {
		t.Error(d)
	}
	wantRelated := map[string]any{"path": files[0].Path, "part": "/Tug/hips/chest/head", "frames": []any{39.0, 39.0},
		"start": map[string]any{"line": 3.0, "column": 6.0}, "end": map[string]any{"line": 3.0, "column": 7.0}, "message": "to here"}
	if d := cmp.Diff(wantRelated, related); d != "" {
		t.Error(d)
	}
}

func TestSummary(t *testing.T) {
	var s Summary
	spline, polish, clean := inventedFile(), inventedFile(), inventedFile()
	spline.Path, polish.Path, clean.Path = "a_spline.usda", "a_polish.usda", "b.usda"
	polish.Notes = polish.Notes[2:]
	clean.Notes = nil
	s.Add(polish, "a_spline.usda")
	s.Add(spline, "")
	s.Add(clean, "other.usda")
	var b bytes.Buffer
	if err := s.Write(&b); err != nil {
		t.Fatal(err)
	}
	want := `a_polish.usda: 1 note (1 hint), down from 3 in a_spline.usda
a_spline.usda: 3 notes (1 error, 1 warning, 1 hint)
b.usda: no notes
3 files, 2 with notes: 4 notes (1 error, 1 warning, 2 hints)
`
	if d := cmp.Diff(want, b.String()); d != "" {
		t.Error(d)
	}
	if !s.Reaches(note.Error) || !s.Reaches(note.Hint) || s.Reaches(note.Off) {
		t.Error("Reaches is wrong")
	}
}

func TestSummaryOfMany(t *testing.T) {
	var s Summary
	for i := range 100 {
		f := inventedFile()
		if i != 77 {
			f.Notes = nil
		}
		s.Add(f, "")
	}
	var b bytes.Buffer
	if err := s.Write(&b); err != nil {
		t.Fatal(err)
	}
	if n := strings.Count(b.String(), "\n"); n != 2 {
		t.Errorf("%d lines, want one for the file with notes and the total:\n%s", n, &b)
	}
}

func TestOfResultAndConfig(t *testing.T) {
	sc := &scene.Scene{Format: "bvh", Files: files[1:], Rate: 30, First: 0, Last: -1, DefaultCamera: scene.NoPart}
	cfg := config.Parse("curvelint.toml", []byte("\nfsp = 1\n"), diagnostics.Schema())
	r := diagnostics.Judge{Config: cfg}.Scene(t.Context(), sc)
	f := OfResult(r, r.Notes)
	if f.Path != "deck layer.usda" || f.Format != "bvh" || f.FPS != 30 || f.Frames != nil || f.Notes == nil {
		t.Errorf("%+v", f)
	}
	c := OfConfig(cfg, diagnostics.ConfigNotes(cfg))
	if len(c.Notes) != 1 || c.Notes[0].Start != (Place{2, 1, 1}) || c.Notes[0].Path != "curvelint.toml" {
		t.Errorf("%+v", c)
	}
}

func FuzzVisible(f *testing.F) {
	f.Add("a\x1b[31mb\u202e\xff\n")
	f.Fuzz(func(t *testing.T, s string) {
		for _, r := range visible(s) {
			if !shown(r) {
				t.Errorf("%q shows %q", s, r)
			}
		}
	})
}
