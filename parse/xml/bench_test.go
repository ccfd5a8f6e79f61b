package xmlscan

import (
	"bytes"
	"encoding/xml"
	"io"
	"strings"
	"testing"
	"time"

	"curvelint/parse/scene"
)

// export is a document like an animation export: much text, few elements.
func export(size int) []byte {
	var b strings.Builder
	b.WriteString("<COLLADA><library_animations>")
	row := strings.Repeat("12.345678 -0.5 ", 400)
	for b.Len() < size {
		b.WriteString("<animation><source id=\"s\"><float_array id=\"a\" count=\"800\">")
		b.WriteString(row)
		b.WriteString("</float_array></source></animation>\n")
	}
	b.WriteString("</library_animations></COLLADA>")
	return []byte(b.String())
}

// BenchmarkReader reads an export and reports how many times as fast as a loop
// over the tokens of encoding/xml in the same run.
func BenchmarkReader(b *testing.B) {
	src := export(4 << 20)
	start := time.Now()
	d := xml.NewDecoder(bytes.NewReader(src))
	for {
		if _, err := d.RawToken(); err == io.EOF {
			break
		}
	}
	baseline := time.Since(start)

	b.SetBytes(int64(len(src)))
	b.ResetTimer()
	for range b.N {
		var problems scene.Problems
		r := New(src, 0, 0, &problems)
		for r.Next().Kind != EOF {
		}
	}
	b.ReportMetric(baseline.Seconds()/(b.Elapsed().Seconds()/float64(b.N)), "x_encoding/xml")
}
