package main

import (
	"bytes"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"syscall"
	"time"
)

// soak is a long simulated editing session: texts are edited, looked at,
// closed, opened and exported anew, at random but the same every time.
type soak struct {
	*wire
	texts     []*session
	rand      *rand.Rand
	latencies []time.Duration // from an edit to its notes
	asked     []time.Duration // of requests
	resident  []int           // of the server, at even distances
	done      map[string]int
}

// soakTexts is how many texts are open.
const soakTexts = 20

// soakFor edits for some time and returns an error when the server's memory or
// its goroutines have grown.
func (b *bench) soakFor(length time.Duration) error {
	s, err := b.soaked()
	if err != nil {
		return err
	}
	fresh, err := b.soaked()
	if err != nil {
		return err
	}
	before, err := fresh.goroutines()
	if err != nil {
		return err
	}
	start := time.Now()
	sample := length / 60
	next := sample
	for time.Since(start) < length {
		if err := s.step(); err != nil {
			return fmt.Errorf("after %v, %v: %w", time.Since(start), s.done, err)
		}
		if time.Since(start) >= next {
			next += sample
			s.resident = append(s.resident, resident(s.process.Process.Pid))
		}
	}
	time.Sleep(time.Second) // what is under way ends
	after, err := s.goroutines()
	if err != nil {
		return err
	}
	return b.soakReport(s, length, before, after)
}

// soaked starts a server and opens the texts in it.
func (b *bench) soaked() (*soak, error) {
	dir := filepath.Join(b.dir, "soak")
	first, _, err := connect(false, dir, b.binary, "serve")
	if err != nil {
		return nil, err
	}
	s := &soak{wire: first.wire, rand: rand.New(rand.NewPCG(20, 7)), done: map[string]int{}}
	for i := range soakTexts {
		f := formats[i%len(formats)]
		text, err := f.sized(8+2*i, []int{40e3, 150e3, 400e3, 1500e3}[i%4])
		if err != nil {
			return nil, err
		}
		path, err := b.put(fmt.Sprintf("soak/shot%02d.%s", i, f.extension), text)
		if err != nil {
			return nil, err
		}
		t := &session{wire: s.wire, folder: dir}
		if _, err := t.open(path, f.extension, text); err != nil {
			return nil, err
		}
		s.texts = append(s.texts, t)
	}
	return s, nil
}

// step does one thing that a person in an editor does.
func (s *soak) step() error {
	t := s.texts[s.rand.IntN(len(s.texts))]
	switch n := s.rand.IntN(100); {
	case n < 50:
		return s.edit(t)
	case n < 58:
		return s.burst(t)
	case n < 64:
		return s.breakAndMend(t)
	case n < 66:
		return s.reopen(t)
	case n < 69:
		return s.export(t)
	}
	return s.look(t)
}

func (s *soak) edit(t *session) error {
	s.done["edits"]++
	t.place(s.rand.IntN(len(t.text)))
	s.forget()
	d, err := t.edit()
	s.latencies = append(s.latencies, d)
	return err
}

// burst types some digits without waiting for notes.
func (s *soak) burst(t *session) error {
	s.done["bursts"]++
	s.forget()
	for range 2 + s.rand.IntN(6) {
		if err := t.press(); err != nil {
			return err
		}
		time.Sleep(time.Duration(s.rand.IntN(60)) * time.Millisecond)
	}
	d, err := t.edit()
	s.latencies = append(s.latencies, d)
	return err
}

// breakAndMend takes the second half of a text away and puts it back.
func (s *soak) breakAndMend(t *session) error {
	s.done["broken texts"]++
	s.forget()
	whole := t.text
	if err := t.replaceAll(whole[:len(whole)/2]); err != nil {
		return err
	}
	if err := t.replaceAll(whole); err != nil {
		return err
	}
	_, err := t.notes(t.uri, t.version)
	return err
}

// reopen closes a text and opens it again.
func (s *soak) reopen(t *session) error {
	s.done["reopened"]++
	if err := t.close(); err != nil {
		return err
	}
	_, err := t.open(t.path, t.lang, t.text)
	return err
}

// export writes the file anew, as an animation package would.
func (s *soak) export(t *session) error {
	s.done["exports"]++
	if err := os.WriteFile(t.path, t.text, 0o644); err != nil {
		return err
	}
	return s.notify("workspace/didChangeWatchedFiles", object{"changes": []object{{"uri": t.uri, "type": 2}}})
}

// look asks for what an editor shows.
func (s *soak) look(t *session) error {
	s.done["looks"]++
	at := object{"position": t.position(0)}
	all := object{"range": object{"start": object{"line": 0, "character": 0}, "end": t.position(0)}}
	for _, ask := range []struct {
		method string
		params object
	}{
		{"textDocument/hover", at}, {"textDocument/definition", at}, {"textDocument/documentSymbol", object{}},
		{"textDocument/inlayHint", all}, {"textDocument/codeLens", object{}}, {"textDocument/foldingRange", object{}},
	} {
		if s.rand.IntN(2) == 0 {
			continue
		}
		d, _, err := t.ask(ask.method, ask.params)
		if err != nil {
			return err
		}
		s.asked = append(s.asked, d)
	}
	return nil
}

// goroutines ends the server by the signal on which Go prints all goroutines,
// and counts them.
func (s *soak) goroutines() (int, error) {
	if runtime.GOOS == "windows" {
		return 0, errors.New("goroutines cannot be counted from outside on this system")
	}
	if err := s.process.Process.Signal(syscall.SIGQUIT); err != nil {
		return 0, err
	}
	_ = s.process.Wait() // it was made to end
	// Those of the collector come and go with the number of processors.
	n := bytes.Count(s.errors.Bytes(), []byte("\ngoroutine ")) - bytes.Count(s.errors.Bytes(), []byte("[GC worker"))
	if n <= 0 {
		return 0, fmt.Errorf("the server did not tell its goroutines: %s", s.errors.Bytes())
	}
	return n, nil
}

// soakReport prints what the session was like.
func (b *bench) soakReport(s *soak, length time.Duration, before, after int) error {
	third := len(s.resident) / 3
	middle, last := medianOf(s.resident[third:2*third]), medianOf(s.resident[2*third:])
	edits, asked := quantiles(s.latencies), quantiles(s.asked)
	fmt.Printf("%v of editing %d texts: %v\n", length, soakTexts, s.done)
	fmt.Printf("edit to notes: median %s ms, p99 %s ms, longest %s ms (%d)\n", milliseconds(edits[0]), milliseconds(edits[1]), milliseconds(edits[2]), len(s.latencies))
	fmt.Printf("requests: median %s ms, p99 %s ms, longest %s ms (%d)\n", milliseconds(asked[0]), milliseconds(asked[1]), milliseconds(asked[2]), len(s.asked))
	fmt.Printf("resident memory: %s in the second third, %s in the last\n", megabytes(middle), megabytes(last))
	fmt.Printf("goroutines: %d in a server that has only opened the texts, %d at the end\n", before, after)
	if float64(last) > 1.15*float64(middle)+8e6 {
		return fmt.Errorf("the server's memory grew from %s to %s", megabytes(middle), megabytes(last))
	}
	if after > before+3 {
		return fmt.Errorf("the server's goroutines grew from %d to %d", before, after)
	}
	return nil
}

func medianOf(v []int) int {
	if len(v) == 0 {
		return 0
	}
	return slices.Sorted(slices.Values(v))[len(v)/2]
}

// quantiles returns the median, the 99th hundredth and the largest.
func quantiles(d []time.Duration) [3]time.Duration {
	if len(d) == 0 {
		return [3]time.Duration{}
	}
	d = slices.Sorted(slices.Values(d))
	return [3]time.Duration{d[len(d)/2], d[len(d)*99/100], d[len(d)-1]}
}
