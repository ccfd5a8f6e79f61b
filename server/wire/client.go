package wire

import (
	"context"
	"encoding/json"
	"fmt"
	"sync/atomic"
	"time"

	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"
)

// Client is the editor at the other end of the wire: what may be asked of it, and
// how it counts.
type Client struct {
	protocol.Client
	Positions

	// Abilities are set by Meet, then only read.
	Abilities  Abilities
	Background *Background
	Log        *Log
	// Slow is how long work may take before the person is told of it.
	Slow time.Duration

	tokens atomic.Int64 // how many names the client was given for things of ours
}

// Meet learns what the client can do.
func (c *Client) Meet(p *protocol.InitializeParams) {
	c.Abilities = AbilitiesOf(p)
	c.Positions = Positions{c.Abilities.Encoding}
}

// Register asks the client for a kind of message.
func (c *Client) Register(ctx context.Context, method string, options any) {
	raw, err := json.Marshal(options)
	if err != nil {
		c.Log.Printf("%s: %v", method, err)
		return
	}
	err = c.RegisterCapability(ctx, &protocol.RegistrationParams{Registrations: []protocol.Registration{{
		ID: fmt.Sprintf("curvelint-%d", c.tokens.Add(1)), Method: method, RegisterOptions: raw,
	}}})
	c.Log.UnlessOver(ctx, err)
}

// Warn tells the person something that has no place in a file.
func (c *Client) Warn(format string, args ...any) {
	message := fmt.Sprintf(format, args...)
	c.Log.Printf("%s", message)
	c.Background.Go(func(ctx context.Context) {
		c.ShowMessage(ctx, &protocol.ShowMessageParams{Type: protocol.MessageTypeWarning, Message: "curvelint: " + message})
	})
}

// Say shows a message that is no warning.
func (c *Client) Say(ctx context.Context, message string) error {
	return c.ShowMessage(ctx, &protocol.ShowMessageParams{Type: protocol.MessageTypeInfo, Message: message})
}

// Reveal shows a place in a document if the client can be asked to.
func (c *Client) Reveal(ctx context.Context, at protocol.Location) {
	if !c.Abilities.ShowDocument {
		return
	}
	_, err := c.Client.ShowDocument(ctx, &protocol.ShowDocumentParams{URI: at.URI, TakeFocus: new(true), Selection: &at.Range})
	c.Log.UnlessOver(ctx, err)
}

// Browse shows an address in the browser; a client that does not tells the person
// where it is.
func (c *Client) Browse(ctx context.Context, address string) error {
	u, err := uri.Parse(address) // written as URIs are
	if err != nil {
		return err
	}
	answer, err := c.Client.ShowDocument(ctx, &protocol.ShowDocumentParams{URI: u, External: new(true)})
	if err == nil && answer != nil && answer.Success {
		return nil
	}
	c.Log.UnlessOver(ctx, err)
	return c.Say(ctx, "open "+address)
}
