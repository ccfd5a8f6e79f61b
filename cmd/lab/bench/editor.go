package main

import (
	"fmt"
	"time"
)

// start measures how long it takes from starting the server to its answer to
// initialize.
func (b *bench) start() error {
	b.out.text("\n## Start\n\nFrom starting the process to the answer to `initialize`, milliseconds, best / median. Budget: 20 ms.\n")
	t, err := race(3*b.rounds, func() (time.Duration, error) {
		s, d, err := connect(false, b.dir, b.binary, "serve")
		if err == nil {
			s.end()
		}
		return d, err
	})
	if err != nil {
		return err
	}
	b.out.table([]string{"", "curvelint serve", "budget"}, [][]string{{"start to initialized", times(t[0]),
		b.out.hold("start to initialized in 20 ms", milliseconds(t[0].median)+" ms", b.fair(t[0], nil) <= 20*time.Millisecond)}})
	return nil
}

// work is a size of text that is edited, with its budget from an edit to notes.
type work struct {
	format format
	joints int
	size   int
	budget time.Duration
	asked  time.Duration // budget of hover, symbols and hints; 0 for none
}

func (b *bench) works() []work {
	const ms = time.Millisecond
	if b.quick {
		return []work{{asUSDA, 16, 250e3, 8 * ms, 0}}
	}
	return []work{
		{asUSDA, 24, 250e3, 8 * ms, 5 * ms},
		{asBVH, 24, 250e3, 8 * ms, 5 * ms},
		{asUSDA, 64, 5e6, 25 * ms, 5 * ms},
		{asBVH, 64, 5e6, 25 * ms, 5 * ms},
		{asUSDA, 64, 100e6, 250 * ms, 0},
	}
}

// editor measures an editing session over a pipe, with notes pulled and pushed.
func (b *bench) editor() error {
	b.out.text("\n## Editing over a pipe\n\nA real `curvelint serve`, spoken to over pipes; milliseconds, best / median. An edit replaces a digit in the middle\n" +
		"of the text and is over when the notes on the new version are there: asked for (pulled) or sent unasked (pushed).\n" +
		"On processors is how long the server computed for that, on all of them together. Hints are those of 60 lines; memory is what is resident four seconds after the last edit. Budgets, median: 8, 25 and 250 ms from an edit to notes; 5 ms for hover, symbols and hints up to 5 MB.\n")
	var rows [][]string
	for _, w := range b.works() {
		text, err := w.format.sized(w.joints, w.size)
		if err != nil {
			return err
		}
		path, err := b.put("shot/edited."+w.format.extension, text)
		if err != nil {
			return err
		}
		for _, pull := range []bool{true, false} {
			row, err := b.edited(w, path, text, pull)
			if err != nil {
				return err
			}
			rows = append(rows, row)
		}
	}
	b.out.table([]string{"text", "notes", "open", "edit", "on processors", "hover", "symbols", "hints", "memory, of text", "budget"}, rows)
	return nil
}

func (b *bench) edited(w work, path string, text []byte, pull bool) ([]string, error) {
	s, _, err := connect(pull, b.dir+"/shot", b.binary, "serve")
	if err != nil {
		return nil, err
	}
	defer s.end()
	opened, err := s.open(path, w.format.extension, text)
	if err != nil {
		return nil, err
	}
	what := fmt.Sprintf("%s, %s", w.format.name, megabytes(len(text)))
	rounds := 3 * b.rounds
	if len(text) > 50e6 {
		rounds = b.rounds
	}
	var used []time.Duration
	edit := func() (time.Duration, error) {
		before := processor(s.process.Process.Pid)
		d, err := s.edit()
		used = append(used, processor(s.process.Process.Pid)-before)
		return d, err
	}
	t, err := race(rounds, spaced(edit), s.hover, s.symbols, s.hints)
	if err != nil {
		return nil, err
	}
	kind := "pushed"
	if pull {
		kind = "pulled"
	}
	budget := b.out.hold("edit to notes", fmt.Sprintf("%s, %s, %s ms, %s on processors", what, kind, milliseconds(t[0].median), milliseconds(summarize(used).median)), b.fair(t[0], used) <= w.budget)
	if w.asked > 0 {
		for i, name := range []string{"hover", "symbols", "hints"} {
			met := b.fair(t[i+1], nil) <= w.asked
			if v := b.out.hold(name+" in 5 ms", fmt.Sprintf("%s, %s ms", what, milliseconds(t[i+1].median)), met); v != "met" {
				budget = v
			}
		}
	}
	time.Sleep(4 * time.Second) // as an editor is at rest most of the time
	resident := resident(s.process.Process.Pid)
	memory := fmt.Sprintf("%.0f MB", float64(resident)/1e6)
	if len(text) > 1e6 {
		share := float64(resident) / float64(len(text))
		memory = fmt.Sprintf("%s, %.1f×", memory, share)
		if len(text) > 50e6 {
			if v := b.out.hold("server with the text open within 5 times the text", fmt.Sprintf("%s, %.1f", what, share), share <= 5); v != "met" {
				budget = v
			}
		}
	}
	return []string{what, kind, milliseconds(opened), times(t[0]), times(summarize(used)), times(t[1]), times(t[2]), times(t[3]), memory, budget}, nil
}

// fair returns what a time is judged by: the median, on a busy machine the
// processor time, used, or the best run where that is not known.
func (b *bench) fair(t timing, used []time.Duration) time.Duration {
	switch {
	case !b.busy:
		return t.median
	case used == nil || used[0] == 0:
		return t.best
	}
	return summarize(used).median
}

// spaced lets a moment pass before each run, as between the keys of a typist.
func spaced(run runner) runner {
	return func() (time.Duration, error) {
		time.Sleep(200 * time.Millisecond)
		return run()
	}
}
