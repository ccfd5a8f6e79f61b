package diagnostics_test

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"runtime"
	"testing"
	"time"

	"curvelint/cmd/lab/designed"
	"curvelint/cmd/lab/designed/write"
	"curvelint/diagnostics"
	"curvelint/diagnostics/config"
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
	var parse, study timing
	for b.Loop() {
		parse.start()
		sc := diagnostics.Read(name, raw, cfg, nil)
		parse.stop()
		runtime.GC()
		study.start()
		diagnostics.Judge{Config: cfg}.Scene(context.Background(), sc)
		study.stop()
	}
	b.ReportMetric(float64(study.best)/float64(parse.best), "study/parse")
	b.ReportMetric(float64(parse.best.Microseconds())/1000, "parse-ms")
	b.ReportMetric(float64(study.best.Nanoseconds())/float64(jointFrames), "ns/joint-frame")
	b.ReportMetric(0, "ns/op")
}

// timing is the least time that something took.
type timing struct {
	began time.Time
	best  time.Duration
}

func (t *timing) start() { t.began = time.Now() }

func (t *timing) stop() {
	if d := time.Since(t.began); t.best == 0 || d < t.best {
		t.best = d
	}
}
