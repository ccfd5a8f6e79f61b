package main

import (
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

func TestReadWork(t *testing.T) {
	path := filepath.Join(t.TempDir(), "counts")
	profile := "mode: atomic\n" +
		"curvelint/parse/bvh/bvh.go:10.2,12.3 2 100\n" +
		"curvelint/parse/bvh/bvh.go:13.2,13.9 1 50\n" +
		"curvelint/server/hover.go:1.1,2.2 7 0\n" +
		"a line that is no count\n"
	if err := os.WriteFile(path, []byte(profile), 0o644); err != nil {
		t.Fatal(err)
	}
	w, err := readWork(path)
	if err != nil || w["parse/bvh/bvh.go"] != 250 || w.total() != 250 {
		t.Errorf("%v, %v", w, err)
	}
	if err := os.WriteFile(path, []byte("mode: atomic\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	if _, err := readWork(path); err == nil || !strings.Contains(err.Error(), "no counts") {
		t.Errorf("a profile without counts: %v", err)
	}
}

// Of a file four times as large, work that grows by more than its power is named:
// all of it, or that of a single file of source.
func TestCompareWork(t *testing.T) {
	four := math.Log(4)
	tests := []struct {
		name      string
		few, many counted
		want      []string
	}{
		{"proportional", counted{"a.go": 100, "b.go": 50}, counted{"a.go": 400, "b.go": 200}, nil},
		{"a sort", counted{"a.go": 100}, counted{"a.go": 400 * 1.14}, nil},
		{"square", counted{"a.go": 100}, counted{"a.go": 1600}, []string{"x: power 2.00", "x: a.go, power 2.00, 100 % of the work"}},
		{"one file of many", counted{"a.go": 1000, "b.go": 10}, counted{"a.go": 4000, "b.go": 160}, []string{"x: b.go, power 2.00, 4 % of the work"}},
		{"one that does next to nothing", counted{"a.go": 10000, "b.go": 1}, counted{"a.go": 40000, "b.go": 16}, nil},
		{"one that is new", counted{"a.go": 1000}, counted{"a.go": 4000, "b.go": 100}, nil},
	}
	for _, tt := range tests {
		if got := compareWork("x", tt.few, tt.many, four); strings.Join(got, "\n") != strings.Join(tt.want, "\n") {
			t.Errorf("%s: %q, want %q", tt.name, got, tt.want)
		}
	}
}

// growing is a curve whose time grows with a power of its bytes.
func growing(power float64) curve {
	c := curve{grows: "frames"}
	for i := range 4 {
		n := 1_000_000 << i
		c.points = append(c.points, point{count: 100 << i, bytes: n, peak: 3 * n,
			cpu: time.Duration(1e9 * math.Pow(float64(int(1)<<i), power))})
	}
	return c
}

func TestGrowthRows(t *testing.T) {
	b := bench{out: &report{}}
	rows := b.growthRows([]curve{growing(1), growing(1.5)})
	want := []string{
		"frames|100, 1 MB|800, 8 MB|1.00 s to 8.00 s|1|3 MB to 24 MB|1.00|met",
		"frames|100, 1 MB|800, 8 MB|1.00 s to 22.63 s|0|3 MB to 24 MB|1.50|**missed**",
	}
	for i := range rows {
		if got := strings.Join(rows[i], "|"); got != want[i] {
			t.Errorf("%s, want %s", got, want[i])
		}
	}
}

// Only the last three points tell the power: what a start costs bends the first.
func TestPowerOfTheLastPoints(t *testing.T) {
	c := growing(1)
	c.points[0].cpu *= 100
	if p := c.power(); math.Abs(p-1) > 1e-9 {
		t.Error(p)
	}
}

func TestDrawCurves(t *testing.T) {
	path := filepath.Join(t.TempDir(), "growth.svg")
	if err := drawCurves(path, "seconds", []curve{growing(1), growing(1.2)}, func(p point) float64 { return p.cpu.Seconds() }); err != nil {
		t.Fatal(err)
	}
	drawn, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	for _, word := range []string{"<svg", "MB read", "seconds", "more frames", "proportional"} {
		if !strings.Contains(string(drawn), word) {
			t.Errorf("the picture has no %q", word)
		}
	}
}
