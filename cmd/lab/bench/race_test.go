package main

import (
	"errors"
	"fmt"
	"strings"
	"testing"
	"time"
)

const ms = time.Millisecond

// scripted is a runner that tells times from a list and writes its name down.
func scripted(name string, order *strings.Builder, times ...time.Duration) runner {
	i := 0
	return func() (time.Duration, error) {
		order.WriteString(name)
		i++
		return times[i-1], nil
	}
}

// Runners take turns, and the first round counts for nobody.
func TestRace(t *testing.T) {
	var order strings.Builder
	got, err := race(3, scripted("a", &order, 100*ms, 4*ms, 2*ms, 9*ms), scripted("b", &order, ms, 6*ms, 6*ms, 7*ms))
	if err != nil || order.String() != "abababab" {
		t.Errorf("%v, order %s", err, order.String())
	}
	if want := []timing{{2 * ms, 4 * ms}, {6 * ms, 6 * ms}}; got[0] != want[0] || got[1] != want[1] {
		t.Errorf("%v, want %v", got, want)
	}
}

func TestRaceEndsAtAnError(t *testing.T) {
	broken := errors.New("broken")
	runs := 0
	_, err := race(3, func() (time.Duration, error) { runs++; return ms, nil }, func() (time.Duration, error) { return 0, broken })
	if !errors.Is(err, broken) || runs != 1 {
		t.Errorf("%v after %d runs", err, runs)
	}
}

func TestSummarize(t *testing.T) {
	given := []time.Duration{5 * ms, ms, 3 * ms}
	if got := summarize(given); got != (timing{ms, 3 * ms}) {
		t.Error(got)
	}
	if given[0] != 5*ms {
		t.Error("the list given was put in order")
	}
	if got := summarize([]time.Duration{2 * ms}); got != (timing{2 * ms, 2 * ms}) {
		t.Error(got)
	}
}

// A ratio is the baseline's time over ours: above 1, ours is faster.
func TestRatios(t *testing.T) {
	tests := []struct {
		base, ours timing
		ratio      string
		better     float64
	}{
		{timing{2 * ms, 9 * ms}, timing{ms, 3 * ms}, "2 / 3", 3},
		{timing{ms, ms}, timing{4 * ms, 8 * ms}, "0.25 / 0.125", 0.25},
		{timing{304 * ms, 341 * ms}, timing{2 * ms, 300 * ms}, "152 / 1.14", 152},
	}
	for _, tt := range tests {
		if got := ratio(tt.base, tt.ours); got != tt.ratio {
			t.Errorf("%v to %v: %s, want %s", tt.base, tt.ours, got, tt.ratio)
		}
		if got := better(tt.base, tt.ours); got != tt.better {
			t.Errorf("%v to %v: %g, want %g", tt.base, tt.ours, got, tt.better)
		}
	}
	if got := share(timing{3 * ms, 3 * ms}, timing{2 * ms, 6 * ms}); got != "1.5× / 0.5×" {
		t.Error(got)
	}
}

func TestFigures(t *testing.T) {
	tests := []struct{ got, want string }{
		{rate(50e6, 250*ms), "200"},
		{rates(10e6, timing{10 * ms, 20 * ms}), "1000 / 500"},
		{milliseconds(1234567 * time.Nanosecond), "1.23"},
		{milliseconds(350 * time.Microsecond), "0.35"},
		{times(timing{ms, 20 * ms}), "1 / 20"},
		{megabytes(145_000), "0.145 MB"},
		{megabytes(5_200_000), "5 MB"},
		{seconds(6125 * ms), "6.12 s"},
	}
	for _, tt := range tests {
		if tt.got != tt.want {
			t.Errorf("%s, want %s", tt.got, tt.want)
		}
	}
}

// What is judged: the median; on a busy machine the processor time, or the best run
// where that is not told.
func TestFair(t *testing.T) {
	clock, used := timing{3 * ms, 8 * ms}, []time.Duration{5 * ms, 2 * ms, 4 * ms}
	tests := []struct {
		busy bool
		used []time.Duration
		want time.Duration
	}{{false, used, 8 * ms}, {true, used, 4 * ms}, {true, nil, 3 * ms}, {true, []time.Duration{0, 0}, 3 * ms}}
	for _, tt := range tests {
		if got := (&bench{busy: tt.busy}).fair(clock, tt.used); got != tt.want {
			t.Errorf("busy %v, used %v: %v, want %v", tt.busy, tt.used, got, tt.want)
		}
	}
}

func TestQuantiles(t *testing.T) {
	var all []time.Duration
	for i := range 200 {
		all = append(all, time.Duration((i*77)%200)*ms) // 0 to 199 in disorder
	}
	if got, want := quantiles(all), [3]time.Duration{100 * ms, 198 * ms, 199 * ms}; got != want {
		t.Errorf("%v, want %v", got, want)
	}
	if got := quantiles(nil); got != [3]time.Duration{} {
		t.Error(got)
	}
	if got := medianOf([]int{9, 1, 5}); got != 5 || medianOf(nil) != 0 {
		t.Error(got)
	}
}

// The rows of the reading race: ours on one core and all, strconv, short decimals.
func TestParsedRow(t *testing.T) {
	one := func(d time.Duration) timing { return timing{d, d} }
	tests := []struct {
		name string
		t    []timing
		want string
		held int // budgets that are not met
	}{
		{"as fast, and half of the decimals", []timing{one(10 * ms), one(5 * ms), one(10 * ms), one(5 * ms)}, "met", 0},
		{"slower than strconv", []timing{one(10 * ms), one(5 * ms), one(9 * ms), one(5 * ms)}, "**missed**", 1},
		{"slower than half of the decimals", []timing{one(10 * ms), one(5 * ms), one(11 * ms), one(4 * ms)}, "**missed**", 1},
		{"slower than both", []timing{one(10 * ms), one(5 * ms), one(2 * ms), one(ms)}, "**missed**", 2},
	}
	for _, tt := range tests {
		b := bench{out: &report{}}
		row := b.parsed("USD, 64 × 10", 1e6, tt.t, false)
		missed := 0
		for _, h := range b.out.held {
			if !h.met {
				missed++
			}
		}
		if row[len(row)-1] != tt.want || missed != tt.held || len(b.out.held) != 2 {
			t.Errorf("%s: %q, %d of %d missed", tt.name, row, missed, len(b.out.held))
		}
	}
	// A busy machine cannot say what the second core gains.
	for _, busy := range []bool{false, true} {
		b := bench{out: &report{}, busy: busy}
		b.parsed("", 1e6, []timing{one(ms), one(ms), one(ms), one(ms)}, true)
		for _, h := range b.out.held {
			if h.budget == "gain of the second core" && (busy || h.met) {
				t.Errorf("busy %v: %+v", busy, h)
			}
		}
	}
}

// The rows beside another server: five steps, ours and theirs in turn.
func TestComparedRows(t *testing.T) {
	var all []timing
	for i := range 5 {
		all = append(all, timing{2 * ms, 2 * ms}, timing{time.Duration(i) * ms, time.Duration(i) * ms})
	}
	b := bench{out: &report{}}
	rows := b.compared(rival{name: "theirs", pull: true}, 145_000, all)
	var got []string
	for _, r := range rows {
		got = append(got, fmt.Sprint(r[1], " ", r[2], " ", r[5], " ", r[6]))
	}
	want := []string{"pulled initialize 0 / 0 **missed**", "pulled open 0.5 / 0.5 **missed**", "pulled edit 1 / 1 met", "pulled hover 1.5 / 1.5 met", "pulled symbols 2 / 2 met"}
	if strings.Join(got, "\n") != strings.Join(want, "\n") {
		t.Errorf("%q", got)
	}
}
