package chart

import (
	"bytes"
	"context"
	"encoding/xml"
	"flag"
	"image/png"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"curvelint/diagnostics"
	"curvelint/diagnostics/config"
	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/note"
	"curvelint/parse"
	"curvelint/parse/scene"
)

var update = flag.Bool("update", false, "write the golden pictures anew")

const demo = "../../testdata/demo"

// judge studies and judges a demo shot.
func judge(t testing.TB, name string) (*motion.Study, []note.Note) {
	t.Helper()
	path := filepath.Join(demo, name)
	raw, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	finder := config.Finder{Schema: diagnostics.Schema()}
	c, err := finder.For(path)
	if err != nil {
		t.Fatal(err)
	}
	r := diagnostics.Judge{Config: c}.Scene(context.Background(), diagnostics.Read(path, raw, c, parse.OpenWithin(demo)))
	return r.Study, r.Notes
}

type drawFunc = func(*motion.Study, scene.PartID, float64, float64, Options) ([]byte, error)

const head = "/Tug/hips/spine/chest/neck/head"

var kinds = []struct {
	name, part  string
	first, last float64
	draw        drawFunc
}{
	{"spacing", head, 1028, 1052, Spacing},
	{"arc", head + "/../../clav_l/upperarm_l/forearm_l/hand_l", 1001, 1012, Arc},
	{"timeline", "/Tug", 1001, 1096, Timeline},
	{"speed", head, 1028, 1052, Speed},
	{"keys", head, 1028, 1052, Keys},
}

func part(t testing.TB, s *motion.Study, path string) scene.PartID {
	t.Helper()
	p := s.Scene.Find(filepath.ToSlash(filepath.Clean(path)))
	if p == scene.NoPart {
		t.Fatalf("no part %s", path)
	}
	return p
}

// Every kind of chart, at page size, at hover size in dark, and with an earlier
// pass. The goldens are looked at before they are committed.
func TestGolden(t *testing.T) {
	spline, notes := judge(t, "deckhand_spline.usda")
	polish, _ := judge(t, "deckhand_polish.usda")
	for _, k := range kinds {
		for _, tt := range []struct {
			name  string
			study *motion.Study
			o     Options
		}{
			{"page", spline, Options{Notes: notes}},
			{"hover-dark", spline, Options{Notes: notes, Width: 320, Height: 180, Dark: true}},
			{"least", spline, Options{Notes: notes, Width: 200, Height: 130}},
			{"passes", polish, Options{Before: spline, Width: 480, Height: 270}},
		} {
			got, err := k.draw(tt.study, part(t, tt.study, k.part), k.first, k.last, tt.o)
			if err != nil {
				t.Fatalf("%s %s: %v", k.name, tt.name, err)
			}
			again, _ := k.draw(tt.study, part(t, tt.study, k.part), k.first, k.last, tt.o)
			if !bytes.Equal(got, again) {
				t.Errorf("%s %s: drawn twice, two pictures", k.name, tt.name)
			}
			golden := filepath.Join("testdata", k.name+"-"+tt.name+".svg")
			if *update {
				if err := os.WriteFile(golden, got, 0o644); err != nil {
					t.Fatal(err)
				}
			}
			want, err := os.ReadFile(golden)
			if err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff(string(want), string(got)); diff != "" {
				t.Errorf("%s (-update writes it anew):\n%.2000s", golden, diff)
			}
		}
	}
}

// texts returns the character data of an SVG's texts, and fails unless the file
// is well-formed XML.
func texts(t *testing.T, svg []byte) []string {
	t.Helper()
	d := xml.NewDecoder(bytes.NewReader(svg))
	var out []string
	for inside := false; ; {
		tok, err := d.Token()
		if err == io.EOF {
			return out
		}
		if err != nil {
			t.Fatalf("not well-formed: %v", err)
		}
		switch tok := tok.(type) {
		case xml.StartElement:
			inside = tok.Name.Local == "text" || tok.Name.Local == "title"
		case xml.EndElement:
			inside = false
		case xml.CharData:
			if inside {
				out = append(out, string(tok))
			}
		}
	}
}

// Text is text: a search and a screen reader find it.
func TestTextIsText(t *testing.T) {
	s, notes := judge(t, "deckhand_spline.usda")
	for i, want := range [][]string{
		{"head spacing, frames 1028-1052", "even-spacing", "% of figure", "frame", "1052"},
		{"left hand arc seen from deck, frames 1001-1012", "flat-arc", "1001", "1012"},
		{"Tug timeline, frames 1001-1096", "same-frame", "frozen-hold", "brows", "left leg stands"},
		{"head and its chain, speeds, frames 1028-1052", "spine", "head", "leads"},
	} {
		k := kinds[i]
		svg, err := k.draw(s, part(t, s, k.part), k.first, k.last, Options{Notes: notes})
		if err != nil {
			t.Fatal(err)
		}
		got := strings.Join(texts(t, svg), "\n")
		for _, w := range want {
			if !strings.Contains(got, w) {
				t.Errorf("%s: no text %q in:\n%s", k.name, w, got)
			}
		}
	}
}

func TestPNG(t *testing.T) {
	s, _ := judge(t, "deckhand_spline.usda")
	for _, k := range kinds {
		raw, err := k.draw(s, part(t, s, k.part), k.first, k.last, Options{Format: PNG, Width: 320, Height: 180, Density: 3})
		if err != nil {
			t.Fatal(err)
		}
		c, err := png.DecodeConfig(bytes.NewReader(raw))
		if err != nil || c.Width != 960 || c.Height != 540 {
			t.Errorf("%s: %d by %d, %v; want 960 by 540", k.name, c.Width, c.Height, err)
		}
	}
}

// What cannot be drawn is said, in a way that tells what to do.
func TestErrors(t *testing.T) {
	s, _ := judge(t, "deckhand_spline.usda")
	still := part(t, s, head+"/..")
	for _, tt := range []struct {
		name string
		draw drawFunc
		part scene.PartID
		a, b float64
		want string
	}{
		{"backwards", Spacing, part(t, s, head), 1040, 1030, "there is no move in frames 1040-1030; give two different frames, the first one first"},
		{"one frame", Arc, part(t, s, head), 1040, 1040, "there is no move in frame 1040; give two different frames, the first one first"},
		{"outside", Timeline, part(t, s, head), 1, 20, "frames 1-20 are outside the shot, which has 1001-1096"},
		{"no part", Speed, scene.NoPart, 1001, 1020, "the scene has no part of that number"},
		{"still", Spacing, still, 1001, 1020, "neck does not move; choose a part that does"},
		{"no point", Arc, part(t, s, "/Tug/hips/spine"), 1001, 1020, "carries no point to follow; choose a part at the end of a chain"},
		{"no figure", Timeline, part(t, s, "/Shot/cam"), 1001, 1020, "belongs to no figure that moves"},
	} {
		_, err := tt.draw(s, tt.part, tt.a, tt.b, Options{})
		if err == nil || !strings.Contains(err.Error(), tt.want) {
			t.Errorf("%s: %v; want %q", tt.name, err, tt.want)
		}
	}
	empty := motion.New(&scene.Scene{First: 0, Last: -1, DefaultCamera: scene.NoPart, Parts: make([]scene.Part, 1)}, motion.Options{})
	if _, err := Spacing(empty, 0, 0, 10, Options{}); err != errNoFrames {
		t.Errorf("without frames: %v", err)
	}
}

// Every part of every demo shot is drawn or refused, at every size, without a
// panic and as a well-formed picture.
func TestEveryPart(t *testing.T) {
	for _, name := range []string{"deckhand_polish.usda", "deckhand_spline.bvh", "formats/deckhand_spline.csv"} {
		s, notes := judge(t, name)
		for i := range s.Scene.Parts {
			for j, k := range kinds {
				o := Options{Notes: notes, Width: 160 + 97*j, Height: 90 + 40*j, Step: j % 3}
				svg, err := k.draw(s, scene.PartID(i), s.First-5, s.Frame(s.N-1)+5, o)
				if err != nil {
					continue
				}
				texts(t, svg)
				if bytes.Contains(svg, []byte("NaN")) || bytes.Contains(svg, []byte("Inf")) {
					t.Errorf("%s %s %s has numbers that are none", name, s.Scene.Parts[i].Path, k.name)
				}
			}
		}
	}
}

func BenchmarkHover(b *testing.B) {
	s, notes := judge(b, "deckhand_spline.usda")
	for _, k := range kinds {
		b.Run(k.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := k.draw(s, part(b, s, k.part), k.first, k.last, Options{Notes: notes, Width: 320, Height: 180}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// Where lines would hide each other every one has a lane of its own, with its
// name; a path of many frames is drawn with few marks.
func TestManyFrames(t *testing.T) {
	s, _ := judge(t, "deckhand_spline.usda")
	svg, err := Speed(s, part(t, s, head), 1001, 1096, Options{Width: 240, Height: 200})
	if err != nil {
		t.Fatal(err)
	}
	full := 0
	for _, text := range texts(t, svg) {
		if text == "100 %" {
			full++
		}
	}
	if full < 3 {
		t.Errorf("%d lanes, want one for each part of the spine", full)
	}
	if svg, err = Keys(s, part(t, s, head), 1001, 1096, Options{Width: 240}); err != nil || bytes.Count(svg, []byte("<path")) > 60 {
		t.Errorf("%d shapes, %v; dots that touch should not be drawn", bytes.Count(svg, []byte("<path")), err)
	}
}
