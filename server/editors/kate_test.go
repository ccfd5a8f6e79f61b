package editors_test

import (
	"bufio"
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// TestKate opens a shot in Kate, in every format of its own and in those that Kate
// knows as JSON and XML, on a screen in memory, with the settings and the
// modes of this folder. What Kate shows cannot be read from outside, so the test
// reads what it and the server say to each other: Kate starts the server for the
// mode that it found by itself, opens the text, is given the notes, and asks for
// symbols.
func TestKate(t *testing.T) {
	var programs []string
	for _, name := range []string{"kate", "Xvfb", "dbus-run-session"} {
		path, err := exec.LookPath(name)
		if err != nil {
			t.Skip(name + " is missing: apt-get install kate xvfb dbus")
		}
		programs = append(programs, path)
	}
	_, usda := shot(t)
	for _, file := range []string{usda, "deckhand_spline.gltf", "deckhand_spline.dae", "deckhand_spline.x3d"} {
		t.Run(strings.TrimPrefix(filepath.Ext(file), "."), func(t *testing.T) {
			if file != usda {
				text, err := os.ReadFile("../../testdata/demo/formats/" + file)
				if err != nil {
					t.Fatal(err)
				}
				file = filepath.Join(t.TempDir(), file)
				if err := os.WriteFile(file, text, 0o644); err != nil {
					t.Fatal(err)
				}
			}
			opensInKate(t, programs, file)
		})
	}
}

// opensInKate opens a file in Kate and waits until the notes on it were given. Programs
// are Kate, the screen in memory and the session.
func opensInKate(t *testing.T, programs []string, file string) {
	t.Helper()
	home := t.TempDir()
	trace := filepath.Join(home, "trace.log")
	kateHome(t, home, trace)
	ctx, cancel := context.WithTimeout(t.Context(), 90*time.Second)
	defer cancel()
	env := append(os.Environ(), "HOME="+home, "XDG_CONFIG_HOME="+home+"/config", "XDG_DATA_HOME="+home+"/data",
		"XDG_CACHE_HOME="+home+"/cache", "XDG_RUNTIME_DIR="+home, "DISPLAY="+screen(ctx, t, programs[1]))
	// Asked to end, and not killed at once, the session ends Kate too.
	kate := exec.CommandContext(ctx, programs[2], "--", programs[0], "--startanon", "--block", file)
	kate.Env, kate.WaitDelay = env, 5*time.Second
	kate.Cancel = func() error { return kate.Process.Signal(os.Interrupt) }
	if err := kate.Start(); err != nil {
		t.Fatal(err)
	}
	defer func() { cancel(); kate.Wait() }()
	want := []string{`"method":"initialize"`, `"languageId":"usda"`, `"method":"textDocument/publishDiagnostics"`,
		"head turns evenly", `"method":"textDocument/documentSymbol"`}
	missing := ""
	for ctx.Err() == nil {
		b, _ := os.ReadFile(trace)
		said := strings.ReplaceAll(string(b), `": `, `":`) // Kate writes JSON for people
		missing = ""
		for _, w := range want {
			if !strings.Contains(said, w) {
				missing = w
			}
		}
		if missing == "" {
			return
		}
		time.Sleep(200 * time.Millisecond)
	}
	b, _ := os.ReadFile(trace)
	t.Errorf("without %s, Kate and the server said only:\n%s", missing, tail(b))
}

// kateHome makes a home for Kate with what this folder has for it.
func kateHome(t *testing.T, home, trace string) {
	t.Helper()
	config, modes := filepath.Join(home, "config", "kate", "lspclient"), filepath.Join(home, "data", "org.kde.syntax-highlighting", "syntax")
	for _, dir := range []string{config, modes, filepath.Join(home, "bin")} {
		if err := os.MkdirAll(dir, 0o755); err != nil {
			t.Fatal(err)
		}
	}
	copyFiles(t, "kate", modes, "usda.xml", "bvh.xml", "gltf.xml", "collada.xml", "x3d.xml", "x3dv.xml")
	serve := filepath.Join(home, "bin", "curvelint")
	script := fmt.Sprintf("#!/bin/sh\nexec '%s' serve --trace 2>>'%s'\n", curvelint(t), trace)
	if err := os.WriteFile(serve, []byte(script), 0o755); err != nil {
		t.Fatal(err)
	}
	settings, err := os.ReadFile("kate/settings.json")
	if err != nil {
		t.Fatal(err)
	}
	settings = []byte(strings.ReplaceAll(string(settings), `"curvelint", "serve"`, fmt.Sprintf("%q", serve)))
	rc := "[General]\nShow welcome view for new window=false\n[Kate Plugins]\nlspclientplugin=true\n[KTextEditor Document]\nLine Length Limit=0\n[lspclient]\nAllowedServerCommandLines=" + serve + "\n"
	for path, content := range map[string][]byte{filepath.Join(config, "settings.json"): settings, filepath.Join(home, "config", "katerc"): []byte(rc)} {
		if err := os.WriteFile(path, content, 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// screen starts a screen in memory, which ends with the context, and returns its
// name.
func screen(ctx context.Context, t *testing.T, xvfb string) string {
	t.Helper()
	r, w, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	defer r.Close()
	c := exec.CommandContext(ctx, xvfb, "-displayfd", "3", "-screen", "0", "1400x900x24", "-nolisten", "tcp")
	c.ExtraFiles = []*os.File{w}
	if err := c.Start(); err != nil {
		t.Fatal(err)
	}
	w.Close()
	t.Cleanup(func() { c.Wait() })
	number, err := bufio.NewReader(r).ReadString('\n')
	if err != nil {
		t.Fatal("no screen: ", err)
	}
	return ":" + strings.TrimSpace(number)
}
