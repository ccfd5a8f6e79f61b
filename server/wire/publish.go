package wire

import (
	"cmp"
	"context"
	"hash/fnv"
	"slices"

	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"
)

// Publisher tells the client of the diagnostics in files, where they differ from
// those that it was told of before. It is for one goroutine at a time, so that the
// client hears things in order.
type Publisher struct {
	client *Client
	heard  map[uri.URI]heard
}

// heard is what the client knows of a file.
type heard struct {
	hash    uint64
	version Version
}

// Version is the version of an open text that diagnostics are about.
type Version struct {
	Open   bool // the text is open; its version is told
	Number int32
	// Opening is that of the text: an editor may forget the diagnostics of a text
	// when it is closed, and open it again with the same version.
	Opening uint64
}

// NewPublisher returns a publisher of a client that has heard nothing.
func NewPublisher(c *Client) *Publisher {
	return &Publisher{client: c, heard: map[uri.URI]heard{}}
}

// Tell tells of the diagnostics in a file, all there are. V is the zero value for a
// file that is not open.
func (p *Publisher) Tell(f uri.URI, list []protocol.Diagnostic, v Version) {
	now := heard{Hash(list), v}
	before, ever := p.heard[f]
	if before == now || !ever && len(list) == 0 && !v.Open {
		return
	}
	p.heard[f] = now
	if len(list) == 0 && !v.Open {
		delete(p.heard, f)
	}
	params := &protocol.PublishDiagnosticsParams{URI: f, Diagnostics: list}
	if v.Open {
		params.Version = protocol.NewOptional(v.Number)
	}
	if err := p.client.PublishDiagnostics(context.Background(), params); err != nil {
		p.client.Log.Printf("notes on %s could not be sent: %v", f, err)
	}
}

// Heard returns the hash of what the client was told last of a file.
func (p *Publisher) Heard(f uri.URI) uint64 { return p.heard[f].hash }

// Hash returns a number that differs for lists that a client would show in
// different ways.
func Hash(list []protocol.Diagnostic) uint64 {
	h := fnv.New64a()
	for i := range list {
		if b, err := protocol.Marshal(&list[i]); err == nil {
			h.Write(b)
		}
	}
	return h.Sum64()
}

// InOrder puts diagnostics into their order, by place, then by check and message,
// and returns those that a person can tell apart, each once.
func InOrder(list []protocol.Diagnostic) []protocol.Diagnostic {
	slices.SortStableFunc(list, func(a, b protocol.Diagnostic) int {
		return cmp.Or(
			ComparePositions(a.Range.Start, b.Range.Start),
			ComparePositions(a.Range.End, b.Range.End),
			cmp.Compare(a.Severity, b.Severity),
			cmp.Compare(CodeOf(&a), CodeOf(&b)),
			cmp.Compare(MessageOf(&a), MessageOf(&b)),
		)
	})
	return slices.CompactFunc(list, func(x, y protocol.Diagnostic) bool {
		return x.Range == y.Range && CodeOf(&x) == CodeOf(&y) && MessageOf(&x) == MessageOf(&y)
	})
}

// CodeOf returns the check of a diagnostic, "" if it is not one of ours.
func CodeOf(d *protocol.Diagnostic) string {
	code, _ := d.Code.(protocol.String)
	return string(code)
}

// MessageOf returns the message of a diagnostic of ours.
func MessageOf(d *protocol.Diagnostic) string {
	m, _ := d.Message.(protocol.String)
	return string(m)
}
