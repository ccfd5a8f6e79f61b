package command

import (
	"context"
	"errors"
	"net"
	"net/http"
	"strconv"
	"strings"
	"sync"
	"time"

	"curvelint/diagnostics/page"
	"curvelint/server/wire"
)

// pictures are charts that a browser on this machine may ask for. They are served
// from memory, from the first one until the session ends, and leave no files.
type pictures struct {
	mu   sync.Mutex
	home string // http://127.0.0.1:PORT/, "" before the first picture
	last int
	svg  map[int][]byte
}

// keptPictures bounds how many charts can be looked at again.
const keptPictures = 32

// add puts a picture where a browser finds it and returns its address.
func (p *pictures) add(c *wire.Client, svg []byte) (address string, err error) {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.home == "" {
		on, err := page.Listen(0)
		if err != nil {
			return "", err
		}
		p.home, p.svg = "http://"+on.Addr().String()+"/", map[int][]byte{}
		c.Background.Go(func(ctx context.Context) { c.Log.UnlessOver(ctx, p.serve(ctx, on)) })
	}
	p.last++
	p.svg[p.last] = svg
	delete(p.svg, p.last-keptPictures)
	return p.home + strconv.Itoa(p.last) + ".svg", nil
}

// serve answers browsers until the context ends.
func (p *pictures) serve(ctx context.Context, on net.Listener) error {
	s := &http.Server{Handler: p, ReadHeaderTimeout: 10 * time.Second, MaxHeaderBytes: 1 << 16}
	stop := context.AfterFunc(ctx, func() { s.Close() })
	defer stop()
	if err := s.Serve(on); !errors.Is(err, http.ErrServerClosed) {
		return err
	}
	return nil
}

// ServeHTTP answers a request for a picture that names this machine, so that a
// page from elsewhere whose name was made to point here learns nothing.
func (p *pictures) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	p.mu.Lock()
	defer p.mu.Unlock()
	if "http://"+r.Host+"/" != p.home || r.Method != http.MethodGet {
		http.Error(w, "these pictures are for this machine only", http.StatusForbidden)
		return
	}
	name, _ := strings.CutSuffix(strings.TrimPrefix(r.URL.Path, "/"), ".svg")
	n, err := strconv.Atoi(name)
	svg := p.svg[n]
	if err != nil || svg == nil {
		http.NotFound(w, r)
		return
	}
	h := w.Header()
	h.Set("Content-Type", "image/svg+xml")
	h.Set("Content-Security-Policy", "default-src 'none'; style-src 'unsafe-inline'")
	h.Set("Cache-Control", "no-store")
	h.Set("X-Content-Type-Options", "nosniff")
	h.Set("Cross-Origin-Resource-Policy", "same-origin")
	_, _ = w.Write(svg) // whoever does not read the answer has gone
}
