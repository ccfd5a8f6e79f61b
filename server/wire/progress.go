package wire

import (
	"context"
	"fmt"
	"time"

	"go.lsp.dev/protocol"
)

// progressPause is how often at most progress is reported.
const progressPause = 100 * time.Millisecond

// Progress tells the client how far a piece of work is. A nil progress tells
// nothing.
type Progress struct {
	client *Client
	token  protocol.ProgressToken
	last   time.Time
}

// Begin reports the beginning of the work of a request that came with a token;
// without one there is nothing to report to.
func (c *Client) Begin(token protocol.ProgressToken, title string) *Progress {
	if token == nil {
		return nil
	}
	p := &Progress{client: c, token: token}
	p.send(&protocol.WorkDoneProgressBegin{Kind: "begin", Title: title, Percentage: new(uint32(0))})
	return p
}

// beginOwn asks the client for a token for work that no request asked for. It
// waits for the answer, so it must not be called while a message is handled.
func (c *Client) beginOwn(ctx context.Context, title string) *Progress {
	if !c.Abilities.Progress {
		return nil
	}
	token := protocol.String(fmt.Sprintf("curvelint-%d", c.tokens.Add(1)))
	if err := c.WorkDoneProgressCreate(ctx, &protocol.WorkDoneProgressCreateParams{Token: token}); err != nil {
		return nil
	}
	p := &Progress{client: c, token: token}
	p.send(&protocol.WorkDoneProgressBegin{Kind: "begin", Title: title})
	return p
}

// Report tells how many of all things are done.
func (p *Progress) Report(done, all int) {
	if p == nil || all == 0 || time.Since(p.last) < progressPause {
		return
	}
	p.last = time.Now()
	p.send(&protocol.WorkDoneProgressReport{Kind: "report", Message: new(fmt.Sprintf("%d of %d", done, all)), Percentage: new(uint32(100 * done / all))})
}

// End tells that the work is over. It is sent even when the work was cancelled.
func (p *Progress) End(message string) {
	if p == nil {
		return
	}
	e := &protocol.WorkDoneProgressEnd{Kind: "end"}
	if message != "" {
		e.Message = new(message)
	}
	p.send(e)
}

func (p *Progress) send(v any) {
	value, err := protocol.Marshal(v)
	if err == nil {
		err = p.client.Progress(context.Background(), &protocol.ProgressParams{Token: p.token, Value: value})
	}
	if err != nil {
		p.client.Log.Printf("progress: %v", err)
	}
}

// WhenSlow runs f and shows progress with the given title if it takes long.
func (c *Client) WhenSlow(ctx context.Context, title string, f func()) {
	over := make(chan struct{})
	c.Background.Go(func(context.Context) {
		select {
		case <-over:
			return
		case <-ctx.Done():
			return
		case <-time.After(c.Slow):
		}
		p := c.beginOwn(ctx, title)
		select {
		case <-over:
		case <-ctx.Done():
		}
		p.End("")
	})
	defer close(over)
	f()
}
