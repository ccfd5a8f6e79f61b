package bvh

import (
	"bytes"
	"fmt"
	"math"
	"strconv"
	"testing"
	"unsafe"

	"curvelint/cmd/lab/scenetest"
	"curvelint/parse/scene"
)

// bake writes an invented figure, a rope of joints that sways: frames lines of
// 3 + 3*joints numbers with six decimals.
func bake(joints, frames int) []byte {
	var b bytes.Buffer
	b.WriteString("HIERARCHY\nROOT rope0\n{\n\tOFFSET 0 90 0\n\tCHANNELS 6 Xposition Yposition Zposition Zrotation Xrotation Yrotation\n")
	for j := 1; j < joints; j++ {
		fmt.Fprintf(&b, "JOINT rope%d\n{\n\tOFFSET 0 %d 1.5\n\tCHANNELS 3 Zrotation Xrotation Yrotation\n", j, 10+j%7)
	}
	b.WriteString("End Site\n{\n\tOFFSET 0 5 0\n}\n")
	for range joints {
		b.WriteString("}\n")
	}
	fmt.Fprintf(&b, "MOTION\nFrames: %d\nFrame Time: 0.0416667\n", frames)
	for f := range frames {
		for c := range 3 + 3*joints {
			if c > 0 {
				b.WriteByte(' ')
			}
			phase := float64(f)*0.05 + float64(c)
			b.Write(strconv.AppendFloat(b.AvailableBuffer(), 80*math.Sin(phase)*math.Cos(0.3*phase), 'f', 6, 64))
		}
		b.WriteByte('\n')
	}
	return b.Bytes()
}

var sink float64

// plainLoop finds every number of the frame lines and gives it to
// strconv.ParseFloat: what a reader without a model would do.
func plainLoop(src []byte) {
	for i := bytes.Index(src, []byte("0.0416667\n")) + 10; i < len(src); {
		j := i
		for src[j] != ' ' && src[j] != '\n' {
			j++
		}
		v, err := strconv.ParseFloat(unsafe.String(&src[i], j-i), 64)
		if err != nil {
			panic(err)
		}
		sink += v
		i = j + 1
	}
}

// BenchmarkParse reads a 64-joint bake of 10,000 frames and, in the same run,
// the plain loop; ratio is how many times faster the whole scene is made, and
// scene-B/B its memory without the text, for one byte of the file.
func BenchmarkParse(b *testing.B) {
	src := bake(64, 10000)
	for _, workers := range []int{1, 2} {
		b.Run(fmt.Sprintf("workers=%d", workers), func(b *testing.B) {
			scenetest.BenchParse(b, src,
				func() *scene.Scene { return parse("bake.bvh", src, scene.ReadOptions{}, workers) },
				func(s *scene.Scene) bool { return len(s.Channels) == 3+3*64 },
				"strconv", func() { plainLoop(src) })
		})
	}
}

// BenchmarkReread edits one number in the middle of a 5 MB bake: read again in
// place, and, as the baseline, the whole file read anew. The new number has
// another length, so that everything behind it moves.
func BenchmarkReread(b *testing.B) {
	old := Parse("bake.bvh", bake(64, 2500), scene.ReadOptions{})
	src := old.Files[0].Text
	start := int(old.Channels[100].Curve.Spans[1250])
	e := scene.Edit{Start: start, End: scene.ValueEnd(src, start), New: []byte("12.5")}
	scenetest.BenchReread(b,
		func() bool { r, ok := Reread(old, e); return ok && len(r.Changed) == 1 },
		func() { Parse("bake.bvh", src, scene.ReadOptions{}) })
}
