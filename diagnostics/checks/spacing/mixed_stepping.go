package spacing

import (
	_ "embed"
	"fmt"
	"slices"
	"sort"

	"curvelint/diagnostics/checks/kit"
	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/motion/track"
	"curvelint/diagnostics/note"
	"curvelint/parse/scene"
)

//go:embed mixed_stepping.md
var mixedSteppingDoc string

// The settings of mixed-stepping.
var (
	mixedSteppingMinTime = kit.Seconds{Name: "min_time", Default: 0.25, Min: 0.1, Max: 10, Doc: "shortest stretch"}
)

// The limits of mixed-stepping.
var (
	mixedSteppingRestShare = kit.Limit{Name: "rest_share", Value: 0.75, Unit: "ratio",
		Doc:    "this share of the other moving parts must go the other way for a part to be the odd one",
		Source: "common practice, no source"}
	mixedSteppingFewestOthers = kit.Limit{Name: "fewest_others", Value: 3, Unit: "count",
		Doc:    "and so many of them",
		Source: "common practice, no source"}
)

// MixedStepping finds parts on twos among parts on ones, or the reverse.
var MixedStepping = &kit.Check{
	ID:                "mixed-stepping",
	Severity:          note.Information,
	Group:             kit.Spacing,
	Title:             "twos among ones by accident",
	Doc:               mixedSteppingDoc,
	Settings:          []kit.Setting{&mixedSteppingMinTime},
	Limits:            []*kit.Limit{&mixedSteppingRestShare, &mixedSteppingFewestOthers, &kit.SureNoise},
	SilentWhenBlocked: true,
	Run:               runMixedStepping,
}

// stepper is a part that moves, with the steps in which it does.
type stepper struct {
	part   scene.PartID
	tracks []*track.Track
	moved  []bool
	spans  []track.Stepped
}

// oddity is a part on twos among parts on ones, or the reverse.
type oddity struct {
	part scene.PartID
	track.Stepped
}

func runMixedStepping(c *kit.Context) []note.Note {
	var notes []note.Note
	for _, fig := range c.Living() {
		if c.Ctx.Err() != nil {
			return nil
		}
		all := steppers(c, fig)
		if !mixed(all) {
			continue
		}
		var odd []oddity
		for i := range all {
			odd = append(odd, oddSpans(c, all, i)...)
		}
		for _, o := range onePerGroup(fig, odd) {
			notes = append(notes, oddNote(c, fig, o))
		}
	}
	return notes
}

// steppers are the figure's parts that move.
func steppers(c *kit.Context, fig *motion.Figure) []stepper {
	var out []stepper
	for _, p := range fig.Parts {
		tracks := c.Study.LocalTracks(p)
		if len(tracks) == 0 || c.Study.NatureOf(p) != motion.Living {
			continue
		}
		moved := track.Stillness(c.Study.N, tracks)
		for i := range moved {
			moved[i] = !moved[i]
		}
		if spans := track.SteppedStretches(moved, c.Study.Rate); len(spans) > 0 {
			out = append(out, stepper{p, tracks, moved, spans})
		}
	}
	return out
}

// mixed reports whether some parts are on ones and some on twos at all. In most
// figures none are, and no part need be compared with any other; where they are
// the comparison takes the square of the number of parts that move.
func mixed(all []stepper) bool {
	var seen [3]bool
	for i := range all {
		for _, k := range all[i].spans {
			seen[k.Step] = true
		}
	}
	return seen[1] && seen[2]
}

// oddSpans are the stretches in which a part is on twos while the rest of the
// figure is on ones, or the reverse.
func oddSpans(c *kit.Context, all []stepper, at int) []oddity {
	least := mixedSteppingMinTime.Frames(c)
	var out []oddity
	for _, k := range all[at].spans {
		if k.Last-k.First < least || !c.Study.Judged(k.First, k.Last) || !all[at].plainly(k) {
			continue
		}
		others, against := 0, 0
		for i := range all {
			if i == at {
				continue
			}
			switch all[i].stepIn(k.First, k.Last) {
			case 0:
			case k.Step:
				others++
			default:
				others++
				against++
			}
		}
		if against >= int(mixedSteppingFewestOthers.Value) && float64(against) >= mixedSteppingRestShare.Value*float64(others) {
			out = append(out, oddity{all[at].part, k})
		}
	}
	return out
}

// plainly reports whether the part moves in the stretch by more than the last
// decimals of its numbers, which change now and then in any slow drift: faster
// than what counts as still, and by steps of many times the noise.
func (p *stepper) plainly(k track.Stepped) bool {
	for _, t := range p.tracks {
		path := t.PathLength(k.First, k.Last)
		n := 0
		for i := k.First; i < k.Last; i++ {
			if p.moved[i] {
				n++
			}
		}
		if path >= track.FloorSpeed(t.Quality)*float64(k.Last-k.First)/t.Rate && path >= kit.SureNoise.Value*t.StillLimit()*float64(n) {
			return true
		}
	}
	return false
}

// stepIn is 1 or 2 when the part moves on ones or twos through most of the
// frames, else 0.
func (p *stepper) stepIn(a, b int) int {
	// What covers more than half of the stretch covers its middle.
	at := sort.Search(len(p.spans), func(i int) bool { return p.spans[i].Last >= (a+b)/2 })
	for _, k := range p.spans[at:min(at+2, len(p.spans))] {
		if 2*(min(k.Last, b)-max(k.First, a)) > b-a {
			return k.Step
		}
	}
	return 0
}

// onePerGroup keeps of the stretches that overlap in one group, or on one
// branch of the figure, the first at the highest part.
func onePerGroup(fig *motion.Figure, all []oddity) []oddity {
	var out []oddity
	for _, o := range all {
		clash := slices.ContainsFunc(out, func(k oddity) bool {
			same := fig.GroupOf(k.part) == fig.GroupOf(o.part) || fig.Study().IsAncestor(k.part, o.part)
			return same && min(k.Last, o.Last) > max(k.First, o.First)
		})
		if !clash {
			out = append(out, o)
		}
	}
	return out
}

func oddNote(c *kit.Context, fig *motion.Figure, o oddity) note.Note {
	n := c.Draft(o.part, kit.MovingChannel(c, o.part), o.First, o.Last)
	what, rest := "twos", "ones"
	if o.Step == 1 {
		what, rest = rest, what
	}
	n.Message = fmt.Sprintf("%s: %s is on %s while the rest is on %s; check how it was baked or keyed", c.Span(o.First, o.Last), c.Name(o.part), what, rest)
	n.Weight = c.Weigh(fig, o.part, 0.1)
	n.Measures = []note.Measure{{Name: "time", Value: float64(o.Last-o.First) / c.Study.Rate, Unit: "s"}}
	n.Causes = append(n.Causes, o.part)
	return n
}
