package contact

import (
	_ "embed"
	"fmt"
	"math"

	"curvelint/diagnostics/checks/kit"
	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/motion/body"
	"curvelint/diagnostics/note"
)

//go:embed knee_pop.md
var kneePopDoc string

// The settings of knee-pop.
var (
	kneePopExtension = kit.Number{Name: "extension", Unit: "ratio", Default: 0.998, Min: 0.9, Max: 1, Doc: "a limb at this share of its full length is straight"}
	kneePopMinSpeed  = kit.Number{Name: "min_speed", Unit: "degrees/s", Default: 144, Min: 0, Max: 10000, Doc: "least speed at which it straightens"}
	kneePopFaster    = kit.Number{Name: "faster", Unit: "ratio", Default: 1.5, Min: 1, Max: 100, Doc: "how many times faster than 1/24 s before"}
	kneePopStops     = kit.Number{Name: "stops", Unit: "ratio", Default: 0.25, Min: 0, Max: 1, Doc: "share of the speed that is left 1/24 s later"}
)

// The limits of knee-pop.
var (
	kneePopBentEnough = kit.Limit{Name: "bent_enough", Value: 5, Unit: "degrees",
		Doc:    "a limb that is bent less tells nothing of the axis it bends about",
		Source: "common practice, no source"}
	kneePopLastDegrees = kit.Limit{Name: "last_degrees", Value: 0.93, Unit: "ratio",
		Doc:    "beyond this extension a hinge runs through the last degrees of its reach, which need hardly any way",
		Source: "the extension of a limb of two equal bones bent by 43 degrees; common practice, no source"}
	kneePopGives = kit.Limit{Name: "gives", Value: 0.5, Unit: "degrees",
		Doc:    "a limb that has locked stays as it is to this much: joints of people give a little when thrown to full stretch",
		Source: "captured motion, testdata/corpus/CAPTURED.md"}
	kneePopLockedFrames = kit.Limit{Name: "locked_frames", Value: 3, Unit: "count",
		Doc:    "for so many film frames it stays so",
		Source: "common practice, no source"}
)

// KneePop finds limbs that snap straight.
var KneePop = &kit.Check{
	ID:                "knee-pop",
	Severity:          note.Warning,
	Group:             kit.Contact,
	Title:             "a limb snapping straight",
	Doc:               kneePopDoc,
	Settings:          []kit.Setting{&kneePopExtension, &kneePopMinSpeed, &kneePopFaster, &kneePopStops},
	Limits:            []*kit.Limit{&kneePopBentEnough, &kneePopLastDegrees, &kneePopGives, &kneePopLockedFrames, &otherSide, &sameAxis, &noHingeShare, &kit.FilmFrame},
	SilentWhenBlocked: true,
	Run:               runKneePop,
}

func runKneePop(c *kit.Context) []note.Note {
	s := c.Study
	w := kit.FilmFrame.Frames(s.Rate)
	step := float64(w) / s.Rate
	var notes []note.Note
	eachLimb(c, func(fig *motion.Figure, l body.TwoBone, f motion.Flexion) {
		if noHinge(&f, kneePopBentEnough.Value) {
			return
		}
		for i, side := range f.Side {
			if side < otherSide.Value {
				f.Angle[i] = -f.Angle[i] // past straight it is no snap into it
			}
		}
		for i := 2 * w; i+w < s.N; i++ {
			if f.Extension[i] < kneePopExtension.In(c) || !s.Judged(i-w, i+w) {
				continue
			}
			from, speed := snap(c, &f, i, w, step)
			if from < 0 {
				continue
			}
			n := c.Draft(l.Lower, hingeChannel(c, l, from, i), from, i)
			n.Message = fmt.Sprintf("%s: %s snaps straight, %.0f degrees at once; ease into the full reach or keep it slightly bent", c.Span(from, i), l.Name, f.Angle[from]-f.Angle[i])
			n.Weight = c.Weigh(fig, l.Lower, 0.1+speed/1000)
			n.Measures = []note.Measure{{Name: "speed", Value: speed, Unit: "degrees/s"}, {Name: "extension", Value: f.Extension[i], Unit: "ratio"}}
			n.Causes = append(n.Causes, l.Lower, l.Upper, l.End)
			notes = append(notes, n)
			i += w // one snap, one note
		}
	})
	return notes
}

// snap returns where a snap begins that ends straight at frame index i, or -1, and
// its speed in degrees a second: one step of 1/24 s far faster than the one before
// it, then nothing. The end of the reach seldom falls on a frame; a snap through
// the last degrees may therefore take two steps, the second one cut short. So may
// one that runs faster and faster into the end and locks there.
func snap(c *kit.Context, f *motion.Flexion, i, w int, step float64) (from int, speed float64) {
	speed = (f.Angle[i-w] - f.Angle[i]) / step
	before := (f.Angle[i-2*w] - f.Angle[i-w]) / step
	after := math.Abs(f.Angle[i]-f.Angle[i+w]) / step
	faster, stops := kneePopFaster.In(c), kneePopStops.In(c)
	if speed >= kneePopMinSpeed.In(c) && speed >= faster*math.Max(before, 0) && after <= stops*speed {
		return i - w, speed
	}
	if i < 4*w || speed < kneePopStops.In(c)*before {
		return -1, 0
	}
	both, earlier := (speed+before)/2, (f.Angle[i-4*w]-f.Angle[i-2*w])/(2*step)
	if both < kneePopMinSpeed.In(c) || after > stops*both {
		return -1, 0
	}
	if f.Extension[i-2*w] >= kneePopLastDegrees.Value && both >= faster*math.Max(earlier, 0) || both > earlier && locks(f, i, w) {
		return i - 2*w, both
	}
	return -1, 0
}

// locks reports whether a limb that is straight at frame index i stays as it
// is for three film frames. People's joints give a little when they are thrown to full stretch.
func locks(f *motion.Flexion, i, w int) bool {
	end := i + int(kneePopLockedFrames.Value)*w
	if end >= len(f.Angle) {
		return false
	}
	for k := i; k <= end; k++ {
		if math.Abs(f.Angle[k]-f.Angle[i]) > kneePopGives.Value {
			return false
		}
	}
	return true
}
