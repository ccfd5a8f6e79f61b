package table

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
			scenetest.BenchParse(b, src,
				func() *scene.Scene { return parse("bake.csv", src, scene.ReadOptions{}, workers) },
				func(s *scene.Scene) bool { return len(s.Channels) > 0 },
				"strconv", func() { plainLoop(src) })
		})
	}
}
