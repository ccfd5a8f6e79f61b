package main

import (
	"fmt"
	"os"
	"path/filepath"
	"time"
)

// curve is how the cost of check grows when one thing does.
type curve struct {
	grows  string // what grows
	points []point
}

// point is one size on a curve.
type point struct {
	count int // of what grows
	bytes int // read
	cpu   time.Duration
	peak  int
}

// curves measures check against the number of frames, joints and files, and
// draws the result.
func (b *bench) curves() error {
	b.out.text("\n## Growth\n\n`curvelint check` on BVH files that grow in one way: time is that on processors, the best of %d runs; memory the highest resident.\n"+
		"Power is the exponent that the time grows with over the last three sizes, 1 being proportional to the bytes; budget: 1.15.\n", b.rounds)
	unit := 1
	if b.quick {
		unit = 16
	}
	var all []curve
	for _, c := range []struct {
		grows  string
		counts []int
		write  func(n int) (string, int, error)
	}{
		{"frames (64 joints)", []int{1000, 2000, 4000, 8000, 16000, 32000}, func(n int) (string, int, error) { return b.grown(64, n) }},
		{"joints (4,000 frames)", []int{16, 32, 64, 128, 256, 512}, func(n int) (string, int, error) { return b.grown(n, max(4000/unit, 200)) }},
		{"files (1 MB each)", []int{4, 8, 16, 32, 64, 128}, b.manyFiles},
	} {
		grown := curve{grows: c.grows}
		for _, n := range c.counts {
			p, err := b.measure(max(1, n/unit), c.write)
			if err != nil {
				return err
			}
			grown.points = append(grown.points, p)
		}
		all = append(all, grown)
	}
	b.out.table([]string{"grows", "from", "to", "time", "MB/s at the end", "peak", "power", "budget"}, b.growthRows(all))
	for _, drawn := range []struct {
		file, label string
		of          func(point) float64
	}{
		{"growth-time.svg", "seconds on processors", func(p point) float64 { return p.cpu.Seconds() }},
		{"growth-memory.svg", "MB at the peak", func(p point) float64 { return float64(p.peak) / 1e6 }},
	} {
		folder := filepath.Join(b.root, "testdata", "speed")
		if b.quick {
			folder = b.dir
		}
		if err := drawCurves(filepath.Join(folder, drawn.file), drawn.label, all, drawn.of); err != nil {
			return err
		}
		b.out.text("![%s against MB read](%s)\n", drawn.label, drawn.file)
	}
	return nil
}

// grown writes one file of so many joints and frames.
func (b *bench) grown(joints, frames int) (string, int, error) {
	src, err := asBVH.bake(joints, frames)
	if err != nil {
		return "", 0, err
	}
	path, err := b.put("grown.bvh", src)
	return path, len(src), err
}

// manyFiles writes a folder of so many files.
func (b *bench) manyFiles(n int) (string, int, error) {
	dir := filepath.Join(b.dir, "grown")
	total, err := b.fillFolder(dir, n, 1e6)
	return dir, total, err
}

// measure writes what is checked, checks it and removes it.
func (b *bench) measure(n int, write func(int) (string, int, error)) (point, error) {
	path, size, err := write(n)
	if err != nil {
		return point{}, err
	}
	defer os.RemoveAll(path)
	p := point{count: n, bytes: size}
	for range b.rounds {
		done, err := b.command(0, "check", "--output", filepath.Join(b.dir, "notes.txt"), path)
		if err != nil {
			return point{}, err
		}
		if p.cpu == 0 || done.cpu < p.cpu {
			p.cpu = done.cpu
		}
		p.peak = max(p.peak, done.peak)
	}
	return p, nil
}

func (b *bench) growthRows(all []curve) [][]string {
	var rows [][]string
	for _, c := range all {
		first, last := c.points[0], c.points[len(c.points)-1]
		power := c.power()
		rows = append(rows, []string{c.grows, fmt.Sprintf("%d, %s", first.count, megabytes(first.bytes)),
			fmt.Sprintf("%d, %s", last.count, megabytes(last.bytes)),
			fmt.Sprintf("%s to %s", seconds(first.cpu), seconds(last.cpu)), rate(last.bytes, last.cpu),
			fmt.Sprintf("%s to %s", megabytes(first.peak), megabytes(last.peak)), fmt.Sprintf("%.2f", power),
			b.out.hold("no faster than linear", fmt.Sprintf("%s, power %.2f", c.grows, power), power <= 1.15)})
	}
	return rows
}
