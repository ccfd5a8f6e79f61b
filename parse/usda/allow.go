package usda

import (
	"bytes"
	"math"
	"strings"

	"curvelint/parse/scene"
	"curvelint/parse/text"
)

const allowMark = "curvelint:"

// allowance notes the allowance that the comment over [start, end) holds:
//
//	curvelint: allow CHECK [FRAMES] because REASON
func (p *parser) allowance(start, end int) {
	n := bytes.Index(p.src[start:end], []byte(allowMark))
	if n < 0 || p.layer == nil {
		return
	}
	start += n
	body := string(p.src[start+len(allowMark) : end])
	if rest, ok := strings.CutSuffix(body, "*/"); ok {
		body, end = rest, end-2
	}
	a, ok := parseAllow(body)
	if !ok {
		p.remark(unsupported, start, end, "expected 'curvelint: allow CHECK because REASON', with frames as in 40-52 after CHECK if it is not for the whole clip; this comment is ignored")
		return
	}
	end = start + len(allowMark) + len(strings.TrimRight(body, " \t\r\n"))
	a.Span = p.where(start, end)
	p.layer.notes = append(p.layer.notes, comment{p.prim, a})
}

// parseAllow reads what follows the mark.
func parseAllow(body string) (a scene.Allow, ok bool) {
	a.First, a.Last = math.NaN(), math.NaN()
	head, why, _ := strings.Cut(body, " because ")
	a.Why = strings.Join(strings.Fields(why), " ")
	words := strings.Fields(head)
	if len(words) == 0 || words[0] != "allow" || len(words) < 2 || len(words) > 3 {
		return a, false
	}
	a.Check = words[1]
	if len(words) == 3 {
		a.First, a.Last, ok = parseFrames(words[2])
		return a, ok
	}
	return a, true
}

// parseFrames reads one frame, or first-last.
func parseFrames(s string) (first, last float64, ok bool) {
	first, end, ok := text.Float([]byte(s), 0)
	if !ok || end == len(s) {
		return first, first, ok
	}
	if s[end] != '-' {
		return 0, 0, false
	}
	last, stop, ok := text.Float([]byte(s), end+1)
	return first, last, ok && stop == len(s) && first <= last
}
