package parse

import (
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"golang.org/x/tools/txtar"

	"curvelint/cmd/lab/scenetest"
	"curvelint/parse/scene"
	"curvelint/parse/text"
)

// TestBroken reads every archive of testdata/broken: broken files, what must
// be said about them and what must be kept of them. The first member is the
// file, its name may end in " cut" when the file has no last line end; the
// others are
//
//	want   one line a problem: LINE:COLUMN KIND FRAGMENT, line and column from
//	       1, columns in bytes, FRAGMENT a part of the message
//	keeps  parts N, channels N, keys N (in all channels), frames A-B
//
// A problem without a line and a line without a problem both fail.
func TestBroken(t *testing.T) {
	archives, err := filepath.Glob("../testdata/broken/*/*.txtar")
	if err != nil || len(archives) == 0 {
		t.Fatal("no archives in testdata/broken", err)
	}
	for _, path := range archives {
		name := filepath.Base(filepath.Dir(path)) + "/" + strings.TrimSuffix(filepath.Base(path), ".txtar")
		t.Run(name, func(t *testing.T) { checkBroken(t, path) })
	}
}

func checkBroken(t *testing.T, path string) {
	raw, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	archive := txtar.Parse(raw)
	if len(archive.Files) == 0 || len(strings.TrimSpace(string(archive.Comment))) == 0 {
		t.Fatal("expected a line that says what is broken, then a file and a want")
	}
	file := archive.Files[0]
	name, cut := strings.CutSuffix(file.Name, " cut")
	if cut {
		file.Data = file.Data[:len(file.Data)-1]
	}
	s := Parse(name, file.Data, scene.ReadOptions{})
	if err := scenetest.Check(s); err != nil {
		t.Error(err)
	}
	got := problemLines(s)
	for _, member := range archive.Files[1:] {
		lines := strings.Split(strings.TrimSpace(string(member.Data)), "\n")
		switch member.Name {
		case "want":
			matchProblems(t, lines, got)
		case "keeps":
			for _, line := range lines {
				checkKept(t, s, line)
			}
		default:
			t.Errorf("member %q is neither want nor keeps", member.Name)
		}
	}
}

// problemLines prints the problems of a scene as they are wanted.
func problemLines(s *scene.Scene) (lines []string) {
	for _, p := range s.Problems {
		pos, err := text.NewIndex(s.Files[p.Span.File].Text).Position(int(p.Span.Start), text.UTF8)
		if err != nil {
			pos.Line = -1
		}
		lines = append(lines, fmt.Sprintf("%d:%d %s %s", pos.Line+1, pos.Column+1, p.Kind, p.Message))
	}
	return lines
}

// matchProblems holds each problem to a line with its place, kind and a part
// of its message.
func matchProblems(t *testing.T, want, got []string) {
	t.Helper()
	used := make([]bool, len(got))
next:
	for _, w := range want {
		place, fragment := w, ""
		if n := strings.Index(w, " "); n >= 0 {
			if m := strings.Index(w[n+1:], " "); m >= 0 {
				place, fragment = w[:n+1+m+1], w[n+1+m+1:]
			}
		}
		for i, g := range got {
			if !used[i] && strings.HasPrefix(g, place) && strings.Contains(g[len(place):], fragment) {
				used[i] = true
				continue next
			}
		}
		t.Errorf("missing: %s", w)
	}
	for i, g := range got {
		if !used[i] {
			t.Errorf("not wanted: %s", g)
		}
	}
}

// checkKept holds a scene to one line of a keeps member.
func checkKept(t *testing.T, s *scene.Scene, line string) {
	t.Helper()
	what, value, _ := strings.Cut(line, " ")
	keys := 0
	for i := range s.Channels {
		keys += s.Channels[i].Curve.Len()
	}
	got := map[string]string{
		"parts":    strconv.Itoa(len(s.Parts)),
		"channels": strconv.Itoa(len(s.Channels)),
		"keys":     strconv.Itoa(keys),
		"frames":   fmt.Sprintf("%g-%g", s.First, s.Last),
		"rate":     fmt.Sprintf("%g", s.Rate),
	}[what]
	if got != value {
		t.Errorf("kept %s %s, want %s", what, got, value)
	}
}
