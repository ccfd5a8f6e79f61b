package wire

import (
	"context"
	"fmt"
	"io"
	"sync"
)

// Log writes lines for whoever started the server. The zero value keeps silent.
type Log struct {
	mu sync.Mutex
	to io.Writer
}

// NewLog returns a log that writes to w, which may be nil.
func NewLog(w io.Writer) *Log { return &Log{to: w} }

// Printf writes a line.
func (l *Log) Printf(format string, args ...any) {
	if l.to == nil {
		return
	}
	l.mu.Lock()
	defer l.mu.Unlock()
	fmt.Fprintf(l.to, "curvelint: "+format+"\n", args...)
}

// UnlessOver logs an error that is not just the end of its task.
func (l *Log) UnlessOver(ctx context.Context, err error) {
	if err != nil && ctx.Err() == nil {
		l.Printf("%v", err)
	}
}
