package bvh

import (
	"bytes"
	"fmt"
	"math"
	"runtime"
	"strconv"
	"testing"
	"time"
	"unsafe"

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
			b.SetBytes(int64(len(src)))
			var mine, plain time.Duration
			var size float64
			for b.Loop() {
				runtime.GC()
				var before, behind runtime.MemStats
				runtime.ReadMemStats(&before)
				start := time.Now()
				s := parse("bake.bvh", src, scene.ReadOptions{}, workers)
				mine += time.Since(start)
				runtime.GC()
				runtime.ReadMemStats(&behind)
				size = float64(behind.HeapAlloc-before.HeapAlloc) / float64(len(src))
				if len(s.Problems) > 0 {
					b.Fatal(s.Problems)
				}
				start = time.Now()
				plainLoop(src)
				plain += time.Since(start)
			}
			speed := func(d time.Duration) float64 { return float64(len(src)) * float64(b.N) / d.Seconds() / 1e6 }
			b.ReportMetric(speed(mine), "MB/s-scene")
			b.ReportMetric(speed(plain), "MB/s-strconv")
			b.ReportMetric(plain.Seconds()/mine.Seconds(), "ratio")
			b.ReportMetric(size, "scene-B/B")
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
	var again, anew time.Duration
	for b.Loop() {
		start := time.Now()
		r, ok := Reread(old, e)
		again += time.Since(start)
		if !ok || len(r.Changed) != 1 {
			b.Fatal("not read again in place")
		}
		start = time.Now()
		Parse("bake.bvh", src, scene.ReadOptions{})
		anew += time.Since(start)
	}
	b.ReportMetric(again.Seconds()*1000/float64(b.N), "ms-reread")
	b.ReportMetric(anew.Seconds()*1000/float64(b.N), "ms-parse")
	b.ReportMetric(anew.Seconds()/again.Seconds(), "ratio")
}
