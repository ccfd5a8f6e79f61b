package cases

import (
	"bytes"
	"fmt"
	"regexp"
	"strconv"
	"strings"
)

// Want is one expected note.
type Want struct {
	File  string
	Line  int // from 1, of the start of the note
	Check string
	Text  string // part of the message
	// InText is true for one that stands at its line in the file itself.
	InText bool
}

// String writes the expectation as in the file want.
func (w Want) String() string {
	return fmt.Sprintf("%s:%d %s %q", w.File, w.Line, w.Check, w.Text)
}

var (
	inText = regexp.MustCompile(`# want ([a-z-]+) ("(?:[^"\\]|\\.)*")`)
	inList = regexp.MustCompile(`^(?:([^\s:]+):)?(\d+) ([a-z-]+) ("(?:[^"\\]|\\.)*")$`)
)

// written reads the expectations at the lines of a text.
func written(file string, text []byte) []Want {
	var list []Want
	for i, line := range bytes.Split(text, []byte("\n")) {
		for _, m := range inText.FindAllSubmatch(line, -1) {
			part, err := strconv.Unquote(string(m[2]))
			if err != nil {
				part = string(m[2])
			}
			list = append(list, Want{File: file, Line: i + 1, Check: string(m[1]), Text: part, InText: true})
		}
	}
	return list
}

// listed reads the file want; notes are in the scene unless a line names
// another file.
func listed(text []byte, scene string) ([]Want, error) {
	var list []Want
	for i, line := range strings.Split(string(text), "\n") {
		line = strings.TrimSpace(line)
		if line == "" {
			continue
		}
		if strings.HasPrefix(line, "?") {
			return nil, fmt.Errorf("line %d of want is a draft; look at the motion and take the ? away when the note is right", i+1)
		}
		m := inList.FindStringSubmatch(line)
		if m == nil {
			return nil, fmt.Errorf("line %d of want: expected LINE CHECK \"part of the message\", got %q", i+1, line)
		}
		n, err := strconv.Atoi(m[2])
		if err != nil {
			return nil, err
		}
		part, err := strconv.Unquote(m[4])
		if err != nil {
			return nil, fmt.Errorf("line %d of want: %w", i+1, err)
		}
		w := Want{File: m[1], Line: n, Check: m[3], Text: part}
		if w.File == "" {
			w.File = scene
		}
		list = append(list, w)
	}
	return list, nil
}

// Unmatched pairs expectations with notes, one to one, and returns those that
// are left over. A note goes to the first expectation that fits it.
func Unmatched(wants []Want, notes []Got) (missing []Want, extra []Got) {
	used := make([]bool, len(wants))
	for _, n := range notes {
		at := -1
		for i, w := range wants {
			if !used[i] && w.File == n.File && w.Line == n.Line && w.Check == n.Check && strings.Contains(n.Message, w.Text) {
				at = i
				break
			}
		}
		if at < 0 {
			extra = append(extra, n)
			continue
		}
		used[at] = true
	}
	for i, w := range wants {
		if !used[i] {
			missing = append(missing, w)
		}
	}
	return missing, extra
}
