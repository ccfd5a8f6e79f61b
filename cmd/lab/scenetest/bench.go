package scenetest

import (
	"runtime"
	"testing"
	"time"

	"curvelint/parse/scene"
)

// BenchParse measures how a parser reads a text beside a baseline in the same
// run. It reports MB/s-scene and, of the baseline, MB/s-NAME; ratio is how many
// times faster the whole scene is made, and scene-B/B its memory without the
// text, for one byte of the file. Ok says whether the scene is the one meant.
func BenchParse(b *testing.B, src []byte, parse func() *scene.Scene, ok func(*scene.Scene) bool, name string, baseline func()) {
	b.Helper()
	b.SetBytes(int64(len(src)))
	var mine, base time.Duration
	var size float64
	for b.Loop() {
		runtime.GC()
		var before, behind runtime.MemStats
		runtime.ReadMemStats(&before)
		start := time.Now()
		s := parse()
		mine += time.Since(start)
		runtime.GC()
		runtime.ReadMemStats(&behind)
		size = float64(behind.HeapAlloc-before.HeapAlloc) / float64(len(src))
		if len(s.Problems) > 0 || !ok(s) {
			b.Fatal("not the scene that was meant", s.Problems)
		}
		start = time.Now()
		baseline()
		base += time.Since(start)
	}
	speed := func(d time.Duration) float64 { return float64(len(src)) * float64(b.N) / d.Seconds() / 1e6 }
	b.ReportMetric(speed(mine), "MB/s-scene")
	b.ReportMetric(speed(base), "MB/s-"+name)
	b.ReportMetric(base.Seconds()/mine.Seconds(), "ratio")
	b.ReportMetric(size, "scene-B/B")
}

// BenchReread measures how a parser reads a text again after an edit, beside
// reading the whole; ratio is how many times faster it is.
func BenchReread(b *testing.B, reread func() bool, whole func()) {
	b.Helper()
	var again, anew time.Duration
	for b.Loop() {
		start := time.Now()
		if !reread() {
			b.Fatal("the edit was not read again in place")
		}
		again += time.Since(start)
		start = time.Now()
		whole()
		anew += time.Since(start)
	}
	b.ReportMetric(again.Seconds()*1e3/float64(b.N), "ms-reread")
	b.ReportMetric(anew.Seconds()*1e3/float64(b.N), "ms-parse")
	b.ReportMetric(anew.Seconds()/again.Seconds(), "ratio")
}
