package main

import (
	"bufio"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"time"
)

// watcher is a check --watch that runs.
type watcher struct {
	process   *exec.Cmd
	summaries chan string // lines of standard error
	notes     *os.File    // standard output
}

// watched measures check --watch on a folder: how long after a change the notes
// are there, whether its memory stays, and how soon an interrupt ends it.
func (b *bench) watched(dir string, n int) error {
	w, err := b.watch(dir)
	if err != nil {
		return err
	}
	defer w.notes.Close()
	defer w.process.Process.Kill() // nothing happens when it has ended
	if err := w.checked(n); err != nil {
		return err
	}
	time.Sleep(time.Second)
	before := resident(w.process.Process.Pid)
	var took []time.Duration
	for round := range 2 * b.rounds {
		d, err := w.touch(dir, 1+round%5*n/50)
		if err != nil {
			return err
		}
		took = append(took, d)
	}
	after := resident(w.process.Process.Pid)
	start := time.Now()
	if err := w.process.Process.Signal(os.Interrupt); err != nil {
		return err
	}
	_ = w.process.Wait() // its status is that of the notes
	ended := time.Since(start)
	t := summarize(took)
	b.out.text("`--watch` on the same folder, %d times some of its files written anew: the notes are there %s ms after the last of them\n"+
		"(best / median; 250 ms are waited for more). Memory %s after the first round, %s at the end: %s. An interrupt ended it after %s ms: %s.\n",
		len(took), times(t), megabytes(before), megabytes(after),
		b.out.hold("--watch keeps its memory", megabytes(before)+" to "+megabytes(after), float64(after) < 1.25*float64(before)+8e6),
		milliseconds(ended), b.out.hold("interrupt within 100 ms", "--watch, "+milliseconds(ended)+" ms", ended <= 100*time.Millisecond))
	return nil
}

// watch starts check --watch on a folder.
func (b *bench) watch(dir string) (*watcher, error) {
	w := &watcher{process: exec.Command(b.binary, "check", "--watch", dir), summaries: make(chan string, 100)}
	var err error
	if w.notes, err = os.Create(filepath.Join(b.dir, "watched.txt")); err != nil {
		return nil, err
	}
	w.process.Stdout = w.notes
	out, err := w.process.StderrPipe()
	if err != nil {
		return nil, err
	}
	go w.listen(out)
	return w, w.process.Start()
}

func (w *watcher) listen(out io.Reader) {
	defer close(w.summaries)
	for lines := bufio.NewScanner(out); lines.Scan(); {
		w.summaries <- lines.Text()
	}
}

// checked waits for the line that sums up a check of n files: a count of them,
// of one file its name.
func (w *watcher) checked(n int) error {
	limit := time.After(10 * time.Minute)
	for {
		select {
		case line, ok := <-w.summaries:
			if !ok {
				return fmt.Errorf("--watch has ended")
			}
			if n == 1 || strings.HasPrefix(line, fmt.Sprint(n, " files")) {
				return nil
			}
		case <-limit:
			return fmt.Errorf("--watch has not checked %d files", n)
		}
	}
}

// touch writes some files of a folder anew and returns how long after that the
// notes on them were there.
func (w *watcher) touch(dir string, n int) (time.Duration, error) {
	names, err := filepath.Glob(filepath.Join(dir, "*", "*"))
	if err != nil {
		return 0, err
	}
	for _, name := range names[:min(n, len(names))] {
		content, err := os.ReadFile(name)
		if err != nil {
			return 0, err
		}
		if err := os.WriteFile(name, content, 0o644); err != nil {
			return 0, err
		}
	}
	start := time.Now()
	err = w.checked(min(n, len(names)))
	return time.Since(start), err
}
