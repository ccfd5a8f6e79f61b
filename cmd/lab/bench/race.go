package main

import (
	"fmt"
	"runtime"
	"slices"
	"time"
)

// runner is one side of a race: it does its work once and returns how long
// that took.
type runner func() (time.Duration, error)

// timing is what many runs of one thing took.
type timing struct{ best, median time.Duration }

// timed makes a runner of a function that is timed as a whole, after a
// collection so that nobody pays for another's garbage.
func timed(f func()) runner {
	return func() (time.Duration, error) {
		runtime.GC()
		start := time.Now()
		f()
		return time.Since(start), nil
	}
}

// began is the start of the program.
var began = time.Now()

// alone makes a runner of a function that has one core, and counts the time
// that it computes: on a machine with other work the clock would count that
// too.
func alone(f func()) runner {
	return func() (time.Duration, error) {
		defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
		runtime.GC()
		start := spent()
		f()
		return spent() - start, nil
	}
}

// race lets the runners go one after the other, round by round. The first round
// warms up and does not count.
func race(rounds int, runners ...runner) ([]timing, error) {
	all := make([][]time.Duration, len(runners))
	for round := range rounds + 1 {
		for i, run := range runners {
			d, err := run()
			if err != nil {
				return nil, err
			}
			if round > 0 {
				all[i] = append(all[i], d)
			}
		}
	}
	out := make([]timing, len(runners))
	for i := range all {
		out[i] = summarize(all[i])
	}
	return out, nil
}

func summarize(d []time.Duration) timing {
	d = slices.Sorted(slices.Values(d))
	return timing{d[0], d[len(d)/2]}
}

// ratio compares a baseline with ours, best with best and median with median.
func ratio(base, ours timing) string {
	return fmt.Sprintf("%s / %s", factor(base.best, ours.best), factor(base.median, ours.median))
}

func factor(base, ours time.Duration) string {
	f := float64(base) / float64(ours)
	if f >= 100 {
		return fmt.Sprintf("%.0f", f)
	}
	return fmt.Sprintf("%.3g", f)
}

// better returns the higher of the two ratios of a race: the swing of a shared
// machine can only hide that a budget is met.
func better(base, ours timing) float64 {
	return max(float64(base.best)/float64(ours.best), float64(base.median)/float64(ours.median))
}

func rate(size int, d time.Duration) string {
	return fmt.Sprintf("%.0f", float64(size)/1e6/d.Seconds())
}

func rates(size int, t timing) string { return rate(size, t.best) + " / " + rate(size, t.median) }

func milliseconds(d time.Duration) string {
	return fmt.Sprintf("%.3g", float64(d.Microseconds())/1000)
}

func times(t timing) string { return milliseconds(t.best) + " / " + milliseconds(t.median) }

func megabytes(n int) string {
	if n < 1e6 {
		return fmt.Sprintf("%.3g MB", float64(n)/1e6)
	}
	return fmt.Sprintf("%.0f MB", float64(n)/1e6)
}
