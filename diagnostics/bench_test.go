package diagnostics_test

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"runtime"
	"testing"
	"time"

	"curvelint/diagnostics"
	"curvelint/diagnostics/config"
	"curvelint/diagnostics/designed"
	"curvelint/diagnostics/designed/write"
)

// BenchmarkStudy reads bakes and studies them with all checks, on one core. The
// two alternate in one run; study/parse is the ratio of their least times.
func BenchmarkStudy(b *testing.B) {
	formats := []struct {
		name  string
		write func(io.Writer, *designed.Take) error
	}{{"bake.bvh", write.BVH}, {"bake.usda", write.USDA}}
	for _, joints := range []int{64, 128} {
		take := designed.Bake(joints, 10000)
		for _, f := range formats {
			var text bytes.Buffer
			if err := f.write(&text, take); err != nil {
				b.Fatal(err)
			}
			b.Run(fmt.Sprintf("%s/%d", f.name, joints), func(b *testing.B) { benchmarkStudy(b, f.name, text.Bytes(), joints*10000) })
		}
	}
}

func benchmarkStudy(b *testing.B, name string, raw []byte, jointFrames int) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	cfg := &config.Config{}
	parse, study := time.Duration(1<<62), time.Duration(1<<62)
	for b.Loop() {
		start := time.Now()
		sc := diagnostics.Read(name, raw, cfg, nil)
		parse = min(parse, time.Since(start))
		runtime.GC()
		start = time.Now()
		diagnostics.Run(context.Background(), sc, cfg)
		study = min(study, time.Since(start))
	}
	b.ReportMetric(float64(study)/float64(parse), "study/parse")
	b.ReportMetric(float64(parse.Microseconds())/1000, "parse-ms")
	b.ReportMetric(float64(study.Nanoseconds())/float64(jointFrames), "ns/joint-frame")
	b.ReportMetric(0, "ns/op")
}
