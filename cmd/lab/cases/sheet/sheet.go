package sheet

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/cmd/lab/designed"
)

// Shot reads a sheet. An error names the line that is wrong.
func Shot(text string) (*designed.Shot, error) {
	r := &reader{Shot: designed.NewShot("sheet", 0), last: 48}
	for _, line := range strings.FieldsFunc(text, func(c rune) bool { return c == '\n' || c == ';' }) {
		line, _, _ = strings.Cut(line, "#")
		words := strings.Fields(line)
		if len(words) == 0 {
			continue
		}
		if err := r.line(words); err != nil {
			return nil, fmt.Errorf("%q: %w", strings.TrimSpace(line), err)
		}
	}
	if len(r.Parts) == 0 {
		return nil, fmt.Errorf("the sheet has no part; begin with a line such as figure body Tug")
	}
	r.Length = r.time(r.last)
	return r.Shot, nil
}

// reader is a shot that is being read.
type reader struct {
	*designed.Shot
	last float64 // display frame
}

// time returns the seconds from the first frame to a display frame.
func (r *reader) time(frame float64) float64 { return (frame - float64(r.First)) / r.Rate }

func (r *reader) line(words []string) error {
	switch rest := words[1:]; words[0] {
	case "rate":
		v, err := numbers(rest, 1, 1)
		if err != nil {
			return err
		}
		if v[0] <= 0 || len(r.Parts) > 0 {
			return fmt.Errorf("a rate is above 0 and comes before the parts")
		}
		r.Rate = v[0]
	case "last":
		v, err := numbers(rest, 1, 1)
		if err != nil {
			return err
		}
		if v[0] < 2 || v[0] > longest {
			return fmt.Errorf("the last frame is between 2 and %d", longest)
		}
		r.last = v[0]
	case "figure":
		return r.figure(rest)
	case "part":
		return r.part(rest)
	case "weight":
		if len(rest) != 1 {
			return fmt.Errorf("expected the weight's path: weight head/smile")
		}
		return r.add(rest[0], designed.Part{Kind: designed.Weight, Value: designed.Still(0)})
	default:
		return r.channel(words)
	}
	return nil
}

// longest is the last frame that a case may have: it is a small file.
const longest = 2000

// figure adds a figure of a kind.
func (r *reader) figure(words []string) error {
	if len(words) < 2 || len(words) > 3 {
		return fmt.Errorf("expected figure KIND NAME, and perhaps a size")
	}
	k := 1.0
	if len(words) == 3 {
		v, err := numbers(words[2:], 1, 1)
		if err != nil {
			return err
		}
		k = v[0]
	}
	name := words[1]
	switch words[0] {
	case "body":
		designed.NewBody(r.Shot, -1, name, designed.Snake, k)
	case "beast":
		designed.NewQuadruped(r.Shot, -1, name, designed.Snake, k)
	case "bird":
		designed.NewBird(r.Shot, -1, name, designed.Snake, k)
	case "face", "weights":
		designed.NewFace(r.Shot, -1, name, designed.Snake, k, words[0] == "weights")
	case "tail":
		designed.NewChain(r.Shot, -1, name, "tail", designed.Snake, 4, 60*k, r3.Vec{Z: -12 * k})
	default:
		return fmt.Errorf("no figure is called %q; there are body, beast, bird, face, weights and tail", words[0])
	}
	return nil
}

// part adds a part of its own.
func (r *reader) part(words []string) error {
	if len(words) != 5 || words[1] != "at" {
		return fmt.Errorf("expected part PATH at X Y Z")
	}
	v, err := numbers(words[2:], 3, 3)
	if err != nil {
		return err
	}
	if !strings.Contains(words[0], "/") {
		// What stands alone is a figure, so that formats with skeletons have one.
		r.Figures = append(r.Figures, designed.Figure{Name: words[0], Root: len(r.Parts)})
	}
	return r.add(words[0], designed.Part{Offset: r3.Vec{X: v[0], Y: v[1], Z: v[2]}})
}

// add adds a part below the one that its path names.
func (r *reader) add(path string, p designed.Part) error {
	at := strings.LastIndex(path, "/")
	parent := -1
	if p.Name = path[at+1:]; p.Name == "" {
		return fmt.Errorf("%q names no part", path)
	}
	if at >= 0 {
		var err error
		if parent, err = r.find(path[:at]); err != nil {
			return err
		}
	}
	if p.Kind == designed.Weight && parent < 0 {
		return fmt.Errorf("a weight belongs to a part: weight head/%s", p.Name)
	}
	r.Add(parent, p)
	return nil
}

// find returns the part whose path ends so; more than one is a mistake.
func (r *reader) find(path string) (int, error) {
	found := -1
	for i := range r.Parts {
		if strings.HasSuffix(r.Path(i), "/"+strings.TrimPrefix(path, "/")) {
			if found >= 0 {
				return -1, fmt.Errorf("both %s and %s end in %s", r.Path(found), r.Path(i), path)
			}
			found = i
		}
	}
	if found < 0 {
		return -1, fmt.Errorf("the sheet has no part %q yet", path)
	}
	return found, nil
}

// numbers reads from least to most numbers.
func numbers(words []string, least, most int) ([]float64, error) {
	if len(words) < least || len(words) > most {
		return nil, fmt.Errorf("expected %d to %d numbers, found %d", least, most, len(words))
	}
	out := make([]float64, len(words))
	for i, w := range words {
		v, err := strconv.ParseFloat(w, 64)
		if err != nil || math.IsNaN(v) || math.IsInf(v, 0) {
			return nil, fmt.Errorf("%q is no number", w)
		}
		out[i] = v
	}
	return out, nil
}
