package main

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"time"
)

// folder measures check on a folder of shots of 1 MB: on one core and on all,
// and how soon an interrupt ends it.
func (b *bench) folder() error {
	dir := filepath.Join(b.dir, "shots")
	n := b.shots
	if b.quick {
		n = 10
	}
	total, err := b.fillFolder(dir, n, 1e6)
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	b.out.text("\n## A folder of shots\n\n`curvelint check` on %d shots of 1 MB (USD and BVH), %s in all. Cores wanted is the time on processors or waiting\n"+
		"for one, over the time on the clock. Budgets: all cores wanted (90 %%), under 1 GiB, an interrupt ends it within 100 ms with the notes so far.\n", n, megabytes(total))
	var rows [][]string
	var walls []time.Duration
	for _, cores := range []int{1, runtime.NumCPU()} {
		done, err := b.command(cores, "check", "--output", filepath.Join(b.dir, "notes.txt"), dir)
		if err != nil {
			return err
		}
		walls = append(walls, done.wall)
		busy := max(done.cpu, done.wanted).Seconds() / done.wall.Seconds()
		what := fmt.Sprintf("%d cores", cores)
		verdict := b.out.hold("all cores wanted", fmt.Sprintf("%s, %.2f", what, busy), busy >= 0.9*float64(cores))
		if v := b.out.hold("a folder under 1 GiB", what+", "+megabytes(done.peak), done.peak < 1<<30); v != "met" {
			verdict = v
		}
		rows = append(rows, []string{what, seconds(done.wall), rate(total, done.wall), fmt.Sprintf("%.0f", float64(n)/done.wall.Seconds()),
			fmt.Sprintf("%.2f", busy), megabytes(done.peak), verdict})
	}
	b.out.table([]string{"", "time", "MB/s", "shots/s", "cores wanted", "peak", "budget"}, rows)
	b.out.text("Gain of the second core: %s.\n", factor(walls[0], walls[1]))
	if err := b.interrupted(dir, walls[1]); err != nil {
		return err
	}
	return b.watched(dir, n)
}

// fillFolder writes so many shots of about the given size, of eight kinds, and
// returns their bytes.
func (b *bench) fillFolder(dir string, n, size int) (int, error) {
	var kinds [8][]byte
	for i := range kinds {
		var err error
		if kinds[i], err = shotFormat(i).sized(20+i, size); err != nil {
			return 0, err
		}
	}
	total := 0
	for i := range n {
		name := filepath.Join(dir, fmt.Sprintf("scene%02d", i/100), fmt.Sprintf("shot%04d.%s", i, shotFormat(i).extension))
		if err := os.MkdirAll(filepath.Dir(name), 0o755); err != nil {
			return 0, err
		}
		if err := os.WriteFile(name, kinds[i%len(kinds)], 0o644); err != nil {
			return 0, err
		}
		total += len(kinds[i%len(kinds)])
	}
	return total, nil
}

func shotFormat(i int) format {
	if i%2 == 0 {
		return asUSDA
	}
	return asBVH
}

// interrupted measures how long check lasts after an interrupt in its midst,
// and that what it had found by then is there.
func (b *bench) interrupted(dir string, whole time.Duration) error {
	var took []time.Duration
	notes := 0
	for range max(3, b.rounds/2) {
		c := exec.Command(b.binary, "check", dir)
		var out bytes.Buffer
		c.Stdout = &out
		if err := c.Start(); err != nil {
			return err
		}
		time.Sleep(min(whole/3, 2*time.Second))
		start := time.Now()
		if err := c.Process.Signal(os.Interrupt); err != nil {
			return err
		}
		_ = c.Wait() // its status says that it was interrupted
		took = append(took, time.Since(start))
		notes = bytes.Count(out.Bytes(), []byte("\n"))
	}
	t := summarize(took)
	limit := b.fair(t, nil)
	b.out.text("An interrupt in its midst ended it after %s ms (best / median), with %d lines of notes so far: %s.\n",
		times(t), notes, b.out.hold("interrupt within 100 ms", milliseconds(t.median)+" ms", limit <= 100*time.Millisecond))
	return nil
}
