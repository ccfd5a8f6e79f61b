package scene

import (
	"bytes"
	"fmt"
	"math"
	"strconv"
	"strings"
)

// FindAllow looks for an allowance in the text of a comment, which stands at
// the given span. found is false when there is none. An allowance that is not
// written as Allow says gives an error, to be reported at a.Span. The part is
// the caller's to fill in.
func FindAllow(comment []byte, at Span) (a Allow, found bool, err error) {
	const mark = "curvelint:"
	start := bytes.Index(comment, []byte(mark))
	if start < 0 {
		return Allow{}, false, nil
	}
	words := strings.Fields(string(comment[start+len(mark):]))
	end := start + len(bytes.TrimRight(comment[start:], " \t\r\n"))
	a = Allow{Part: NoPart, First: math.NaN(), Last: math.NaN(),
		Span: Span{File: at.File, Start: at.Start + uint32(start), End: at.Start + uint32(end)}}
	if len(words) < 2 || words[0] != "allow" || words[1] == "because" {
		return a, true, fmt.Errorf("expected curvelint: allow CHECK [FRAMES] because REASON")
	}
	a.Check, words = words[1], words[2:]
	if len(words) > 0 && words[0] != "because" {
		first, last, ok := frameRange(words[0])
		if !ok {
			return a, true, fmt.Errorf("expected frames such as 40 or 40-52, or because and a reason, found %q", words[0])
		}
		a.First, a.Last, words = first, last, words[1:]
	}
	if len(words) > 0 && words[0] != "because" {
		return a, true, fmt.Errorf("expected because and a reason, found %q", words[0])
	}
	if len(words) > 0 {
		a.Why = strings.Join(words[1:], " ")
	}
	return a, true, nil
}

// frameRange reads one frame, 40, or a range, 40-52; frames may be negative or
// fractional.
func frameRange(s string) (first, last float64, ok bool) {
	if s == "" {
		return 0, 0, false
	}
	one, two := s, s
	if n := strings.IndexByte(s[1:], '-'); n >= 0 {
		one, two = s[:n+1], s[n+2:]
	}
	first, err := strconv.ParseFloat(one, 64)
	if err != nil {
		return 0, 0, false
	}
	last, err = strconv.ParseFloat(two, 64)
	return first, last, err == nil && first <= last && last-first <= math.MaxInt32
}
