package main

import (
	"bufio"
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"net/textproto"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"
)

// runsAsProcess is set for a test binary that stands for curvelint itself.
const runsAsProcess = "CURVELINT_TEST_MAIN"

// process returns a command that runs curvelint in a process of its own.
func process(t *testing.T, args ...string) *exec.Cmd {
	t.Helper()
	c := exec.CommandContext(t.Context(), os.Args[0], args...)
	c.Env = append(os.Environ(), runsAsProcess+"=1")
	return c
}

// limited is process under limits of the shell's ulimit, such as "-n 10".
func limited(t *testing.T, limit string, args ...string) *exec.Cmd {
	t.Helper()
	sh, err := exec.LookPath("sh")
	if err != nil {
		t.Skip("needs a shell that can set limits: install a POSIX sh")
	}
	c := exec.CommandContext(t.Context(), sh, append([]string{"-c", "ulimit " + limit + ` && exec "$0" "$@"`, os.Args[0]}, args...)...)
	c.Env = append(os.Environ(), runsAsProcess+"=1")
	return c
}

// ran is what a process did.
type ran struct {
	status    int
	out, errs string
}

// finish runs a command to its end. It fails the test when the process died of
// a fault instead of saying what is wrong.
func finish(t *testing.T, c *exec.Cmd) ran {
	t.Helper()
	var out, errs bytes.Buffer
	if c.Stdout == nil {
		c.Stdout = &out
	}
	c.Stderr = &errs
	if err := c.Run(); c.ProcessState == nil {
		t.Fatal(err)
	}
	r := ran{c.ProcessState.ExitCode(), out.String(), errs.String()}
	if strings.Contains(r.errs, "goroutine ") || r.status > 2 || r.status < 0 {
		t.Errorf("%v: status %d, %s", c.Args, r.status, r.errs)
	}
	return r
}

// listing is all files below a folder with their contents.
func listing(t *testing.T, dir string) map[string]string {
	t.Helper()
	files := map[string]string{}
	err := filepath.WalkDir(dir, func(path string, d os.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		b, err := os.ReadFile(path)
		files[path] = string(b)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return files
}

// session speaks to a server in a process of its own.
type session struct {
	t       *testing.T
	process *exec.Cmd
	in      io.WriteCloser
	out     *bufio.Reader
	id      int
}

// serving starts a server and shakes hands. Pid is the process that the editor
// claims to be, 0 for none.
func serving(t *testing.T, c *exec.Cmd, pid int) *session {
	t.Helper()
	s := &session{t: t, process: c}
	var err error
	if s.in, err = c.StdinPipe(); err != nil {
		t.Fatal(err)
	}
	out, err := c.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	s.out = bufio.NewReader(out)
	if err := c.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { c.Process.Kill(); c.Wait() })
	claimed := "null"
	if pid != 0 {
		claimed = strconv.Itoa(pid)
	}
	s.call("initialize", `{"processId":`+claimed+`,"rootUri":null,"capabilities":{"textDocument":{"publishDiagnostics":{"versionSupport":true}}}}`)
	s.notify("initialized", "{}")
	return s
}

func (s *session) send(body string) error {
	_, err := fmt.Fprintf(s.in, "Content-Length: %d\r\n\r\n%s", len(body), body)
	return err
}

func (s *session) notify(method, params string) {
	_ = s.send(fmt.Sprintf(`{"jsonrpc":"2.0","method":%q,"params":%s}`, method, params)) // it may be dead on purpose
}

// heard is a message of the server.
type heard struct {
	ID     json.RawMessage `json:"id"`
	Method string          `json:"method"`
	Params json.RawMessage `json:"params"`
	Result json.RawMessage `json:"result"`
}

// next returns the next message, false at the end of the connection.
func (s *session) next() (heard, bool) {
	var m heard
	h, err := textproto.NewReader(s.out).ReadMIMEHeader()
	if err != nil {
		return m, false
	}
	n, err := strconv.Atoi(h.Get("Content-Length"))
	if err != nil {
		s.t.Fatal(err)
	}
	b := make([]byte, n)
	if _, err := io.ReadFull(s.out, b); err != nil {
		return m, false
	}
	if err := json.Unmarshal(b, &m); err != nil {
		s.t.Fatalf("%v: %s", err, b)
	}
	return m, true
}

func (s *session) call(method, params string) heard {
	s.t.Helper()
	s.id++
	if err := s.send(fmt.Sprintf(`{"jsonrpc":"2.0","id":%d,"method":%q,"params":%s}`, s.id, method, params)); err != nil {
		s.t.Fatal(err)
	}
	for {
		m, ok := s.next()
		if !ok {
			s.t.Fatalf("no answer to %s", method)
		}
		if m.Method == "" && string(m.ID) == strconv.Itoa(s.id) {
			return m
		}
	}
}

// notes waits for the notes on a version of a text and returns them as they
// came over the wire; false when the server dies first.
func (s *session) notes(uri string, version int) (string, bool) {
	for {
		m, ok := s.next()
		if !ok {
			return "", false
		}
		var p struct {
			URI         string
			Version     int
			Diagnostics json.RawMessage
		}
		if m.Method == "textDocument/publishDiagnostics" && json.Unmarshal(m.Params, &p) == nil && p.URI == uri && p.Version == version {
			return string(p.Diagnostics), true
		}
	}
}

func (s *session) open(uri, text string, version int) {
	quoted, err := json.Marshal(text)
	if err != nil {
		s.t.Fatal(err)
	}
	s.notify("textDocument/didOpen", fmt.Sprintf(`{"textDocument":{"uri":%q,"languageId":"usda","version":%d,"text":%s}}`, uri, version, quoted))
}

// ends waits for the end of the server and returns its exit status.
func (s *session) ends() int {
	s.t.Helper()
	kill := time.AfterFunc(20*time.Second, func() {
		s.t.Error("the server does not end")
		s.process.Process.Kill()
	})
	defer kill.Stop()
	s.process.Wait()
	return s.process.ProcessState.ExitCode()
}
