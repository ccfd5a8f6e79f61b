package config

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
)

// Frames is a range of display frames, both included.
type Frames struct{ First, Last float64 }

// framesForm is a frame or two joined by a hyphen; frames may be negative or
// broken: "40-52", "1001", "-12--4", "12.5".
var framesForm = regexp.MustCompile(`^\s*([-+]?\d+(?:\.\d+)?)(?:\s*-\s*([-+]?\d+(?:\.\d+)?))?\s*$`)

// ParseFrames reads a range such as "40-52", or a single frame.
func ParseFrames(s string) (Frames, error) {
	m := framesForm.FindStringSubmatch(s)
	if m == nil {
		return Frames{}, fmt.Errorf("expected a range of frames such as 40-52, found %q", s)
	}
	first, err := strconv.ParseFloat(m[1], 64)
	last := first
	if err == nil && m[2] != "" {
		last, err = strconv.ParseFloat(m[2], 64)
	}
	if err != nil || math.Abs(first) > maxFrame || math.Abs(last) > maxFrame {
		return Frames{}, fmt.Errorf("expected frames up to %d, found %q", int(maxFrame), s)
	}
	if last < first {
		return Frames{}, fmt.Errorf("the range %s ends before it begins; write the smaller frame first", s)
	}
	return Frames{first, last}, nil
}

// maxFrame is the largest frame number that means anything.
const maxFrame = 1e9

// String writes the range as ParseFrames reads it.
func (f Frames) String() string {
	if f.First == f.Last {
		return frame(f.First)
	}
	return frame(f.First) + "-" + frame(f.Last)
}

func frame(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }
