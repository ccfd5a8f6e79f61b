package corpus

import (
	"bytes"
	"fmt"
	"io"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"curvelint/cmd/lab/designed"
	"curvelint/cmd/lab/designed/write"
)

// keyPlanters plant the flaws of single keys, in files that were keyed by hand.
var keyPlanters = map[string]planter{
	"sub-frame-key": plantBetween,
	"idle-key":      plantIdle,
}

// keyed puts a figure on the stage that acts in clean strokes and holds, and names
// a part, its axis and when it stands still, for a key to be set there.
func (s *stage) keyed() (part, axis int, from, to float64) {
	s.biped()
	s.blink = false
	strokes := func(p, axis int, size, late float64) (from, to float64) {
		var keys []float64
		at := s.seed.Between(0.3, 0.6) + late
		for at < seconds-1.2 {
			dur := s.onFrame(s.seed.Between(0.35, 0.7))
			at = s.onFrame(at)
			s.ease(p, axis, minJerk, at, dur, s.seed.Between(0.4, 1)*size*s.seed.Sign())
			keys = append(keys, at, at+dur)
			from, to = at+dur, at+dur+s.onFrame(s.seed.Between(0.5, 1))
			at = to
		}
		s.strokes = append(s.strokes, keys)
		return from, min(to, seconds)
	}
	strokes(s.Chest, designed.Y, 14, 0.1)
	strokes(s.Spine, designed.X, 6, 0.15)
	choice := []struct {
		part, axis int
		size       float64
	}{{s.Head, designed.Y, 24}, {s.Neck, designed.X, 12}, {s.Jaw, designed.X, 9}}[s.seed.Int(3)]
	for side := range 2 {
		strokes(s.Upper[side], designed.X, 24, 0.04*float64(side))
	}
	from, to = strokes(choice.part, choice.axis, choice.size, 0)
	if i := slices.Index(s.soft, choice.part); i >= 0 {
		s.soft = slices.Delete(slices.Clone(s.soft), i, i+1)
	}
	if choice.part == s.Jaw {
		s.jaw = -1
	}
	s.live(0, 0) // all but the keyed part
	return choice.part, choice.axis, from, to
}

// edited writes a take and lets edit change the lines of one spline's keys.
func (s *stage) edited(as func(io.Writer, *designed.Take) error, part, axis int, edit func(keys []string) []string) writer {
	name := s.Parts[part].Name
	return writer{".usda", func(w io.Writer, t *designed.Take) error {
		var b bytes.Buffer
		if err := as(&b, t); err != nil {
			return err
		}
		lines := strings.Split(b.String(), "\n")
		a, z := splineOf(lines, name, "rotate"+[...]string{"X", "Y", "Z"}[axis])
		if a < 0 {
			return fmt.Errorf("no spline of %s", name)
		}
		out := append(append(append([]string{}, lines[:a]...), edit(lines[a:z])...), lines[z:]...)
		_, err := io.WriteString(w, strings.Join(out, "\n"))
		return err
	}}
}

// splineOf finds the lines of a spline's keys.
func splineOf(lines []string, part, attribute string) (first, end int) {
	clean := strings.NewReplacer(":", "_", ".", "_")
	in := false
	for i, l := range lines {
		if strings.Contains(l, "def Xform ") {
			in = strings.Contains(clean.Replace(l), `"`+clean.Replace(part)+`"`)
		}
		if !in || !strings.Contains(l, attribute+".spline") {
			continue
		}
		first = i + 1
		for !keyLine.MatchString(lines[first]) {
			first++
		}
		for end = first; keyLine.MatchString(lines[end]); end++ {
		}
		return first, end
	}
	return -1, -1
}

var keyLine = regexp.MustCompile(`^(\s+)([0-9.]+): ([-0-9.e]+)`)

// frameOf reads the frame and the value of a key's line.
func frameOf(line string) (frame, value float64) {
	m := keyLine.FindStringSubmatch(line)
	frame, _ = strconv.ParseFloat(m[2], 64)
	value, _ = strconv.ParseFloat(m[3], 64)
	return frame, value
}

// plantBetween moves one key between two frames, or to another whole one.
func plantBetween(s *stage, flawed bool) {
	part, axis, _, _ := s.keyed()
	off := s.seed.Between(0.15, 0.85)
	if !flawed {
		off = 1
	}
	pick := s.seed.Float()
	as := []func(io.Writer, *designed.Take) error{write.USDAKeyed, write.USDAHermite}[s.seed.Int(2)]
	s.formats = []writer{s.edited(as, part, axis, func(keys []string) []string {
		i := 1 + int(pick*float64(len(keys)-2))
		frame, _ := frameOf(keys[i])
		keys[i] = strings.Replace(keys[i], strconv.FormatFloat(frame, 'f', -1, 64)+":", strconv.FormatFloat(frame+off, 'f', 3, 64)+":", 1)
		return keys
	})}
	s.plant("sub-frame-key", 0, seconds, part)
}

// plantIdle sets a key in the middle of a hold that changes nothing, or one that
// does.
func plantIdle(s *stage, flawed bool) {
	part, axis, from, to := s.keyed()
	lift := 0.0
	if !flawed {
		lift = s.seed.Between(0.6, 1.5) * s.seed.Sign()
	}
	at := math.Round((from+to)/2*s.rate) + float64(s.First)
	s.formats = []writer{s.edited(write.USDAKeyed, part, axis, func(keys []string) []string {
		for i, k := range keys {
			frame, _ := frameOf(k)
			if frame <= at {
				continue
			}
			before, v := frameOf(keys[i-1])
			keys[i-1] = shorten(keys[i-1], "post curve", (at-before)/3)
			keys[i] = shorten(k, "pre", (frame-at)/3)
			indent := keyLine.FindStringSubmatch(k)[1]
			key := fmt.Sprintf("%s%g: %g; pre (%g, 0); post curve (%g, 0),", indent, at, v+lift, (at-before)/3, (frame-at)/3)
			return append(append(append([]string{}, keys[:i]...), key), keys[i:]...)
		}
		return keys
	})}
	mid := (at - float64(s.First)) / s.rate
	s.plant("idle-key", mid-0.1, mid+0.1, part)
	if s.seed.Chance(0.35) {
		s.Ease(part, axis, designed.Swell(from, to, lift))
		s.Parts[part].Knots[axis] = append(s.strokes[len(s.strokes)-1], mid)
		s.formats = []writer{{".dae", write.COLLADAKeyed}}
	}
}

// shorten makes a key's handle fit a shorter segment.
func shorten(line, handle string, width float64) string {
	_, rest, ok := strings.Cut(line, handle+" (")
	w, _, _ := strings.Cut(rest, ",")
	if old, err := strconv.ParseFloat(w, 64); ok && err == nil && old > width {
		return strings.Replace(line, handle+" ("+w, handle+" ("+strconv.FormatFloat(width, 'f', 5, 64), 1)
	}
	return line
}
