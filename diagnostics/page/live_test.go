package page

import (
	"bufio"
	"context"
	"fmt"
	"io"
	"net"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
	"time"
)

// serving serves until the test ends and returns the address and what ends it.
func serving(t *testing.T, l *Live) (addr string, end func() error) {
	t.Helper()
	on, err := Listen(0)
	if err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithCancel(t.Context())
	done := make(chan error, 1)
	go func() { done <- l.Serve(ctx, on) }()
	return on.Addr().String(), func() error {
		cancel()
		select {
		case err := <-done:
			return err
		case <-time.After(10 * time.Second):
			return fmt.Errorf("serving does not end")
		}
	}
}

func TestOnlyThisMachine(t *testing.T) {
	l := &Live{}
	l.Show("tug", Encoded(`{"name":"tug"}`))
	addr, end := serving(t, l)
	_, port, _ := net.SplitHostPort(addr)
	for _, tt := range []struct {
		method, path, host string
		status             int
		holds              string
	}{
		{"GET", "/", addr, 200, `{"name":"tug"}`},
		{"GET", "/", "localhost:" + port, 200, "<title>tug</title>"},
		{"GET", "/shot", addr, 200, `{"name":"tug"}`},
		{"GET", "/", "ferry.example:" + port, 403, "this machine only"},
		{"GET", "/shot", "127.0.0.1", 403, ""},
		{"GET", "/other", addr, 404, ""},
		{"GET", "/../live.go", addr, 404, ""},
		{"POST", "/", addr, 405, ""},
		{"OPTIONS", "/shot", addr, 405, ""},
	} {
		r, err := http.NewRequest(tt.method, "http://"+addr+tt.path, nil)
		if err != nil {
			t.Fatal(err)
		}
		r.Host = tt.host
		a, err := http.DefaultClient.Do(r)
		if err != nil {
			t.Fatal(err)
		}
		body, _ := io.ReadAll(a.Body)
		a.Body.Close()
		if a.StatusCode != tt.status || !strings.Contains(string(body), tt.holds) {
			t.Errorf("%s %s of %s: %d, want %d with %q", tt.method, tt.path, tt.host, a.StatusCode, tt.status, tt.holds)
		}
		if a.Header.Get("Access-Control-Allow-Origin") != "" {
			t.Error("other pages may read it")
		}
	}
	if err := end(); err != nil {
		t.Error(err)
	}
}

func TestRefusesOutside(t *testing.T) {
	on, err := net.Listen("tcp", "0.0.0.0:0")
	if err != nil {
		t.Skip("nothing can listen on all addresses here:", err)
	}
	if err := (&Live{}).Serve(t.Context(), on); err == nil || !strings.Contains(err.Error(), "127.0.0.1") {
		t.Errorf("served to the world: %v", err)
	}
}

// Who listens is told how things stand, then of each change; serving ends
// although somebody listens.
func TestEvents(t *testing.T) {
	l := &Live{}
	l.Show("a", Encoded(`{}`))
	addr, end := serving(t, l)
	a, err := http.Get("http://" + addr + "/events")
	if err != nil {
		t.Fatal(err)
	}
	defer a.Body.Close()
	lines := bufio.NewScanner(a.Body)
	stands := func(shot, fault string) string {
		return fmt.Sprintf(`{"revision":%q,"fault":%q}`, digest(Encoded(shot)), fault)
	}
	next := func() string {
		for lines.Scan() {
			if s, ok := strings.CutPrefix(lines.Text(), "data: "); ok {
				return s
			}
		}
		return "end"
	}
	if got := next(); got != stands("{}", "") || a.Header.Get("Content-Type") != "text/event-stream" {
		t.Errorf("first %s", got)
	}
	l.Fail("a.usda is half written")
	if got := next(); got != stands("{}", "a.usda is half written") {
		t.Errorf("then %s", got)
	}
	l.Show("b", Encoded(`{"name":"b"}`))
	if got := next(); got != stands(`{"name":"b"}`, "") {
		t.Errorf("then %s", got)
	}
	if err := end(); err != nil {
		t.Error(err)
	}
	if got := next(); got != "end" {
		t.Errorf("after the end %s", got)
	}
}

// Before anything is shown the page is there and says so.
func TestNothingYet(t *testing.T) {
	l := &Live{}
	w := httptest.NewRecorder()
	l.ServeHTTP(w, httptest.NewRequest("GET", "/", nil))
	if w.Code != 200 || !strings.Contains(w.Body.String(), "<html") || strings.Contains(w.Body.String(), `class="shot"`) {
		t.Errorf("%d %s", w.Code, w.Body)
	}
}
