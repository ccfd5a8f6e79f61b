package usda

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

// sway is an invented value for the animation of a rope.
func sway(frame, column int) float64 {
	phase := float64(frame)*0.05 + float64(column)
	return 80 * math.Sin(phase) * math.Cos(0.3*phase)
}

// bakeNested writes a rope of nested prims that each move and turn, a sample
// on every frame.
func bakeNested(joints, frames int) []byte {
	var b bytes.Buffer
	b.WriteString("#usda 1.0\n(\n    timeCodesPerSecond = 24\n)\n")
	for j := range joints {
		fmt.Fprintf(&b, "def Xform \"rope%d\"\n{\n", j)
		for k, op := range []string{"double3 xformOp:translate", "float3 xformOp:rotateXYZ"} {
			fmt.Fprintf(&b, "    %s.timeSamples = {\n", op)
			for f := range frames {
				fmt.Fprintf(&b, "        %d: (", f+1)
				appendNumbers(&b, f, 6*j+3*k, 3)
				b.WriteString("),\n")
			}
			b.WriteString("    }\n")
		}
		b.WriteString("    uniform token[] xformOpOrder = [\"xformOp:translate\", \"xformOp:rotateXYZ\"]\n")
	}
	for range joints {
		b.WriteString("}\n")
	}
	return b.Bytes()
}

// bakeSkeleton writes the same as a skeleton and its animation.
func bakeSkeleton(joints, frames int) []byte {
	var names bytes.Buffer
	path := ""
	for j := range joints {
		path += fmt.Sprintf("/j%d", j)
		fmt.Fprintf(&names, "%q, ", path[1:])
	}
	var b bytes.Buffer
	b.WriteString("#usda 1.0\ndef SkelRoot \"Rope\"\n{\n    rel skel:animationSource = </Rope/Anim>\n    def Skeleton \"Skel\"\n    {\n")
	fmt.Fprintf(&b, "        uniform token[] joints = [%s]\n    }\n    def SkelAnimation \"Anim\"\n    {\n        uniform token[] joints = [%[1]s]\n", names.Bytes())
	for k, op := range []string{"float3[] translations", "quatf[] rotations"} {
		fmt.Fprintf(&b, "        %s.timeSamples = {\n", op)
		for f := range frames {
			fmt.Fprintf(&b, "            %d: [", f+1)
			for j := range joints {
				if j > 0 {
					b.WriteString(", ")
				}
				b.WriteByte('(')
				appendNumbers(&b, f, 7*j, 3+k)
				b.WriteByte(')')
			}
			b.WriteString("],\n")
		}
		b.WriteString("        }\n")
	}
	b.WriteString("    }\n}\n")
	return b.Bytes()
}

func appendNumbers(b *bytes.Buffer, frame, column, n int) {
	for c := range n {
		if c > 0 {
			b.WriteString(", ")
		}
		b.Write(strconv.AppendFloat(b.AvailableBuffer(), sway(frame, column+c), 'f', 6, 64))
	}
}

var sink float64

// plainLoop finds every number and gives it to strconv.ParseFloat: what a
// reader without a model would do.
func plainLoop(src []byte) {
	for i := 0; i < len(src); {
		if c := src[i]; c != '-' && c != '.' && (c < '0' || c > '9') {
			i++
			continue
		}
		j := i + 1
		for j < len(src) && (src[j] >= '0' && src[j] <= '9' || src[j] == '.' || src[j] == 'e' || src[j] == '-') {
			j++
		}
		if v, err := strconv.ParseFloat(unsafe.String(&src[i], j-i), 64); err == nil {
			sink += v
		}
		i = j
	}
}

// BenchmarkParse reads bakes of 64 joints and 10,000 frames and, in the same
// run, the plain loop. ratio is how many times faster the whole scene is made,
// and scene-B/B its memory without the text, for one byte of the file.
func BenchmarkParse(b *testing.B) {
	for _, form := range []struct {
		name string
		bake func(joints, frames int) []byte
	}{{"nested", bakeNested}, {"skeleton", bakeSkeleton}} {
		src := form.bake(64, 10000)
		for _, workers := range []int{1, 2} {
			b.Run(fmt.Sprintf("%s/workers=%d", form.name, workers), func(b *testing.B) {
				defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(workers))
				scenetest.BenchParse(b, src,
					func() *scene.Scene { return Parse("bake.usda", src, scene.ReadOptions{}) },
					func(s *scene.Scene) bool { return s.Channels[0].Curve.Len() == 10000 },
					"strconv", func() { plainLoop(src) })
			})
		}
	}
}
