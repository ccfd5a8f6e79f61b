package server

import (
	"context"
	"fmt"
	"time"

	"go.lsp.dev/protocol"
)

const (
	// slow is how long work may take before the person is told of it.
	slow = time.Second
	// progressPause is how often at most progress is reported.
	progressPause = 100 * time.Millisecond
)

// progress tells the client how far a piece of work is. A nil progress tells
// nothing.
type progress struct {
	s     *Server
	token protocol.ProgressToken
	last  time.Time
}

// begin reports the beginning of the work of a request that came with a token;
// without one there is nothing to report to.
func (s *Server) begin(_ context.Context, token protocol.ProgressToken, title string) *progress {
	if token == nil {
		return nil
	}
	p := &progress{s: s, token: token}
	p.send(&protocol.WorkDoneProgressBegin{Kind: "begin", Title: title, Percentage: new(uint32(0))})
	return p
}

// beginOwn asks the client for a token for work that no request asked for. It
// waits for the answer, so it must not be called while a message is handled.
func (s *Server) beginOwn(ctx context.Context, title string) *progress {
	if !s.can.progress {
		return nil
	}
	token := protocol.String(fmt.Sprintf("curvelint-%d", s.registrations.Add(1)))
	if err := s.client.WorkDoneProgressCreate(ctx, &protocol.WorkDoneProgressCreateParams{Token: token}); err != nil {
		return nil
	}
	p := &progress{s: s, token: token}
	p.send(&protocol.WorkDoneProgressBegin{Kind: "begin", Title: title})
	return p
}

// report tells how many of all things are done.
func (p *progress) report(done, all int) {
	if p == nil || all == 0 || time.Since(p.last) < progressPause {
		return
	}
	p.last = time.Now()
	p.send(&protocol.WorkDoneProgressReport{Kind: "report", Message: new(fmt.Sprintf("%d of %d", done, all)), Percentage: new(uint32(100 * done / all))})
}

// end tells that the work is over. It is sent even when the work was cancelled.
func (p *progress) end(message string) {
	if p == nil {
		return
	}
	e := &protocol.WorkDoneProgressEnd{Kind: "end"}
	if message != "" {
		e.Message = new(message)
	}
	p.send(e)
}

func (p *progress) send(v any) {
	value, err := protocol.Marshal(v)
	if err == nil {
		err = p.s.client.Progress(context.Background(), &protocol.ProgressParams{Token: p.token, Value: value})
	}
	if err != nil {
		p.s.log("progress: %v", err)
	}
}

// whenSlow runs f and shows progress with the given title if it takes long.
func (s *Server) whenSlow(ctx context.Context, title string, f func()) {
	over := make(chan struct{})
	s.background(func(context.Context) {
		select {
		case <-over:
			return
		case <-ctx.Done():
			return
		case <-time.After(s.options.slow):
		}
		p := s.beginOwn(ctx, title)
		select {
		case <-over:
		case <-ctx.Done():
		}
		p.end("")
	})
	defer close(over)
	f()
}
