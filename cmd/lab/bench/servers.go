package main

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"time"
)

// rival is a language server for JSON that editors run, which knows the syntax
// of the same text.
type rival struct {
	name string
	pull bool
	bin  string
}

var rivals = []rival{
	{"vscode-json-languageserver", false, "vscode-json-languageserver"},
	{"vscode-langservers-extracted", true, "vscode-json-language-server"},
}

// servers races the server with language servers for JSON on the same glTF.
func (b *bench) servers() error {
	modules := filepath.Join(b.root, "testdata", "speed", "node_modules", ".bin")
	if _, err := os.Stat(modules); err != nil {
		b.out.text("\n## Language servers for JSON\n\nNot measured: run `npm ci` in testdata/speed first.\n")
		return nil
	}
	b.out.text("\n## Language servers for JSON\n\nThe same `.gltf` in the language servers for JSON that editors run (npm, pinned in testdata/speed): they look at the\n" +
		"syntax, we read the motion, study and check it. Milliseconds, best / median; budget: not slower.\n")
	sizes := []int{145e3, 5e6}
	if b.quick {
		sizes = sizes[:1]
	}
	var rows [][]string
	for _, size := range sizes {
		text, err := asGLTF.sized(24, size)
		if err != nil {
			return err
		}
		path, err := b.put("shot/edited.gltf", text)
		if err != nil {
			return err
		}
		for _, r := range rivals {
			more, err := b.against(r, filepath.Join(modules, r.bin), path, text)
			if err != nil {
				return err
			}
			rows = append(rows, more...)
		}
	}
	b.out.table([]string{"text", "notes", "", "curvelint", "server for JSON", "ratio", "budget"}, rows)
	return nil
}

// against races one server for JSON with ours, the same way of notes on both.
func (b *bench) against(r rival, bin, path string, text []byte) ([][]string, error) {
	command := func(ours bool) (string, []string) {
		if ours {
			return b.binary, []string{"serve"}
		}
		return bin, []string{"--stdio"}
	}
	begin := func(ours bool) runner {
		return func() (time.Duration, error) {
			name, args := command(ours)
			s, d, err := connect(r.pull, filepath.Dir(path), name, args...)
			if err == nil {
				s.end()
			}
			return d, err
		}
	}
	started, err := race(b.rounds, begin(true), begin(false))
	if err != nil {
		return nil, err
	}
	var pair [2]*session
	for i := range pair {
		name, args := command(i == 0)
		if pair[i], _, err = connect(r.pull, filepath.Dir(path), name, args...); err != nil {
			return nil, err
		}
		defer pair[i].end()
	}
	reopen := func(s *session) runner {
		return func() (time.Duration, error) {
			if s.uri != "" {
				if err := s.close(); err != nil {
					return 0, err
				}
				time.Sleep(400 * time.Millisecond) // let it say that there are no notes now
			}
			return s.open(path, "json", text)
		}
	}
	all := []timing{started[0], started[1]}
	for _, pass := range []func(s *session) runner{
		reopen,
		func(s *session) runner { return spaced(s.edit) },
		func(s *session) runner { return s.hover },
		func(s *session) runner { return s.symbols },
	} {
		t, err := race(b.rounds, pass(pair[0]), pass(pair[1]))
		if err != nil {
			return nil, fmt.Errorf("%s: %w", r.name, err)
		}
		all = append(all, t...)
	}
	return b.compared(r, len(text), all), nil
}

func (b *bench) compared(r rival, size int, t []timing) [][]string {
	kind := "pushed"
	if r.pull {
		kind = "pulled"
	}
	var rows [][]string
	for i, step := range []string{"initialize", "open", "edit", "hover", "symbols"} {
		ours, theirs := t[2*i], t[2*i+1]
		what := fmt.Sprintf("%s of %s, %s, %s to %s ms", step, megabytes(size), kind, milliseconds(ours.median), milliseconds(theirs.median))
		rows = append(rows, []string{"glTF, " + megabytes(size), kind, step, times(ours), times(theirs), ratio(theirs, ours),
			b.out.hold("not slower than a server for JSON", what, better(theirs, ours) >= 1)})
	}
	return rows
}

// node returns the path of Node, or "" when it is not installed.
func node() string {
	path, err := exec.LookPath("node")
	if err != nil {
		return ""
	}
	return path
}
