package main

import (
	"bufio"
	"fmt"
	"io"
	"net/textproto"
	"os"
	"os/exec"
	"strconv"
	"strings"
	"testing"
	"time"
)

// servesAsProcess is set for a test binary that stands for curvelint serve.
const servesAsProcess = "CURVELINT_TEST_SERVE"

func TestServeHelp(t *testing.T) {
	status, out, errs := call(t, "", "serve", "--help")
	if status != 0 || errs != "" {
		t.Errorf("status %d, errors %q", status, errs)
	}
	golden(t, "help_serve.txt", out)
}

func TestServeListensLocallyOnly(t *testing.T) {
	for _, address := range []string{"0.0.0.0:4389", ":4389", "192.0.2.1:4389"} {
		if status, _, errs := call(t, "", "serve", "--listen", address); status != statusFailed || !strings.Contains(errs, "127.0.0.1") {
			t.Errorf("%s: status %d, %s", address, status, errs)
		}
	}
}

// TestServeProcess speaks to a process over real pipes. It ends at exit while
// its standard input is still open, with the status that the protocol asks for.
func TestServeProcess(t *testing.T) {
	for _, tt := range []struct {
		messages []string
		status   int
	}{
		{[]string{
			`{"jsonrpc":"2.0","id":1,"method":"initialize","params":{"processId":null,"rootUri":null,"capabilities":{}}}`,
			`{"jsonrpc":"2.0","id":2,"method":"shutdown"}`,
			`{"jsonrpc":"2.0","method":"exit"}`,
		}, 0},
		{[]string{`{"jsonrpc":"2.0","method":"exit"}`}, 1},
	} {
		c := exec.Command(os.Args[0])
		c.Env = append(os.Environ(), servesAsProcess+"=1")
		in, err := c.StdinPipe()
		if err != nil {
			t.Fatal(err)
		}
		out, err := c.StdoutPipe()
		if err != nil {
			t.Fatal(err)
		}
		if err := c.Start(); err != nil {
			t.Fatal(err)
		}
		r := bufio.NewReader(out)
		for _, m := range tt.messages {
			fmt.Fprintf(in, "Content-Length: %d\r\n\r\n%s", len(m), m)
			if strings.Contains(m, `"id"`) {
				if answer := readMessage(t, r); !strings.Contains(answer, `"result"`) {
					t.Errorf("%s was answered by %s", m, answer)
				}
			}
		}
		kill := time.AfterFunc(10*time.Second, func() { c.Process.Kill() })
		err = c.Wait()
		kill.Stop()
		if got := c.ProcessState.ExitCode(); got != tt.status {
			t.Errorf("status %d (%v), want %d", got, err, tt.status)
		}
	}
}

func readMessage(t *testing.T, r *bufio.Reader) string {
	t.Helper()
	h, err := textproto.NewReader(r).ReadMIMEHeader()
	if err != nil {
		t.Fatal(err)
	}
	n, err := strconv.Atoi(h.Get("Content-Length"))
	if err != nil {
		t.Fatal(err)
	}
	b := make([]byte, n)
	if _, err := io.ReadFull(r, b); err != nil {
		t.Fatal(err)
	}
	return string(b)
}
