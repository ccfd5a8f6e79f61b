package text

import (
	"bytes"
	"strconv"
	"testing"
	"time"
	"unsafe"
)

var sink float64

func seconds(f func()) float64 {
	start := time.Now()
	f()
	return time.Since(start).Seconds()
}

func sumFloat(src []byte) (sum float64) {
	for i := 0; i < len(src); {
		v, end, ok := Float(src, i)
		if !ok {
			i++
			continue
		}
		sum += v
		i = end + 1
	}
	return sum
}

func sumStrconv(src []byte) (sum float64) {
	for i := 0; i < len(src); {
		j := i
		for j < len(src) && src[j] != ' ' {
			j++
		}
		if v, err := strconv.ParseFloat(unsafe.String(&src[i], j-i), 64); err == nil {
			sum += v
		}
		i = j + 1
	}
	return sum
}

// BenchmarkIndex indexes the lines of 20 MB with lines of 100 bytes; plain
// only counts them, update changes a number in the middle.
func BenchmarkIndex(b *testing.B) {
	line := append(bytes.Repeat([]byte("0.125 "), 16), "end\n"...)
	src := bytes.Repeat(line, 200000)
	x := NewIndex(src)
	for name, f := range map[string]func(){
		"new":    func() { NewIndex(src) },
		"plain":  func() { sink += float64(bytes.Count(src, []byte{'\n'})) },
		"update": func() { _, _ = x.Update(len(src)/2, len(src)/2+1, []byte("12")) },
	} {
		b.Run(name, func(b *testing.B) {
			b.SetBytes(int64(len(src)))
			for b.Loop() {
				f()
			}
		})
	}
}
