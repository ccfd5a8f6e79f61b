package noise

import (
	_ "embed"
	"fmt"

	"curvelint/diagnostics/checks/kit"
	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/motion/body"
	"curvelint/diagnostics/motion/track"
	"curvelint/diagnostics/note"
	"curvelint/parse/scene"
)

//go:embed pop.md
var popDoc string

// The settings of pop.
var (
	popMinJump   = kit.Number{Name: "min_jump", Unit: "figure", Default: 0.005, Min: 0, Max: 1, Doc: "smallest jump of a point"}
	popMinTurn   = kit.Number{Name: "min_turn", Unit: "degrees", Default: 3, Min: 0, Max: 360, Doc: "smallest jump of a rotation"}
	popMinSwing  = kit.Number{Name: "min_swing", Unit: "figure", Default: 0.01, Min: 0, Max: 1, Doc: "least way of the far end of a bone that turns, but a head"}
	popMinValue  = kit.Number{Name: "min_value", Unit: "range", Default: 0.1, Min: 0, Max: 1, Doc: "smallest jump of a weight"}
	popStepSpeed = kit.Number{Name: "step_speed", Unit: "figure/s", Default: 0.7, Min: 0, Max: 100, Doc: "slowest speed of a jump that stays"}
	popMinStep   = kit.Number{Name: "min_step", Unit: "figure", Default: 0.015, Min: 0, Max: 1, Doc: "smallest jump that stays, which matters at high rates"}
)

// The limits of pop.
var (
	popLongestHeld = kit.Limit{Name: "longest_held", Value: 0.26, Unit: "s",
		Doc:    "three drawings and more in a row that are held no longer are a way of moving: on sixes at 24 frames a second",
		Source: "common practice, no source"}
	popAlone = kit.Limit{Name: "alone", Value: 6, Unit: "ratio",
		Doc:    "a jump that stays is so many times each of the four spacings around it",
		Source: "common practice, no source"}
)

// Pop finds one-frame jumps.
var Pop = &kit.Check{
	ID:                "pop",
	Severity:          note.Warning,
	Group:             kit.Noise,
	Title:             "a one-frame jump",
	Doc:               popDoc,
	Settings:          []kit.Setting{&popMinJump, &popMinTurn, &popMinSwing, &popMinValue, &popStepSpeed, &popMinStep},
	Limits:            []*kit.Limit{&popLongestHeld, &popAlone, &kit.FilmFrame, &kit.Interruption},
	SilentWhenBlocked: true,
	Run:               runPop,
}

type popFinding struct {
	kit.Candidate
	jump  float64
	stays bool
}

func runPop(c *kit.Context) []note.Note {
	least := [3]float64{popMinJump.In(c), popMinTurn.In(c), popMinValue.In(c)}
	var notes []note.Note
	for _, fig := range c.Living() {
		var all []popFinding
		for _, t := range kit.SeenTracks(fig) {
			if c.Ctx.Err() != nil {
				return nil
			}
			if b := fig.LabelOf(t.Part).Body; b == body.Eyes || b == body.Lids {
				continue // darts and blinks are meant to be quick
			}
			all = append(all, spikes(c, fig, t, leastJump(c, fig, t, least[t.Quality]))...)
			if t.Quality == track.Position {
				all = append(all, steps(c, fig, t)...)
			}
		}
		for _, f := range kit.OneCause(fig, all, func(f *popFinding) *kit.Candidate { return &f.Candidate }) {
			notes = append(notes, popNote(c, fig, f))
		}
	}
	return notes
}

// leastJump is the smallest jump of a track that an audience sees: at rates above
// 60 a frame is so short that it must be larger in proportion, and a bone that
// turns must move its far end: see leastSwing.
func leastJump(c *kit.Context, fig *motion.Figure, t *track.Track, least float64) float64 {
	if t.Quality == track.Rotation {
		least = max(least, leastSwing(c, fig, t.Part)*kit.DegreesPerRadian)
	}
	return least * max(1, c.Study.Rate/60)
}

// leastSwing is the smallest turn of a part, in radians, that moves its far end by
// as much as is seen. A head is looked at, so that its crown, which no joint of a
// face reaches, need not go farther than any other point.
func leastSwing(c *kit.Context, fig *motion.Figure, p scene.PartID) float64 {
	l, way := fig.BoneLength(p), popMinSwing.In(c)
	if b, ok := fig.HeadBall(); ok && b.Part == p {
		l, way = max(l, b.Reach/fig.Size), min(way, popMinJump.In(c))
	}
	if l <= 0 {
		return 0
	}
	return way / l
}

// spikes finds frames that stand out of a smooth path and are gone in the next.
func spikes(c *kit.Context, fig *motion.Figure, t *track.Track, least float64) []popFinding {
	s := c.Study
	var out []popFinding
	for _, k := range t.Spikes(least) {
		i := k.Frame
		if !s.Judged(i, i) || i < 1 || i+1 >= s.N || kit.NearContact(c, fig, i) {
			continue
		}
		f := popFinding{Candidate: kit.Candidate{Track: t, First: i, Last: i, Size: kit.LikeFigures(t.Quality, k.Size)}, jump: k.Size}
		f.Drivers = s.Drivers(t, i-1, i+1)
		out = append(out, f)
	}
	return out
}

// steps finds a jump that stays: one spacing more than six times each of the
// four around it, in a track that otherwise rests or moves slowly there.
func steps(c *kit.Context, fig *motion.Figure, t *track.Track) []popFinding {
	s := c.Study
	v := t.Spacing()
	// At high rates one spacing is no time at all: the jump must be seen as one.
	least := max(popStepSpeed.In(c)/s.Rate, popMinStep.In(c))
	var out []popFinding
	for _, i := range singleSteps(v, t.StillLimit(), popLongestHeld.Frames(s.Rate)) {
		if v[i] <= least || !s.Judged(i, i+1) || kit.NearContact(c, fig, i) {
			continue
		}
		f := popFinding{Candidate: kit.Candidate{Track: t, First: i, Last: i + 1, Size: v[i]}, jump: v[i], stays: true}
		f.Drivers = s.Drivers(t, i, i+1)
		out = append(out, f)
	}
	return out
}

// singleSteps returns the spacings more than six times each of the four around
// them, but for those that follow each other three times or more within the given
// number of frames: motion on threes or fours.
func singleSteps(v []float64, still float64, held int) []int {
	var out []int
	run := 0 // how many of the last ones follow each other
	for i := 2; i+2 < len(v); i++ {
		if v[i] <= still || v[i] <= popAlone.Value*max(v[i-2], v[i-1], v[i+1], v[i+2]) {
			continue
		}
		if n := len(out); run > 0 && i-out[n-1] <= held {
			run++
		} else {
			out, run = dropRun(out, run), 1
		}
		out = append(out, i)
	}
	return dropRun(out, run)
}

// dropRun cuts a run of three or more off the end.
func dropRun(list []int, run int) []int {
	if run < 3 {
		return list
	}
	return list[:len(list)-run]
}

func popNote(c *kit.Context, fig *motion.Figure, f popFinding) note.Note {
	ch := f.Driver()
	p := c.Study.Scene.Channels[ch].Part
	n := c.Draft(p, ch, f.First, f.Last)
	what := "for one frame by"
	fix := "check the key on that frame"
	if f.stays {
		what, fix = "in one frame, for good, by", "spread the change over a few frames"
	}
	n.Message = fmt.Sprintf("%s: %s %s %s; %s", c.Span(f.First, f.Last), c.Says(p, "jumps"), what, kit.Amount(f.Track.Quality, f.jump), fix)
	// A pop pulls the eye however small it is.
	n.Weight = c.Weigh(fig, p, 0.2+f.Size)
	n.Measures = []note.Measure{{Name: "jump", Value: f.jump, Unit: kit.Unit(f.Track.Quality)}}
	n.Causes = append(n.Causes, p, f.Track.Part)
	return n
}
