package main

import (
	"bufio"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strconv"
	"strings"
	"time"
)

// loaders races reading with the loaders of an npm package.
func (b *bench) loaders() error {
	script := filepath.Join(b.root, "testdata", "reference", "speed.mjs")
	if _, err := os.Stat(filepath.Join(filepath.Dir(script), "node_modules")); err != nil || node() == "" {
		b.out.text("\n## Loaders for the browser\n\nNot measured: install Node and run `npm ci` in testdata/reference first.\n")
		return nil
	}
	b.out.text("\n## Loaders for the browser\n\nThe same bytes in memory read by the loaders of the npm package `three` (pinned in testdata/reference), which keep no places,\n"+
		"and by ours on %d cores. MB/s, best / median. Budget: ten times as fast.\n", runtime.NumCPU())
	frames := 2500
	if b.quick {
		frames = 200
	}
	loader, err := startLoader(script)
	if err != nil {
		return err
	}
	defer loader.end()
	var rows [][]string
	for _, f := range []format{asBVH, asUSDA, formats[3], asGLTF} {
		src, err := f.bake(64, frames)
		if err != nil {
			return err
		}
		path, err := b.put("loaded."+f.extension, src)
		if err != nil {
			return err
		}
		t, err := race(max(3, b.rounds/2), reading(timed, f, src), func() (time.Duration, error) { return loader.load(path) })
		if err != nil {
			return err
		}
		what := fmt.Sprintf("%s, 64 × %d, %s", f.name, frames, megabytes(len(src)))
		rows = append(rows, []string{what, rates(len(src), t[0]), rates(len(src), t[1]), ratio(t[1], t[0]),
			b.out.hold("ten times the npm loaders", what, better(t[1], t[0]) >= 10)})
	}
	b.out.table([]string{"joints × frames", "curvelint", "`three`", "ratio", "budget"}, rows)
	return nil
}

// loader is a process of Node that loads files when told to.
type loader struct {
	process *exec.Cmd
	tell    *bufio.Writer
	hear    *bufio.Scanner
	shut    func() error
}

func startLoader(script string) (*loader, error) {
	c := exec.Command(node(), "--max-old-space-size=8192", script)
	c.Dir, c.Stderr = filepath.Dir(script), os.Stderr
	in, err := c.StdinPipe()
	if err != nil {
		return nil, err
	}
	out, err := c.StdoutPipe()
	if err != nil {
		return nil, err
	}
	return &loader{c, bufio.NewWriter(in), bufio.NewScanner(out), in.Close}, c.Start()
}

// load has a file loaded and returns how long that took, without reading the
// file from disk.
func (l *loader) load(path string) (time.Duration, error) {
	fmt.Fprintln(l.tell, path)
	if err := l.tell.Flush(); err != nil {
		return 0, err
	}
	if !l.hear.Scan() {
		return 0, fmt.Errorf("the loaders ended: %v", l.hear.Err())
	}
	ms, err := strconv.ParseFloat(strings.TrimSpace(l.hear.Text()), 64)
	if err != nil {
		return 0, fmt.Errorf("the loader of %s: %s", filepath.Base(path), l.hear.Text())
	}
	return time.Duration(ms * float64(time.Millisecond)), nil
}

func (l *loader) end() {
	l.shut()
	l.process.Wait()
}
