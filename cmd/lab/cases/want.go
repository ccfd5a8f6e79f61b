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

// draftMark begins what a person has yet to look at.
const draftMark = "?"

// written reads the expectations at the lines of a text.
func written(file string, text []byte) ([]Want, error) {
	var list []Want
	for i, line := range bytes.Split(text, []byte("\n")) {
		found := inText.FindAllSubmatch(line, -1)
		if len(found) < bytes.Count(line, []byte("# want ")) {
			return nil, fmt.Errorf("%s:%d: expected # want CHECK \"part of the message\"", file, i+1)
		}
		for _, m := range found {
			part, err := quoted(string(m[2]))
			if err != nil {
				return nil, fmt.Errorf("%s:%d: %w", file, i+1, err)
			}
			list = append(list, Want{File: file, Line: i + 1, Check: string(m[1]), Text: part, InText: true})
		}
	}
	return list, nil
}

// quoted reads the part of a message that is expected. An empty one would be
// part of every message.
func quoted(s string) (string, error) {
	part, err := strconv.Unquote(s)
	if err == nil && strings.TrimSpace(part) == "" {
		err = fmt.Errorf("an expected note has words of its message")
	}
	return part, err
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
		if strings.HasPrefix(line, draftMark) {
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
		part, err := quoted(m[4])
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

// frames are those that a message begins with.
var frames = regexp.MustCompile(`^frames? [^:]*[0-9]`)

// Unframed returns the expectations that fit a note about frames but leave its
// frames open: they would let a note pass that has moved.
func Unframed(wants []Want, notes []Got) (loose []Want) {
	for _, w := range wants {
		for _, n := range notes {
			if at := frames.FindString(n.Message); at != "" && w.fits(n) && !strings.Contains(w.Text, at) {
				loose = append(loose, w)
				break
			}
		}
	}
	return loose
}

// fits reports whether a note is the expected one.
func (w Want) fits(n Got) bool {
	return w.File == n.File && w.Line == n.Line && w.Check == n.Check && strings.Contains(n.Message, w.Text)
}

// Unmatched pairs expectations with notes, one to one, and returns those that
// are left over. A note goes to the first expectation that fits it.
func Unmatched(wants []Want, notes []Got) (missing []Want, extra []Got) {
	used := make([]bool, len(wants))
	for _, n := range notes {
		at := -1
		for i, w := range wants {
			if !used[i] && w.fits(n) {
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
