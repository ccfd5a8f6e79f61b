package x3d

import (
	"bytes"
	"fmt"
	"math"
	"runtime"
	"strconv"
	"testing"
	"unsafe"

	"curvelint/cmd/lab/scenetest"
	"curvelint/parse/scene"
)

// bake writes an invented figure, a rope of joints that sways: one position
// and a rotation for each joint, a key a frame, in Classic VRML or XML.
func bake(joints, frames int, xml bool) []byte {
	var b, routes bytes.Buffer
	open, comma, shut := " [ ", ", ", " ] "
	if xml {
		open, comma, shut = "='", " ", "' "
		b.WriteString("<?xml version=\"1.0\"?>\n<X3D><Scene>\n<TimeSensor DEF='T' cycleInterval='")
		fmt.Fprintf(&b, "%g'/>\n", float64(frames-1)/24)
	} else {
		fmt.Fprintf(&b, "#VRML V2.0 utf8\nDEF T TimeSensor { cycleInterval %g }\n", float64(frames-1)/24)
	}
	node := func(typ, def string) {
		if xml {
			fmt.Fprintf(&b, "<%s DEF='%s' key='0", typ, def)
		} else {
			fmt.Fprintf(&b, "DEF %s %s { key [ 0", def, typ)
		}
		for f := 1; f < frames; f++ {
			b.WriteString(comma)
			b.Write(strconv.AppendFloat(b.AvailableBuffer(), float64(f)/float64(frames-1), 'f', 8, 64))
		}
		b.WriteString(shut + "keyValue" + open)
	}
	end := func(def, field string, joint int) {
		b.WriteString(shut)
		if xml {
			b.WriteString("/>\n")
			fmt.Fprintf(&routes, "<ROUTE fromNode='T' fromField='fraction_changed' toNode='%s' toField='set_fraction'/>\n", def)
			fmt.Fprintf(&routes, "<ROUTE fromNode='%s' fromField='value_changed' toNode='rope%d' toField='set_%s'/>\n", def, joint, field)
		} else {
			b.WriteString("}\n")
			fmt.Fprintf(&routes, "ROUTE T.fraction_changed TO %s.set_fraction\nROUTE %s.value_changed TO rope%d.set_%s\n", def, def, joint, field)
		}
	}
	for j := range joints {
		if xml {
			fmt.Fprintf(&b, "<Transform DEF='rope%d'>\n", j)
		} else {
			fmt.Fprintf(&b, "DEF rope%d Transform { children [\n", j)
		}
	}
	for range joints {
		if xml {
			b.WriteString("</Transform>\n")
		} else {
			b.WriteString("] }\n")
		}
	}
	number := func(v float64) { b.Write(strconv.AppendFloat(b.AvailableBuffer(), v, 'f', 6, 64)) }
	for j := range joints {
		if j == 0 {
			node("PositionInterpolator", "P")
			for f := range frames {
				for c := range 3 {
					number(80 * math.Sin(float64(f)*0.05+float64(c)))
					b.WriteByte(' ')
				}
				b.WriteString(comma)
			}
			end("P", "translation", 0)
		}
		def := fmt.Sprintf("R%d", j)
		node("OrientationInterpolator", def)
		for f := range frames {
			phase := float64(f)*0.05 + float64(j)
			for _, v := range []float64{math.Cos(phase), 0.6 * math.Sin(phase), 0.8 * math.Sin(phase), 1.5 * math.Sin(0.3*phase)} {
				number(v)
				b.WriteByte(' ')
			}
			b.WriteString(comma)
		}
		end(def, "rotation", j)
	}
	b.Write(routes.Bytes())
	if xml {
		b.WriteString("</Scene></X3D>\n")
	}
	return b.Bytes()
}

var sink float64

// plainLoop finds every number of the keys and values and gives it to
// strconv.ParseFloat: what a reader without a model would do.
func plainLoop(src []byte) {
	for i := bytes.Index(src, []byte("key")); i < len(src); {
		c := src[i]
		if c != '-' && c != '.' && (c < '0' || c > '9') {
			i++
			continue
		}
		j := i + 1
		for j < len(src) && (src[j] == '.' || src[j] >= '0' && src[j] <= '9') {
			j++
		}
		if v, err := strconv.ParseFloat(unsafe.String(&src[i], j-i), 64); err == nil {
			sink += v
		}
		i = j + 1
	}
}

// BenchmarkParse reads a 64-joint bake of 2,000 frames in both encodings on
// one processor and on two and, in the same run, the plain loop; ratio is how
// many times faster the whole scene is made, and scene-B/B its memory without
// the text, for one byte of the file.
func BenchmarkParse(b *testing.B) {
	for _, xml := range []bool{false, true} {
		src := bake(64, 2000, xml)
		for _, workers := range []int{1, 2} {
			b.Run(fmt.Sprintf("xml=%v/workers=%d", xml, workers), func(b *testing.B) { benchmarkParse(b, src, workers) })
		}
	}
}

func benchmarkParse(b *testing.B, src []byte, workers int) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(workers))
	scenetest.BenchParse(b, src,
		func() *scene.Scene { return Parse("bake", src, scene.ReadOptions{}) },
		func(s *scene.Scene) bool { return len(s.Channels) == 67 && s.Rate == 24 },
		"strconv", func() { plainLoop(src) })
}

// BenchmarkReread changes one number of a 64-joint bake of 2,000 frames, to one
// of another length, and in the same run reads the whole file; ratio is how
// many times faster the edit is.
func BenchmarkReread(b *testing.B) {
	src := bake(64, 2000, true)
	s := Parse("bake", src, scene.ReadOptions{})
	at := int(s.Channels[30].Curve.Spans[1000])
	at += bytes.IndexByte(src[at:], '.') + 1
	e := scene.Edit{Start: at, End: at, New: []byte("1")}
	scenetest.BenchReread(b,
		func() bool { _, ok := Reread(s, e); return ok },
		func() { Parse("bake", src, scene.ReadOptions{}) })
}
