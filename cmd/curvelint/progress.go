package main

import (
	"io"
	"time"

	"github.com/schollz/progressbar/v3"
)

// progress is a bar on a terminal, shown when work lasts. Its zero value shows
// nothing.
type progress struct {
	w      io.Writer
	shared bool // standard output is the same terminal
	total  int
	done   int
	start  time.Time
	bar    *progressbar.ProgressBar // nil until it is worth showing
}

// patience is how long work may take without a bar.
const patience = time.Second

// newProgress returns a bar for a number of files; one file has none.
func newProgress(std streams, total int) *progress {
	if total < 2 || !isTerminal(std.err) {
		return &progress{}
	}
	return &progress{w: std.err, shared: isTerminal(std.out), total: total, start: time.Now()}
}

// pause takes the bar away, so that notes can be printed where it stands.
func (p *progress) pause() {
	if p.shared {
		p.clear()
	}
}

func (p *progress) clear() {
	if p.bar != nil {
		_ = p.bar.Clear() // a bar that cannot be drawn is no loss
	}
}

// step counts one file and shows the bar.
func (p *progress) step() {
	p.done++
	if p.w == nil || time.Since(p.start) < patience {
		return
	}
	if p.bar == nil {
		p.bar = progressbar.NewOptions(p.total, progressbar.OptionSetWriter(p.w), progressbar.OptionClearOnFinish(),
			progressbar.OptionSetDescription("checking"), progressbar.OptionShowCount(), progressbar.OptionSetPredictTime(true),
			progressbar.OptionThrottle(65*time.Millisecond))
	}
	_ = p.bar.Set(p.done)
}

func (p *progress) finish() {
	p.clear()
	p.bar = nil
}
