package collada

import (
	"fmt"
	"strings"
	"testing"

	"curvelint/cmd/lab/scenetest"
	"curvelint/parse/scene"
	"curvelint/parse/text"
)

// checkScene holds a scene to what every scene promises and its keys to their
// text (not those of a lens, which are made of it).
func checkScene(t *testing.T, s *scene.Scene) {
	t.Helper()
	if err := scenetest.Check(s); err != nil {
		t.Fatal(err)
	}
	src := s.Files[0].Text
	for id := range s.Channels {
		if s.Channels[id].Quantity == scene.Number {
			continue
		}
		c := &s.Channels[id].Curve
		for i, want := range c.Values {
			at := s.KeySpan(scene.ChannelID(id), i/c.Stride, i%c.Stride)
			if v, _, ok := text.Float(src, int(at.Start)); !ok || v != want {
				t.Fatalf("number %d of channel %d is %v, its text %q", i, id, want, src[at.Start:at.End])
			}
		}
	}
}

// TestTruncated cuts an export at 200 places: what is there is used, and that
// something is missing is said.
func TestTruncated(t *testing.T) {
	src := bake(6, 40, true)
	whole := Parse("bake.dae", src, scene.ReadOptions{})
	values := make(map[string]float64)
	for _, c := range whole.Channels {
		for i, v := range c.Curve.Values {
			values[fmt.Sprint(whole.Parts[c.Part].Path, c.Name, c.Curve.Times[i])] = v
		}
	}
	for i := range 200 {
		n := len(src) * i / 200
		s := Parse("bake.dae", src[:n], scene.ReadOptions{})
		checkScene(t, s)
		if len(s.Problems) == 0 {
			t.Errorf("nothing is said of a file cut at %d of %d", n, len(src))
		}
		for _, c := range s.Channels {
			for i, v := range c.Curve.Values {
				if want := values[fmt.Sprint(s.Parts[c.Part].Path, c.Name, c.Curve.Times[i])]; v != want {
					t.Fatalf("cut at %d: a key is %v, want %v", n, v, want)
				}
			}
		}
	}
}

// multiplied is a scene of nodes that hold two instances of the next one.
func multiplied(levels int) string {
	var b strings.Builder
	for i := range levels {
		fmt.Fprintf(&b, `<node id="n%d"><instance_node url="#n%d"/><instance_node url="#n%d"/></node>`, i, i+1, i+1)
	}
	fmt.Fprintf(&b, `<node id="n%d"/>`, levels)
	return deck("<library_nodes>"+b.String()+"</library_nodes>", `<node id="top"><instance_node url="#n0"/></node>`)
}

// chained is a scene of nodes that each hold an instance of the next one.
func chained(levels int) string {
	var b strings.Builder
	for i := range levels {
		fmt.Fprintf(&b, `<node id="n%d"><instance_node url="#n%d"/></node>`, i, i+1)
	}
	return deck("<library_nodes>"+b.String()+"</library_nodes>", `<node id="top"><instance_node url="#n0"/></node>`)
}

// hostile are documents that ask for more than they hold.
func hostile() map[string]string {
	lie := rope{times: "0 1", values: "0 1"}.document()
	entities := `<!DOCTYPE COLLADA [<!ENTITY a0 "rope">`
	for i := range 40 {
		entities += fmt.Sprintf(`<!ENTITY a%d "&a%d;&a%d;">`, i+1, i, i)
	}
	channels := rope{times: "0 1", values: "0 1"}.document()
	channels = strings.Replace(channels, "</animation>", strings.Repeat(`<channel source="#s" target="rope/move.X"/>`, 20000)+"</animation>", 1)
	return map[string]string{
		"counts that lie":       strings.ReplaceAll(lie, `count="2"`, `count="2000000000"`),
		"strides that lie":      strings.ReplaceAll(lie, `stride="1"`, `stride="2000000000"`),
		"offsets that lie":      strings.ReplaceAll(lie, `stride="1"`, `stride="1" offset="2147483647"`),
		"counts beyond numbers": strings.ReplaceAll(lie, `count="2"`, `count="99999999999999999999"`),
		"entities":              entities + "]>" + strings.Replace(lie, `name="Rope"`, `name="&a40;"`, 1),
		"deep":                  deck("", strings.Repeat("<node>", 10000)+strings.Repeat("</node>", 10000)),
		"deep and open":         "<COLLADA><library_visual_scenes><visual_scene>" + strings.Repeat("<node>", 10000),
		"deep animations":       "<COLLADA><library_animations>" + strings.Repeat("<animation>", 10000),
		"cycle":                 deck("", `<node id="a"><node id="b"><instance_node url="#a"/></node></node>`),
		"long cycle":            chained(200) + `<node id="n200"><instance_node url="#n0"/></node>`,
		"multiplied":            multiplied(60),
		"chained":               chained(5000),
		"many channels":         channels,
		"many weights":          deck(`<library_controllers><controller id="m"><morph><source id="t"><IDREF_array>`+strings.Repeat("x ", 5000)+`</IDREF_array></source><targets><input semantic="MORPH_TARGET" source="#t"/></targets></morph></controller></library_controllers>`, strings.Repeat(`<node><instance_controller url="#m"/></node>`, 500)),
		"long paths":            deck("", strings.Repeat(`<node name="`+strings.Repeat("n", 190)+`">`, 200)+strings.Repeat("<node/>", 20000)+strings.Repeat("</node>", 200)),
		"many sids":             deck("", strings.Repeat(`<node sid="s"><translate sid="t">0 0 0</translate>`, 200)+strings.Repeat(`<node/>`, 5000)+strings.Repeat("</node>", 200)),
		"one long word":         rope{times: "0 1", values: strings.Repeat("x", 1000000)}.document(),
		"one long number":       rope{times: "0 1", values: strings.Repeat("1", 1000000)}.document(),
		"many broken numbers":   rope{times: "0 1", values: strings.Repeat("x1 1x ", 50000)}.document(),
		"not finite":            rope{times: "0 1 NaN INF", values: "NaN INF -INF 1e999"}.document(),
		"attributes":            "<COLLADA " + strings.Repeat(`a="1" `, 50000) + "/>",
		"open tags":             strings.Repeat("<", 100000),
		"end tags":              "<COLLADA>" + strings.Repeat("</x>", 50000),
		"zero bytes":            "<COLLADA>" + strings.Repeat("\x00", 100000),
		"no UTF-8":              strings.Replace(lie, "Rope", "R\xff\xfe", 1),
		"target indices":        strings.Replace(lie, "rope/move.X", "rope/m(2147483647)(2147483647)", 1),
	}
}

// TestHostile: documents that ask for more than they hold get a problem and
// cost no more than what they hold.
func TestHostile(t *testing.T) {
	for name, src := range hostile() {
		t.Run(name, func(t *testing.T) {
			var s *scene.Scene
			n := scenetest.Allocated(func() { s = Parse("x.dae", []byte(src), scene.ReadOptions{}) })
			checkScene(t, s)
			if len(s.Problems) == 0 && name != "many sids" {
				t.Error("nothing is said of it")
			}
			// Parts of instances have a floor that is not the file's.
			if most := uint64(100*len(src) + 80<<20); n > most {
				t.Errorf("%d bytes allocated for a file of %d", n, len(src))
			}
		})
	}
}

// FuzzParse checks the promises of every scene.
func FuzzParse(f *testing.F) {
	for _, src := range hostile() {
		if len(src) < 5000 {
			f.Add([]byte(src))
		}
	}
	f.Add(bake(2, 3, true))
	for _, r := range []rope{
		{times: "0 1 1 2", values: "0 3 5 6", methods: "BEZIER STEP HERMITE CARDINAL", inTangents: "0 1 2 3", outTangents: "0 1 2 3"},
		{times: "0 1", values: "1 2 3 4 5 6", stride: 3, target: "rope/move", methods: "BEZIER BEZIER", tangentStride: 6, inTangents: "0 0 0 0 0 0 1 1 1 1 1 1", outTangents: "0 0 0 0 0 0 1 1 1 1 1 1"},
	} {
		f.Add([]byte(r.document()))
	}
	for _, src := range scenetest.Broken(f, "../../testdata/broken/collada/*.txtar") {
		f.Add(src)
	}
	f.Fuzz(func(t *testing.T, src []byte) {
		checkScene(t, Parse("x.dae", src, scene.ReadOptions{}))
	})
}
