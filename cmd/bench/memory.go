package main

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strconv"
	"syscall"
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
	ended, wanted := make(chan bool), make(chan time.Duration)
	go func() { wanted <- watchWants(c.Process.Pid, ended) }()
	err := c.Wait()
	f := finished{wall: time.Since(start), out: out.Bytes(), errs: errs.Bytes()}
	close(ended)
	f.wanted = <-wanted
	if c.ProcessState == nil {
		return f, err
	}
	f.status = c.ProcessState.ExitCode()
	f.cpu = c.ProcessState.UserTime() + c.ProcessState.SystemTime()
	f.peak = peak(c.ProcessState)
	if f.status > 1 || f.status < 0 {
		return f, fmt.Errorf("curvelint %v: status %d: %s", args, f.status, f.errs)
	}
	return f, nil
}

// watchWants returns how long the threads of a process have been on processors
// or waiting for one by its end, 0 where the system does not tell. On a machine
// with other work it says what the program would have used.
func watchWants(pid int, ended <-chan bool) time.Duration {
	each := map[string]time.Duration{}
	for {
		eachThread(pid, func(thread string, running, waiting time.Duration) { each[thread] = running + waiting })
		select {
		case <-ended:
			sum := time.Duration(0)
			for _, d := range each {
				sum += d
			}
			return sum
		case <-time.After(20 * time.Millisecond):
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

// peak returns the highest resident memory of a process that has ended.
func peak(p *os.ProcessState) int {
	usage, ok := p.SysUsage().(*syscall.Rusage)
	if !ok {
		return 0
	}
	if runtime.GOOS == "darwin" {
		return int(usage.Maxrss)
	}
	return int(usage.Maxrss) * 1024
}

// resident returns the resident memory of a process, 0 where that cannot be
// known.
func resident(pid int) int {
	status, err := os.ReadFile(fmt.Sprintf("/proc/%d/status", pid))
	if err != nil {
		return 0
	}
	_, rest, _ := bytes.Cut(status, []byte("VmRSS:"))
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
		rows = append(rows, []string{what, megabytes(done.peak), fmt.Sprintf("%.1f×", share), seconds(done.wall),
			b.out.hold("check within three times the file", fmt.Sprintf("%s, %.1f", what, share), share <= 3)})
	}
	b.out.table([]string{"file", "peak", "of the file", "time", "budget"}, rows)
	return nil
}
