package table

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

// bake writes an invented table of so many numbers a row, six decimals.
func bake(columns, rows int) []byte {
	var b bytes.Buffer
	b.WriteString("frame")
	for c := range columns {
		fmt.Fprintf(&b, ",rope%d.%s", c/3, []string{"rx", "ry", "rz"}[c%3])
	}
	for r := range rows {
		fmt.Fprintf(&b, "\n%d", r+1)
		for c := range columns {
			b.WriteByte(',')
			phase := float64(r)*0.05 + float64(c)
			b.Write(strconv.AppendFloat(b.AvailableBuffer(), 80*math.Sin(phase)*math.Cos(0.3*phase), 'f', 6, 64))
		}
	}
	b.WriteByte('\n')
	return b.Bytes()
}

var sink float64

// plainLoop finds every number behind the header and gives it to
// strconv.ParseFloat: what a reader without a model would do.
func plainLoop(src []byte) {
	for i := bytes.IndexByte(src, '\n') + 1; i < len(src); {
		j := i
		for src[j] != ',' && src[j] != '\n' {
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

// BenchmarkParse reads 195 columns of 10,000 rows and, in the same run, the
// plain loop; ratio is how many times faster the whole scene is made, and
// scene-B/B its memory without the text, for one byte of the file.
func BenchmarkParse(b *testing.B) {
	src := bake(195, 10000)
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
				s := parse("bake.csv", src, scene.ReadOptions{}, workers)
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
