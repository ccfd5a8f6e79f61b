package sheet

import (
	"fmt"
	"math"
	"strings"

	"curvelint/cmd/lab/designed"
)

// profiles are the ways of a stroke; a trapezoid has a number of its own.
var profiles = map[string]designed.Profile{
	"even": designed.Even, "ease": designed.MinimumJerk, "smooth": designed.Smooth, "cosine": designed.HalfCosine,
	"out": func(s float64) float64 { return 1 - (1-s)*(1-s)*(1-s) },
	"in":  func(s float64) float64 { return s * s * s },
}

// channel adds what a line says to a channel of a part.
func (r *reader) channel(words []string) error {
	sig, err := r.at(words[0])
	if err != nil {
		return err
	}
	if len(words) < 3 {
		return fmt.Errorf("expected what the channel does, such as 10-22 ease 40 or rest 12")
	}
	if words[1] == "hold" {
		v, err := numbers(words[2:], 1, 1)
		if err != nil {
			return err
		}
		if v[0] < 1 {
			return fmt.Errorf("a drawing is held for a frame or more")
		}
		*sig = r.held(*sig, v[0])
		return nil
	}
	more, err := r.does(words[1:])
	if err != nil {
		return err
	}
	*sig = designed.Add(*sig, more)
	return nil
}

// at returns the signal of a channel: head.ry.
func (r *reader) at(name string) (*designed.Signal, error) {
	dot := strings.LastIndex(name, ".")
	if dot < 0 {
		return nil, fmt.Errorf("expected a part and its channel, such as head.ry, or rate, last, figure, part, weight")
	}
	i, err := r.find(name[:dot])
	if err != nil {
		return nil, err
	}
	p, ch := &r.Parts[i], name[dot+1:]
	if p.Kind == designed.Weight {
		if ch == "w" {
			return &p.Value, nil
		}
		return nil, fmt.Errorf("%s is a weight, its channel is w", p.Name)
	}
	if len(ch) == 2 {
		axis := strings.IndexByte("xyz", ch[1])
		switch {
		case ch[0] == 't' && axis >= 0:
			return &p.Move[axis], nil
		case ch[0] == 'r' && axis >= 0:
			return &p.Turn[axis], nil
		}
	}
	return nil, fmt.Errorf("no channel is called %q; there are tx ty tz rx ry rz, and w of a weight", ch)
}

// does reads what a channel does.
func (r *reader) does(words []string) (designed.Signal, error) {
	switch words[0] {
	case "rest":
		v, err := numbers(words[1:], 1, 1)
		if err != nil {
			return nil, err
		}
		return designed.Still(v[0]), nil
	case "wave":
		v, err := numbers(words[1:], 2, 3)
		if err != nil {
			return nil, err
		}
		if v[1] <= 0 {
			return nil, fmt.Errorf("a period is longer than no frames")
		}
		return designed.Wave(v[0], v[1]/r.Rate, append(v, 0)[2]), nil
	case "drift":
		v, err := numbers(words[1:], 2, 2)
		if err != nil {
			return nil, err
		}
		return designed.Drift(designed.Seed(v[1]), v[0]), nil
	}
	return r.stroke(words)
}

// stroke reads what happens at a frame, or from one to another.
func (r *reader) stroke(words []string) (designed.Signal, error) {
	a, b, span := strings.Cut(words[0], "-")
	if !span {
		b = a
	}
	f, err := numbers([]string{a, b}, 2, 2)
	if err != nil {
		return nil, fmt.Errorf("expected frames such as 10-22, or rest, wave, drift, hold: %w", err)
	}
	v, err := numbers(words[2:], 1, 2)
	if err != nil {
		return nil, err
	}
	amount, from, to := v[0], r.time(f[0]), r.time(f[1])
	if words[1] != "trapezoid" && len(v) > 1 {
		return nil, fmt.Errorf("%s takes one number", words[1])
	}
	switch words[1] {
	case "jump", "step":
		if span {
			return nil, fmt.Errorf("a %s is at one frame", words[1])
		}
		return r.jump(f[0], amount, words[1] == "step"), nil
	}
	if to <= from {
		return nil, fmt.Errorf("expected frames such as 10-22")
	}
	switch words[1] {
	case "swell":
		return designed.Swell(from, to, amount), nil
	case "trapezoid":
		if len(v) != 2 {
			return nil, fmt.Errorf("expected the amount and the share that speeds up: trapezoid 40 0.1")
		}
		return designed.Stroke(designed.Trapezoid(v[1]), from, to, amount), nil
	}
	p, ok := profiles[words[1]]
	if !ok {
		return nil, fmt.Errorf("no way is called %q; there are even, ease, smooth, cosine, out, in, trapezoid, swell, jump and step", words[1])
	}
	return designed.Stroke(p, from, to, amount), nil
}

// jump is an amount at one frame, or from it on.
func (r *reader) jump(frame, amount float64, stays bool) designed.Signal {
	return func(t float64) float64 {
		if f := math.Round(t*r.Rate) + float64(r.First); f == frame || stays && f > frame {
			return amount
		}
		return 0
	}
}

// held shows a signal anew every so many frames only.
func (r *reader) held(s designed.Signal, frames float64) designed.Signal {
	if s == nil {
		return nil
	}
	return func(t float64) float64 {
		return s(math.Floor(t*r.Rate/frames+1e-9) * frames / r.Rate)
	}
}
