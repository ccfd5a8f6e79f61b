package main

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"time"
)

// finished is what a run of curvelint cost.
type finished struct {
	wall, cpu time.Duration
	wanted    time.Duration // time on processors and waiting for one, 0 if unknown
	peak      int           // resident bytes
	out, errs []byte
	status    int
}

// command runs curvelint with so many processors; 0 for all.
func (b *bench) command(processors int, args ...string) (finished, error) {
	c := exec.Command(b.binary, args...)
	c.Env = os.Environ()
	if processors > 0 {
		c.Env = append(c.Env, "GOMAXPROCS="+strconv.Itoa(processors))
	}
	var out, errs bytes.Buffer
	c.Stdout, c.Stderr = &out, &errs
	start := time.Now()
	if err := c.Start(); err != nil {
		return finished{}, err
	}
	ended, seen := make(chan bool), make(chan finished)
	go func() { seen <- look(c.Process.Pid, ended) }()
	err := c.Wait()
	took := time.Since(start)
	close(ended)
	f := <-seen
	f.wall, f.out, f.errs = took, out.Bytes(), errs.Bytes()
	if c.ProcessState == nil {
		return f, err
	}
	f.status = c.ProcessState.ExitCode()
	f.cpu = c.ProcessState.UserTime() + c.ProcessState.SystemTime()
	if f.status > 1 || f.status < 0 {
		return f, fmt.Errorf("curvelint %v: status %d: %s", args, f.status, f.errs)
	}
	return f, nil
}

// look watches a process until it has ended: how long its threads have been on
// processors or waiting for one (on a machine with other work, what it would
// have used), and the highest resident memory. Both are 0 where the system does
// not tell. What the system says of a child that has ended would hold the
// memory of this process too.
func look(pid int, ended <-chan bool) finished {
	var f finished
	each := map[string]time.Duration{}
	for {
		eachThread(pid, func(thread string, running, waiting time.Duration) { each[thread] = running + waiting })
		f.peak = max(f.peak, memoryOf(pid, "VmHWM:"))
		select {
		case <-ended:
			for _, d := range each {
				f.wanted += d
			}
			return f
		case <-time.After(5 * time.Millisecond):
		}
	}
}

// eachThread visits the threads of a process with the time that each has been
// on a processor and waiting for one, where the system tells.
func eachThread(pid int, visit func(thread string, running, waiting time.Duration)) {
	threads, _ := filepath.Glob(fmt.Sprintf("/proc/%d/task/*/schedstat", pid))
	for _, name := range threads {
		var running, waiting time.Duration
		line, _ := os.ReadFile(name)
		if n, _ := fmt.Sscan(string(line), &running, &waiting); n == 2 {
			visit(name, running, waiting)
		}
	}
}

// processor returns the time that a process has been on processors, 0 where
// the system does not tell.
func processor(pid int) time.Duration {
	sum := time.Duration(0)
	eachThread(pid, func(_ string, running, _ time.Duration) { sum += running })
	return sum
}

// resident returns the resident memory of a process, 0 where the system does
// not tell.
func resident(pid int) int { return memoryOf(pid, "VmRSS:") }

// memoryOf returns a figure of a process in bytes by its name in Linux.
func memoryOf(pid int, name string) int {
	status, err := os.ReadFile(fmt.Sprintf("/proc/%d/status", pid))
	if err != nil {
		return 0
	}
	_, rest, _ := bytes.Cut(status, []byte(name))
	line, _, _ := bytes.Cut(rest, []byte("kB"))
	n, _ := strconv.Atoi(string(bytes.TrimSpace(line)))
	return n * 1024
}

// memory measures the peak of check on one file.
func (b *bench) memory() error {
	b.out.text("\n## Memory of check\n\nHighest resident memory of `curvelint check` on one file, and the time it took. Budget: three times the file, from 20 MB on.\n")
	size := 100_000_000
	if b.quick {
		size = 500e3
	}
	var rows [][]string
	for _, f := range formats {
		src, err := f.sized(64, size)
		if err != nil {
			return err
		}
		path, err := b.put("large."+f.extension, src)
		if err != nil {
			return err
		}
		done, err := b.command(0, "check", "--output", path+".notes", path)
		os.Remove(path)
		if err != nil {
			return err
		}
		share := float64(done.peak) / float64(len(src))
		what := fmt.Sprintf("%s, %s", f.name, megabytes(len(src)))
		budget := "" // of small files the program itself is the most
		if len(src) >= 20e6 {
			budget = b.out.hold("check within three times the file", fmt.Sprintf("%s, %.1f", what, share), share <= 3)
		}
		rows = append(rows, []string{what, megabytes(done.peak), fmt.Sprintf("%.1f×", share), seconds(done.wall), budget})
	}
	b.out.table([]string{"file", "peak", "of the file", "time", "budget"}, rows)
	return nil
}
