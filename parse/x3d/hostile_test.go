package x3d

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"curvelint/cmd/lab/scenetest"
	"curvelint/parse/scene"
	"curvelint/parse/text"
)

// checkScene holds a scene to what every scene promises and its keys to their
// text.
func checkScene(t *testing.T, s *scene.Scene) {
	t.Helper()
	if err := scenetest.Check(s); err != nil {
		t.Fatal(err)
	}
	src := s.Files[0].Text
	for id := range s.Channels {
		c := &s.Channels[id].Curve
		for k := range c.Times {
			at := s.KeySpan(scene.ChannelID(id), k, 0)
			v, _, ok := text.Float(src, int(at.Start))
			if !ok || c.Stride == 1 && c.Handles == nil && v != c.Values[k] {
				t.Fatalf("key %d of channel %d is %v, its text %q", k, id, c.Values[k], src[at.Start:at.End])
			}
		}
		if c.Stride == 4 {
			for k := 0; k < len(c.Values); k += 4 {
				q := c.Values[k : k+4]
				if n := q[0]*q[0] + q[1]*q[1] + q[2]*q[2] + q[3]*q[3]; math.Abs(n-1) > 1e-9 {
					t.Fatalf("key %d of channel %d is no unit quaternion: %v", k/4, id, q)
				}
			}
		}
	}
}

// TestTruncated cuts an export at 200 places: what is there is used, and that
// something is missing is said.
func TestTruncated(t *testing.T) {
	for _, xml := range []bool{false, true} {
		src := bake(5, 20, xml)
		end := len(strings.TrimRight(string(src), "\n")) - 1
		last := 0
		for i := range 200 {
			n := end * i / 200
			s := Parse("bake", src[:n], scene.ReadOptions{})
			checkScene(t, s)
			if len(s.Problems) == 0 && (xml || !betweenStatements(src, n)) {
				t.Errorf("xml %v: nothing is said of a file cut at %d of %d", xml, n, len(src))
			}
			if len(s.Channels) < last {
				t.Errorf("xml %v: %d channels at byte %d, fewer than before", xml, len(s.Channels), n)
			}
			last = len(s.Channels)
		}
		if last == 0 {
			t.Errorf("xml %v: no cut left a channel", xml)
		}
	}
}

// betweenStatements reports whether Classic VRML cut at n is whole in itself:
// all braces are closed and no route has begun.
func betweenStatements(src []byte, n int) bool {
	depth := 0
	for _, c := range src[:n] {
		switch c {
		case '{', '[':
			depth++
		case '}', ']':
			depth--
		}
	}
	line := string(src[:n])
	line = line[strings.LastIndexByte(line, '\n')+1:]
	return depth == 0 && (!strings.HasPrefix(line, "R") || src[n] == '\n' || strings.Contains(line, "set_"))
}

// doubling writes n groups that each hold the one before twice.
func doubling(n int, xml bool) string {
	var b strings.Builder
	if xml {
		b.WriteString("<X3D><Scene><Transform DEF='g0'/>")
		for i := range n {
			fmt.Fprintf(&b, "<Transform DEF='g%d'><Transform USE='g%d'/><Transform USE='g%d'/></Transform>", i+1, i, i)
		}
		b.WriteString("</Scene></X3D>")
		return b.String()
	}
	b.WriteString("#VRML V2.0 utf8\nDEF g0 Transform {}\n")
	for i := range n {
		fmt.Fprintf(&b, "DEF g%d Transform { children [ USE g%d USE g%d ] }\n", i+1, i, i)
	}
	return b.String()
}

const classicHead, xmlHead = "#VRML V2.0 utf8\n", "<X3D><Scene>"

// hostile are files that claim, nest or multiply without end. Of each
// something must be said, at no more cost than its size explains.
var hostile = map[string]string{
	"deep nodes":           classicHead + strings.Repeat("Transform { children [ ", 10000) + strings.Repeat("] }", 10000),
	"deep and open":        classicHead + strings.Repeat("Transform { children [ ", 10000),
	"deep lists":           classicHead + "Transform { children " + strings.Repeat("[ ", 100000),
	"lists of fields":      classicHead + "Transform { " + strings.Repeat("a [ ", 100000),
	"deep XML":             xmlHead + strings.Repeat("<Transform>", 10000) + strings.Repeat("</Transform>", 10000) + "</Scene></X3D>",
	"deep XML and open":    xmlHead + strings.Repeat("<Transform>", 10000),
	"open prototypes":      classicHead + strings.Repeat("PROTO a [ { ", 50000),
	"closed braces":        classicHead + strings.Repeat("} ", 100000),
	"open quotes":          classicHead + strings.Repeat("Transform { a \"", 50001),
	"backslashes":          classicHead + "WorldInfo { title \"" + strings.Repeat("\\", 500000),
	"use of itself":        classicHead + "DEF a Transform { children [ USE a ] }",
	"use of each other":    xmlHead + "<Transform DEF='a'><Transform USE='b'/></Transform><Transform DEF='b'><Transform USE='a'/></Transform></Scene></X3D>",
	"doubling":             doubling(200, false),
	"doubling XML":         doubling(200, true),
	"doubling, many names": strings.ReplaceAll(doubling(24, false), "g", strings.Repeat("g", 1000)),
	"entity bomb": `<?xml version="1.0"?><!DOCTYPE X3D [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;&a;&a;&a;&a;&a;"><!ENTITY c "&b;&b;&b;&b;&b;&b;&b;&b;">]>` +
		"<X3D><Scene><Transform DEF='&c;'/></Scene></X3D>",
	"foreign entity":     `<!DOCTYPE X3D [<!ENTITY x SYSTEM "file:///etc/hostname">]><X3D><Scene><Transform DEF='&x;'/></Scene></X3D>`,
	"no number":          classicHead + driven("key [ 0 1 ] keyValue [ 0 0 0 x y z ]"),
	"not finite":         classicHead + driven("key [ 0 0.5 1 ] keyValue [ 0 0 0 nan 0 0 1e39 0 0 ]"),
	"huge keys":          classicHead + driven("key [ 0 1e308 ] keyValue [ 0 0 0 1 1 1 ]"),
	"huge cycle":         strings.Replace(classicHead+driven("key [ 0 1 ] keyValue [ 0 0 0 1 1 1 ]"), "cycleInterval 1", "cycleInterval 1e300", 1),
	"no cycle":           strings.Replace(classicHead+driven("key [ 0 1 ] keyValue [ 0 0 0 1 1 1 ]"), "cycleInterval 1", "cycleInterval 0", 1),
	"keys step back":     classicHead + driven("key [ 0 1 0.5 ] keyValue [ 0 0 0 1 1 1 2 2 2 ]"),
	"keys without end":   classicHead + driven("key [ "+strings.Repeat("0 ", 100000)+"] keyValue [ 0 0 0 ]"),
	"one long number":    classicHead + driven("key [ 0 1 ] keyValue [ 0 0 0 "+strings.Repeat("1", 500000)+" 0 0 ]"),
	"many broken values": classicHead + driven("key [ 0 1 ] keyValue [ "+strings.Repeat("1x ", 100000)+" ]"),
	"chain of routes":    classicHead + driven("key [ 0 1 ] keyValue [ 0 0 0 1 1 1 ]") + chain(3000),
	"routes to nobody":   classicHead + strings.Repeat("ROUTE a.b TO c.d\n", 50000),
	"broken routes":      classicHead + strings.Repeat("ROUTE a b\n", 50000),
	"broken uses":        xmlHead + strings.Repeat("<Transform USE='x'/>", 50000) + "</Scene></X3D>",
	"zero bytes":         classicHead + strings.Repeat("\x00", 100000),
	"no UTF-8":           classicHead + "DEF \xff\xfe Transform { \xc0 0 }\xff",
	"no UTF-8 in XML":    xmlHead + "<Transform DEF='\xff\xfe'><\xc0 a='",
	"one long word":      strings.Repeat("x", 1000000),
	"lines of old":       "x\r" + strings.Repeat("# note\r", 100000),
	"comments":           classicHead + strings.Repeat("# curvelint: allow\n", 50000),
}

// driven is a node moved by an interpolator with the given fields.
func driven(fields string) string {
	return "DEF N Transform {} DEF T TimeSensor { cycleInterval 1 }\nDEF P PositionInterpolator { " + fields + " }\n" +
		"ROUTE T.fraction_changed TO P.set_fraction ROUTE P.value_changed TO N.set_translation\n"
}

// chain routes a position through n nodes, each driven by n sensors.
func chain(n int) string {
	var b strings.Builder
	for i := range n {
		fmt.Fprintf(&b, "DEF n%d Transform {} DEF t%d TimeSensor {} ROUTE t%d.fraction_changed TO P.set_fraction\n", i, i, i)
	}
	b.WriteString("ROUTE N.translation_changed TO n0.set_translation\n")
	for i := range n - 1 {
		fmt.Fprintf(&b, "ROUTE n%d.translation_changed TO n%d.set_translation\n", i, i+1)
	}
	return b.String()
}

func TestHostile(t *testing.T) {
	for name, src := range hostile {
		t.Run(name, func(t *testing.T) {
			var s *scene.Scene
			n := scenetest.Allocated(func() { s = Parse("x", []byte(src), scene.ReadOptions{}) })
			checkScene(t, s)
			if len(s.Problems) == 0 {
				t.Error("nothing is said of it")
			}
			// Parts that USE makes are bounded by the file and a constant.
			if most := uint64(100*len(src) + 32<<20); n > most {
				t.Errorf("%d bytes allocated for a file of %d", n, len(src))
			}
		})
	}
}

// TestModels reads the X3D and VRML files of Debian's package
// assimp-testmodels. Counts are those of the files' own text.
func TestModels(t *testing.T) {
	files := map[string]struct {
		channels, cameras int
		rate, last        float64
	}{
		// 70 routes reach a field: those of positions and scales make three
		// channels, those of scale orientations two.
		"WRL/MotionCaptureROM.WRL":  {143, 0, 30, 1358},
		"WRL/Wuson.wrl":             {0, 1, 24, -1},
		"X3D/HelloX3dTrademark.x3d": {1, 1, 24, 288},
		"X3D/ComputerKeyboard.x3d":  {3 * 98, 1, 24, 24},
	}
	for name, want := range files {
		s := Parse(name, scenetest.Model(t, name), scene.ReadOptions{})
		checkScene(t, s)
		if len(s.Problems) > 0 {
			t.Errorf("%s: %v", name, s.Problems)
		}
		if len(s.Channels) != want.channels || len(s.Cameras) != want.cameras || s.Rate != want.rate || s.Last != want.last {
			t.Errorf("%s: %d channels, %d cameras, rate %g, last frame %g; want %v", name, len(s.Channels), len(s.Cameras), s.Rate, s.Last, want)
		}
	}
}

// seeds adds sound, broken and hostile files to a fuzz corpus.
func seeds(f *testing.F) {
	f.Add([]byte(winchClassic))
	f.Add([]byte(winchXML))
	f.Add([]byte(figure))
	f.Add(bake(2, 3, false))
	f.Add(bake(2, 3, true))
	for _, src := range hostile {
		if len(src) < 1000 {
			f.Add([]byte(src))
		}
	}
	for _, src := range scenetest.Broken(f, "../../testdata/broken/x3d/*.txtar") {
		f.Add(src)
	}
}

func FuzzParse(f *testing.F) {
	seeds(f)
	f.Fuzz(func(t *testing.T, src []byte) {
		checkScene(t, Parse("x", src, scene.ReadOptions{MaxDepth: 8}))
	})
}
