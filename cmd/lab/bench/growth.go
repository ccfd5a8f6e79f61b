package main

import (
	"bufio"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
)

// Work is counted, not timed: curvelint is built so that it counts how often
// each of its statements runs, and checks a file and one that is four times as
// large. The counts are the same on every machine, and a file of source whose
// share grows faster than the input is named.

const (
	// growthStep is how many times as large the larger file is.
	growthStep = 4
	// growthPower is the highest power of the input's size that the work may
	// grow with. A sort's logarithm adds about 0.1 at these sizes.
	growthPower = 1.15
	// filePower is the same for one file of source that does more than
	// fileShare of the work: one of many loops may be cut off at small sizes.
	filePower = 1.4
	fileShare = 0.02
)

// growth counts the work and returns an error where it grows too fast.
func (b *bench) growth() error {
	counting := filepath.Join(b.dir, "curvelint-counting")
	build := exec.Command("go", "build", "-cover", "-covermode=atomic", "-coverpkg=curvelint/...", "-o", counting, "./cmd/curvelint")
	build.Dir, build.Stderr = b.root, os.Stderr
	if err := build.Run(); err != nil {
		return fmt.Errorf("curvelint cannot be built so that it counts: %w", err)
	}
	b.binary = counting
	var failed []string
	for _, f := range append(slices.Clone(formats), format{"BVH full of flaws", "bvh", writeFlawed}) {
		for _, c := range []struct {
			grows          string
			joints, frames int
			moreJoints     int
			moreFrames     int
		}{{"frames", 24, 1500, 24, 1500 * growthStep}, {"joints", 24, 500, 24 * growthStep, 500}} {
			few, small, err := b.countWork(f, c.joints, c.frames)
			if err != nil {
				return err
			}
			many, large, err := b.countWork(f, c.moreJoints, c.moreFrames)
			if err != nil {
				return err
			}
			failed = append(failed, compareWork(f.name+", more "+c.grows, few, many, math.Log(float64(large)/float64(small)))...)
		}
	}
	if len(failed) > 0 {
		return fmt.Errorf("work grows faster than the input:\n%s", strings.Join(failed, "\n"))
	}
	return nil
}

// counted is how many statements ran, by file of source.
type counted map[string]float64

func (w counted) total() float64 {
	sum := 0.0
	for _, n := range w {
		sum += n
	}
	return sum
}

// countWork checks a bake and returns the work and the size of the file.
func (b *bench) countWork(f format, joints, frames int) (counted, int, error) {
	src, err := f.bake(joints, frames)
	if err != nil {
		return nil, 0, err
	}
	path, err := b.put("counted/shot."+f.extension, src)
	if err != nil {
		return nil, 0, err
	}
	counts := filepath.Join(b.dir, "counts")
	if err := os.RemoveAll(counts); err != nil {
		return nil, 0, err
	}
	if err := os.MkdirAll(counts, 0o755); err != nil {
		return nil, 0, err
	}
	os.Setenv("GOCOVERDIR", counts)
	defer os.Unsetenv("GOCOVERDIR")
	if _, err := b.command(0, "check", path); err != nil {
		return nil, 0, err
	}
	profile := filepath.Join(b.dir, "counts.txt")
	if out, err := exec.Command("go", "tool", "covdata", "textfmt", "-i", counts, "-o", profile).CombinedOutput(); err != nil {
		return nil, 0, fmt.Errorf("go tool covdata: %w: %s", err, out)
	}
	w, err := readWork(profile)
	return w, len(src), err
}

// readWork reads a profile: lines of a file with a place, the number of
// statements there and how often they ran.
func readWork(profile string) (counted, error) {
	f, err := os.Open(profile)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	w := counted{}
	lines := bufio.NewScanner(f)
	for lines.Scan() {
		name, rest, _ := strings.Cut(lines.Text(), ":")
		fields := strings.Fields(rest)
		if len(fields) != 3 {
			continue
		}
		statements, err1 := strconv.ParseFloat(fields[1], 64)
		times, err2 := strconv.ParseFloat(fields[2], 64)
		if err1 == nil && err2 == nil {
			w[strings.TrimPrefix(name, "curvelint/")] += statements * times
		}
	}
	if w.total() == 0 {
		return nil, fmt.Errorf("%s holds no counts", profile)
	}
	return w, lines.Err()
}

// compareWork prints with which power of the size the work grows, given the
// logarithm of the ratio of sizes, and returns what grows too fast.
func compareWork(what string, few, many counted, size float64) []string {
	power := func(a, b float64) float64 { return math.Log(b/a) / size }
	all := power(few.total(), many.total())
	fmt.Printf("%-42s power %.2f, %.0f million statements\n", what, all, many.total()/1e6)
	var failed []string
	if all > growthPower {
		failed = append(failed, fmt.Sprintf("%s: power %.2f", what, all))
	}
	var names []string
	for name, n := range many {
		if n > fileShare*many.total() && few[name] > 0 && power(few[name], n) > filePower {
			names = append(names, name)
		}
	}
	slices.Sort(names)
	for _, name := range names {
		failed = append(failed, fmt.Sprintf("%s: %s, power %.2f, %.0f %% of the work", what, name, power(few[name], many[name]), 100*many[name]/many.total()))
	}
	return failed
}
