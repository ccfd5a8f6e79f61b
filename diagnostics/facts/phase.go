package facts

import (
	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/motion/track"
	"curvelint/parse/scene"
)

// Phase says what a track does between a frame and the next one.
type Phase uint8

// The phases.
const (
	Still    Phase = iota // a rest
	Leaving               // from the start of a move to 90 % of its peak speed
	Through               // at speed
	Arriving              // from there to the end
)

// String returns "still", "leaving", "through" or "arriving".
func (p Phase) String() string { return [...]string{"still", "leaving", "through", "arriving"}[p&3] }

// PhaseAt returns the phase of a track in the step from frame index i to i+1.
func PhaseAt(t *track.Track, i int) Phase {
	k, ok := t.StrokeAt(i)
	if !ok || i >= k.Last {
		return Still
	}
	leave, arrive := t.EaseFrames(k)
	switch middle := float64(i) + 0.5; {
	case middle < float64(k.First)+leave:
		return Leaving
	case middle > float64(k.Last)-arrive:
		return Arriving
	}
	return Through
}

// Step is a track's motion from one frame to the next.
type Step struct {
	Spacing float64 // in the track's unit
	Share   float64 // of the largest spacing of the clip
	Phase   Phase
}

// Stepper tells the steps of a track.
type Stepper struct {
	Track *track.Track
	most  float64 // the largest spacing of the clip
}

// NewStepper returns the stepper of a track.
func NewStepper(t *track.Track) *Stepper {
	s := &Stepper{Track: t}
	for _, v := range t.Spacing() {
		s.most = max(s.most, v)
	}
	return s
}

// At returns the step from frame index i to i+1; ok is false outside the clip.
func (s *Stepper) At(i int) (step Step, ok bool) {
	spacing := s.Track.Spacing()
	if i < 0 || i >= len(spacing) {
		return Step{}, false
	}
	step = Step{Spacing: spacing[i], Phase: PhaseAt(s.Track, i)}
	if s.most > 0 {
		step.Share = spacing[i] / s.most
	}
	return step, true
}

// FocusTrack returns the track that stands for a whole scene where one line
// holds the keys of many parts: the path of the focus of the first figure
// (the head, unless configured), else of its first point that moves; nil when
// nothing does.
func FocusTrack(s *motion.Study) *track.Track {
	for _, fig := range s.Figures() {
		var first *track.Track
		for i, p := range fig.Points {
			t := fig.CarriedTrack(i)
			if t == nil || len(t.Strokes()) == 0 {
				continue
			}
			if g := fig.FocusGroup(); g != nil && holdsPart(g.Parts, p.Part) {
				return t
			}
			if first == nil {
				first = t
			}
		}
		if first != nil {
			return first
		}
	}
	return nil
}

func holdsPart(list []scene.PartID, p scene.PartID) bool {
	for _, q := range list {
		if q == p {
			return true
		}
	}
	return false
}
