package page

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"net"
	"net/http"
	"strconv"
	"sync"
	"time"
)

// Live is a page that is served on this machine and kept up to date: whoever
// looks at it sees each new state without losing the frame, the view or the note
// chosen. Its zero value shows nothing yet. It may be used by several goroutines.
//
// The page's address may carry a place to open at, after #: frame=1036, part=PATH,
// check=ID, joined by &.
type Live struct {
	mu      sync.Mutex
	title   string
	shot    Encoded
	state   state
	waiting map[chan struct{}]bool // one for each browser that listens
}

// state is what browsers are told of.
type state struct {
	// Revision is a digest of the shot shown, "" for none, so that a browser that
	// was left open also notices what another run has to show.
	Revision string `json:"revision"`
	// Fault says why the page is not what is on disk, "" when it is.
	Fault string `json:"fault"`
}

// Listen returns a listener on 127.0.0.1, at a port of the system's choice when
// port is 0.
func Listen(port int) (net.Listener, error) {
	return net.Listen("tcp", net.JoinHostPort("127.0.0.1", strconv.Itoa(port)))
}

// Show replaces what the page shows and takes back a fault. Browsers follow.
func (l *Live) Show(title string, shot Encoded) {
	l.tell(func() {
		l.title, l.shot = title, shot
		l.state.Revision = digest(shot)
		l.state.Fault = ""
	})
}

func digest(shot Encoded) string {
	sum := sha256.Sum256(shot)
	return hex.EncodeToString(sum[:8])
}

// Fail keeps the page as it is and says on it why: a file that is half written,
// or gone.
func (l *Live) Fail(why string) { l.tell(func() { l.state.Fault = why }) }

func (l *Live) tell(change func()) {
	l.mu.Lock()
	defer l.mu.Unlock()
	change()
	for c := range l.waiting {
		select {
		case c <- struct{}{}:
		default: // it has not read the last one yet, and will read this state
		}
	}
}

func (l *Live) now() (string, Encoded, state) {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.title, l.shot, l.state
}

// Serve serves the page until the context ends; then it takes leave of the
// browsers and returns nil. It refuses a listener that other machines can reach.
func (l *Live) Serve(ctx context.Context, on net.Listener) error {
	addr, ok := on.Addr().(*net.TCPAddr)
	if !ok || !addr.IP.IsLoopback() {
		on.Close()
		return fmt.Errorf("%s can be reached from other machines; listen on 127.0.0.1", on.Addr())
	}
	s := &http.Server{
		Handler:           l.onlyHere(addr.Port),
		ReadHeaderTimeout: 10 * time.Second,
		MaxHeaderBytes:    1 << 16,
		// Requests end with the context, so that those who listen do not keep the
		// server.
		BaseContext: func(net.Listener) context.Context { return ctx },
	}
	stop := context.AfterFunc(ctx, func() {
		patience, cancel := context.WithTimeout(context.Background(), 2*time.Second)
		defer cancel()
		if s.Shutdown(patience) != nil {
			s.Close()
		}
	})
	defer stop()
	if err := s.Serve(on); !errors.Is(err, http.ErrServerClosed) {
		return err
	}
	return nil
}

// onlyHere answers requests that name this machine, so that a page from
// elsewhere whose name was made to point here learns nothing.
func (l *Live) onlyHere(port int) http.Handler {
	p := strconv.Itoa(port)
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if r.Host != "127.0.0.1:"+p && r.Host != "localhost:"+p {
			http.Error(w, "this page is for this machine only; open http://127.0.0.1:"+p+"/", http.StatusForbidden)
			return
		}
		l.ServeHTTP(w, r)
	})
}

// ServeHTTP answers for the page at /, the shot at /shot and what happens to it
// at /events. It does not look at where a request comes from; Serve does.
func (l *Live) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	if r.Method != http.MethodGet {
		w.Header().Set("Allow", "GET")
		http.Error(w, "the page can only be read", http.StatusMethodNotAllowed)
		return
	}
	h := w.Header()
	h.Set("Cache-Control", "no-store")
	h.Set("X-Content-Type-Options", "nosniff")
	h.Set("Referrer-Policy", "no-referrer")
	h.Set("Cross-Origin-Resource-Policy", "same-origin")
	title, shot, now := l.now()
	switch r.URL.Path {
	case "/":
		h.Set("Content-Type", "text/html; charset=utf-8")
		h.Set("Content-Security-Policy", policy("'self'")+"; frame-ancestors 'none'")
		l.page(w, title, shot, now)
	case "/shot":
		h.Set("Content-Type", "application/json")
		h.Set("Revision", now.Revision)
		// Whoever does not read the answer is told by his own browser.
		_, _ = w.Write(shot)
	case "/events":
		l.events(w, r)
	default:
		http.NotFound(w, r)
	}
}

func (l *Live) page(w http.ResponseWriter, title string, shot Encoded, now state) {
	p := &Writer{w: w, title: title, live: true, revision: now.Revision}
	if shot != nil {
		if p.Add(shot) != nil {
			return // the browser is gone
		}
	}
	_ = p.Close()
}

// events tells one browser of every change as server-sent events (HTML living
// standard, section 9.2), beginning with how things stand.
func (l *Live) events(w http.ResponseWriter, r *http.Request) {
	flush := http.NewResponseController(w)
	w.Header().Set("Content-Type", "text/event-stream")
	changed := make(chan struct{}, 1)
	changed <- struct{}{}
	l.listen(changed, true)
	defer l.listen(changed, false)
	alive := time.NewTicker(20 * time.Second)
	defer alive.Stop()
	for {
		var err error
		select {
		case <-r.Context().Done():
			return
		case <-alive.C:
			_, err = w.Write([]byte(":\n\n"))
		case <-changed:
			_, _, now := l.now()
			var b []byte
			if b, err = json.Marshal(now); err == nil {
				_, err = fmt.Fprintf(w, "data: %s\n\n", b)
			}
		}
		if err != nil || flush.Flush() != nil {
			return
		}
	}
}

func (l *Live) listen(c chan struct{}, on bool) {
	l.mu.Lock()
	defer l.mu.Unlock()
	if l.waiting == nil {
		l.waiting = map[chan struct{}]bool{}
	}
	if on {
		l.waiting[c] = true
	} else {
		delete(l.waiting, c)
	}
}
