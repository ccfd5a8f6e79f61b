package collada

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"
	"unsafe"

	"curvelint/cmd/lab/scenetest"
	"curvelint/parse/scene"
)

// bake writes an invented rope of joints that sways: three angles a joint,
// keyed on every frame at 24, six decimals. With own, each curve has times of
// its own, as when a writer reduces keys curve by curve.
func bake(joints, frames int, own bool) []byte {
	var b []byte
	text := func(s string, args ...any) { b = fmt.Appendf(b, s, args...) }
	array := func(id string, n int, value func(i int) float64) {
		text("<source id=%q><float_array id=\"%s-a\" count=\"%d\">", id, id, n)
		for i := range n {
			if i > 0 {
				b = append(b, ' ')
			}
			b = strconv.AppendFloat(b, value(i), 'f', 6, 64)
		}
		text("</float_array><technique_common><accessor source=\"#%s-a\" count=\"%d\" stride=\"1\"><param name=\"P\" type=\"float\"/></accessor></technique_common></source>\n", id, n)
	}
	text("<?xml version=\"1.0\"?><COLLADA version=\"1.4.1\"><asset><unit meter=\"0.01\"/><up_axis>Y_UP</up_axis></asset>\n<library_animations>\n")
	for j := range joints {
		for axis, name := range "XYZ" {
			id := fmt.Sprintf("rope%d%c", j, name)
			text("<animation id=%q>", id)
			shift := 0.0
			if own {
				shift = float64(3*j + axis)
			}
			array(id+"-t", frames, func(i int) float64 { return (float64(i) + shift) / 24 })
			array(id+"-v", frames, func(i int) float64 {
				phase := float64(i)*0.05 + float64(3*j+axis)
				return 80 * math.Sin(phase) * math.Cos(0.3*phase)
			})
			text("<source id=\"%s-i\"><Name_array id=\"%s-n\" count=\"%d\">%s</Name_array></source>\n", id, id, frames, strings.Repeat("LINEAR ", frames))
			text("<sampler id=\"%s-s\"><input semantic=\"INPUT\" source=\"#%s-t\"/><input semantic=\"OUTPUT\" source=\"#%s-v\"/><input semantic=\"INTERPOLATION\" source=\"#%s-i\"/></sampler><channel source=\"#%s-s\" target=\"rope%d/rotate%c.ANGLE\"/></animation>\n", id, id, id, id, id, j, name)
		}
	}
	text("</library_animations>\n<library_visual_scenes><visual_scene id=\"s\">")
	for j := range joints {
		text("<node id=\"rope%d\" type=\"JOINT\"><translate>0 %d 0</translate><rotate sid=\"rotateZ\">0 0 1 0</rotate><rotate sid=\"rotateY\">0 1 0 0</rotate><rotate sid=\"rotateX\">1 0 0 0</rotate>\n", j, j%7)
	}
	text("%s</visual_scene></library_visual_scenes><scene><instance_visual_scene url=\"#s\"/></scene></COLLADA>", strings.Repeat("</node>", joints))
	return b
}

var sink float64

// plainLoop finds every number of the arrays and gives it to
// strconv.ParseFloat: what a reader without a model would do.
func plainLoop(src []byte) {
	for i := 0; i < len(src); {
		n := strings.Index(unsafe.String(&src[i], len(src)-i), "<float_array")
		if n < 0 {
			return
		}
		i += n
		for src[i] != '>' {
			i++
		}
		for i++; src[i] != '<'; {
			j := i
			for src[j] != ' ' && src[j] != '<' {
				j++
			}
			v, err := strconv.ParseFloat(unsafe.String(&src[i], j-i), 64)
			if err != nil {
				panic(err)
			}
			sink += v
			if i = j; src[i] == ' ' {
				i++
			}
		}
	}
}

// BenchmarkParse reads a 64-joint bake of 10,000 frames and, in the same run,
// the plain loop; ratio is how many times faster the whole scene is made, and
// scene-B/B its memory without the text, for one byte of the file.
func BenchmarkParse(b *testing.B) {
	for _, own := range []bool{false, true} {
		src := bake(64, 10000, own)
		for _, workers := range []int{1, 2} {
			b.Run(fmt.Sprintf("own-times=%v/workers=%d", own, workers), func(b *testing.B) {
				scenetest.BenchParse(b, src,
					func() *scene.Scene { return parse("bake.dae", src, scene.ReadOptions{}, workers) },
					func(s *scene.Scene) bool { return len(s.Channels) == 3*64 },
					"strconv", func() { plainLoop(src) })
			})
		}
	}
}
