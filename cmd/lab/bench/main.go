// Bench measures curvelint side by side with what it is held against, all in
// one run, and prints the result as Markdown: reading each format, studying
// and checking, an editing session over a pipe, folders, memory.
//
// Machines differ and shared ones swing, so every figure stands beside its
// baseline: runs alternate between the two, best is compared with best and
// median with median.
package main

import (
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"runtime/debug"
	"slices"
	"strconv"
	"strings"
	"time"
)

// bench is one run.
type bench struct {
	root   string // of the repository
	dir    string // for what is written on the way
	binary string // curvelint, built from root
	rounds int    // of each measurement
	shots  int    // in the folder that is checked
	quick  bool   // small sizes only
	busy   bool   // other work wants the processors too
	out    *report
}

// section is a group of measurements that may be asked for alone.
type section struct {
	name string
	run  func(*bench) error
}

var sections = []section{
	{"parse", (*bench).parse},
	{"loaders", (*bench).loaders},
	{"study", (*bench).study},
	{"memory", (*bench).memory},
	{"start", (*bench).start},
	{"editor", (*bench).editor},
	{"servers", (*bench).servers},
	{"folder", (*bench).folder},
	{"curves", (*bench).curves},
}

func main() {
	b := &bench{}
	only := flag.String("only", "", "measure these `sections` only: "+strings.Join(names(), ","))
	flag.IntVar(&b.rounds, "rounds", 7, "how often each measurement is made")
	flag.IntVar(&b.shots, "shots", 1000, "how many shots of 1 MB the folder holds")
	flag.BoolVar(&b.quick, "quick", false, "small sizes only, to see that everything runs")
	length := flag.Duration("soak", 0, "instead, edit 20 texts for this long and see that nothing grows")
	growth := flag.Bool("growth", false, "instead, count the work for larger and larger files and see that it grows no faster than they do")
	output := flag.String("o", "", "write the tables to `FILE` instead of standard output")
	flag.StringVar(&b.dir, "dir", "", "`folder` for what is written on the way (default: a temporary one)")
	flag.Parse()
	work := func() error { return b.run(*only, *output) }
	if *length > 0 {
		work = func() error { return b.soakFor(*length) }
	}
	if *growth {
		work = b.growth
	}
	if err := b.prepared(work); err != nil {
		fmt.Fprintln(os.Stderr, "bench:", err)
		os.Exit(1)
	}
}

func names() []string {
	var all []string
	for _, s := range sections {
		all = append(all, s.name)
	}
	return all
}

// run makes the measurements asked for, a list of sections or "" for all, and
// writes the tables.
func (b *bench) run(only, output string) error {
	var asked []string
	if only != "" {
		asked = strings.Split(only, ",")
		for _, name := range asked {
			if !slices.Contains(names(), name) {
				return fmt.Errorf("unknown section %q; expected some of %s", name, strings.Join(names(), ","))
			}
		}
	}
	b.out = &report{}
	b.head()
	for _, s := range sections {
		if asked != nil && !slices.Contains(asked, s.name) {
			continue
		}
		fmt.Fprintln(os.Stderr, "bench:", s.name)
		if err := s.run(b); err != nil {
			return fmt.Errorf("%s: %w", s.name, err)
		}
		debug.FreeOSMemory()
		if output == "" {
			continue
		}
		// What is there stays when a later section fails.
		if err := os.WriteFile(output, b.out.bytes(), 0o644); err != nil {
			return err
		}
	}
	b.out.verdict()
	if output != "" {
		return os.WriteFile(output, b.out.bytes(), 0o644)
	}
	_, err := os.Stdout.Write(b.out.bytes())
	return err
}

// prepared does work with everything in place, and removes it afterwards.
func (b *bench) prepared(work func() error) error {
	clean, err := b.prepare()
	if err != nil {
		return err
	}
	defer clean()
	return work()
}

// prepare finds the repository, makes the folder for files and builds
// curvelint into it.
func (b *bench) prepare() (clean func(), err error) {
	gomod, err := exec.Command("go", "env", "GOMOD").Output()
	if err != nil {
		return nil, fmt.Errorf("go env: %w", err)
	}
	b.root = filepath.Dir(strings.TrimSpace(string(gomod)))
	clean = func() {}
	if b.dir == "" {
		if b.dir, err = os.MkdirTemp("", "curvelint-bench-"); err != nil {
			return nil, err
		}
		clean = func() { os.RemoveAll(b.dir) }
	} else if err := os.MkdirAll(b.dir, 0o755); err != nil {
		return nil, err
	}
	b.binary = filepath.Join(b.dir, "curvelint")
	build := exec.Command("go", "build", "-o", b.binary, "./cmd/curvelint")
	build.Dir, build.Stderr = b.root, os.Stderr
	if err := build.Run(); err != nil {
		clean()
		return nil, fmt.Errorf("curvelint cannot be built: %w", err)
	}
	return clean, nil
}

// head says what was measured where, and how to do it again.
func (b *bench) head() {
	command := ".ci/bench.sh"
	flag.Visit(func(f *flag.Flag) {
		if f.Name != "o" && f.Name != "dir" {
			command += fmt.Sprintf(" -%s=%s", f.Name, f.Value)
		}
	})
	revision := "unknown"
	if out, err := exec.Command("git", "-C", b.root, "rev-parse", "--short", "HEAD").Output(); err == nil {
		revision = strings.TrimSpace(string(out))
	}
	b.out.text("# Speed and size\n")
	b.out.text("%s, %d cores, %s on %s/%s, revision %s; %d runs of each, alternating with the baseline.\n",
		time.Now().UTC().Format("2 January 2006"), runtime.NumCPU(), runtime.Version(), runtime.GOOS, runtime.GOARCH, revision, b.rounds)
	if load, err := os.ReadFile("/proc/loadavg"); err == nil {
		word, _, _ := strings.Cut(string(load), " ")
		wanting, _ := strconv.ParseFloat(word, 64)
		if b.busy = wanting > 1.5*float64(runtime.NumCPU()); b.busy {
			b.out.text("The machine was busy with other work (%.0f threads wanted a processor when this began), so that times on the clock\n"+
				"hold waiting too. Budgets are judged by processor time where it is told, else by the best run; a gain of more cores\n"+
				"cannot be judged. On an idle machine the medians on the clock count.\n", wanting)
		}
	}
	b.out.text("Made by `%s`. A ratio is the baseline's time divided by ours: above 1, ours is faster.\n"+
		"The first figure compares the best runs, the second the median ones. MB are millions of bytes.\n", command)
}
