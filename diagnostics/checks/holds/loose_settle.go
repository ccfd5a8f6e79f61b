package holds

import (
	_ "embed"
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/diagnostics/checks/kit"
	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/motion/body"
	"curvelint/diagnostics/motion/track"
	"curvelint/diagnostics/note"
	"curvelint/diagnostics/words"
)

//go:embed loose_settle.md
var looseSettleDoc string

// The settings of loose-settle.
var (
	looseSettleRatio   = kit.Number{Name: "ratio", Unit: "ratio", Default: 0.8, Min: 0, Max: 1, Doc: "largest size of a swing as a share of the one before"}
	looseSettleLongest = kit.Seconds{Name: "longest", Default: 1, Min: 0.1, Max: 100, Doc: "longest settle"}
)

// The limits of loose-settle.
var (
	looseSettleLargest = kit.Limit{Name: "largest", Value: 0.5, Unit: "ratio",
		Doc:    "a swing is at most this share of the move before it",
		Source: "common practice, no source"}
	looseSettlePause = kit.Limit{Name: "pause", Value: 2.0 / 24, Unit: "s",
		Doc:    "swings follow each other within this time",
		Source: "common practice, no source"}
	looseSettleFirstGrowth = kit.Limit{Name: "first_growth", Value: 2.5, Unit: "ratio",
		Doc:    "the second swing may be so many times the first, which may be half a swing from the stop to one side",
		Source: "common practice, no source"}
	looseSettleGrowth = kit.Limit{Name: "growth", Value: 1.1, Unit: "ratio",
		Doc:    "later swings that grow more are an action of their own",
		Source: "common practice, no source"}
	looseSettleHalf = kit.Limit{Name: "half", Value: 0.6, Unit: "ratio",
		Doc:    "a last swing below this share of the one before is half a swing, back to the middle",
		Source: "common practice, no source"}
	looseSettleFewest = kit.Limit{Name: "fewest", Value: 3, Unit: "count",
		Doc:    "fewer swings are a settle as it should be",
		Source: "common practice, no source"}
	looseSettleWave = kit.Limit{Name: "wave", Value: 1.5, Unit: "ratio",
		Doc:    "what hangs on the part and swings so many times as much waves: what is left of a move dies away along a chain",
		Source: "common practice, no source"}
	looseSettleSameLine = kit.Limit{Name: "same_line", Value: 0.7, Unit: "ratio",
		Doc:    "two strokes whose directions have a larger cosine are on one line: 45 degrees",
		Source: "common practice, no source"}
)

// LooseSettle finds settles that do not die away.
var LooseSettle = &kit.Check{
	ID:                "loose-settle",
	Severity:          note.Information,
	Group:             kit.Holds,
	Title:             "a settle that does not die",
	Doc:               looseSettleDoc,
	Settings:          []kit.Setting{&looseSettleRatio, &looseSettleLongest},
	Limits:            []*kit.Limit{&looseSettleLargest, &looseSettlePause, &looseSettleFirstGrowth, &looseSettleGrowth, &looseSettleHalf, &looseSettleFewest, &looseSettleWave, &looseSettleSameLine, &kit.StillGoing, &kit.StandsStill, &kit.OwnTurn},
	SilentWhenBlocked: true,
	YieldsTo:          []string{"jitter"},
	Run:               runLooseSettle,
}

// swing is one way of an oscillation, from turn to turn.
type swing struct {
	first, last int
	size        float64
}

func runLooseSettle(c *kit.Context) []note.Note {
	var notes []note.Note
	for _, fig := range c.Living() {
		var all []settle
		for _, t := range kit.SeenTracks(fig) {
			if c.Ctx.Err() != nil {
				return nil
			}
			if b := fig.LabelOf(t.Part).Body; b == body.Lids || b == body.Eyes {
				continue // blinks and darts go to and fro
			}
			all = append(all, settles(c, fig, t)...)
		}
		for _, f := range kit.OneCause(fig, all, func(f *settle) *kit.Candidate { return &f.Candidate }) {
			notes = append(notes, settleNote(c, fig, f))
		}
	}
	return notes
}

// settle is a move that swings about its end.
type settle struct {
	kit.Candidate
	swings int
	ratio  float64
}

// settles finds after each large stroke the swings about the place where the
// track comes to rest.
func settles(c *kit.Context, fig *motion.Figure, t *track.Track) []settle {
	s := c.Study
	strokes := t.Strokes()
	var out []settle
	for i := 0; i < len(strokes); i++ {
		main, from := strokes[i], i+1
		if from == len(strokes) || strokes[from].Chord > looseSettleLargest.Value*main.Length*(1+kit.Rounding.Value) {
			continue // too large for a swing: no stroke gets farther than it is long
		}
		move := reached(t, main)
		if strokes[from].Chord < looseSettleLargest.Value*move && sameWay(t, main, strokes[from]) {
			from++ // it goes past its place before it swings back
		}
		var swings []swing
		for j := from; j < len(strokes); j++ {
			k, before := strokes[j], strokes[j-1]
			if k.First-before.Last > looseSettlePause.Frames(s.Rate) || k.Chord > looseSettleLargest.Value*move || !opposite(t, before, k) {
				break
			}
			// Swings that grow are an action of their own; only the first may be
			// half a swing, from the stop to one side.
			if n := len(swings); (n == 1 && k.Chord > looseSettleFirstGrowth.Value*swings[0].size) || (n > 1 && k.Chord > looseSettleGrowth.Value*swings[n-1].size) {
				break
			}
			swings = append(swings, swing{k.First, k.Last, k.Chord})
		}
		n := len(swings)
		if n < int(looseSettleFewest.Value) || !strokes[from+n-1].ToRest {
			continue
		}
		next := from + n - 1
		swings = wholeSwings(swings)
		if n = len(swings); n < int(looseSettleFewest.Value) {
			continue
		}
		ratio := math.Pow(swings[n-1].size/swings[0].size, 1/float64(n-1))
		long := float64(swings[n-1].last-swings[0].first)/s.Rate > looseSettleLongest.In(c)
		if (ratio > looseSettleRatio.In(c) || long) && !kit.GivesWay(c, fig, t, swings[0].first, swings[n-1].last) && s.Judged(swings[0].first, swings[n-1].last) && !fig.Locomotion() &&
			!carriedElsewhere(c, fig, t, swings[0].first, swings[n-1].last) && !wavesBelow(c, fig, t, swings[0].first, swings[n-1].last) {
			f := settle{kit.Candidate{Track: t, First: swings[0].first, Last: swings[n-1].last, Size: kit.LikeFigures(t.Quality, swings[0].size)}, n, ratio}
			f.Drivers = s.Drivers(t, f.First, f.Last)
			out = append(out, f)
		}
		i = next
	}
	return out
}

// carriedElsewhere reports whether what turns or shifts is itself carried somewhere else
// from frame index a to b, faster than kit.StillGoing: a hand
// that turns to and fro on an arm which is still on its way has not stopped.
func carriedElsewhere(c *kit.Context, fig *motion.Figure, t *track.Track, a, b int) bool {
	if t.Space != track.Local || fig.LabelOf(t.Part).Body.Face() {
		return false
	}
	_, chord := kit.CarriedWay(c, fig, t.Part, a, b)
	return chord*t.Rate > kit.StillGoing.Value*float64(b-a)
}

// wavesBelow reports whether something that hangs on the part swings about its own
// joint much more than the part does: what is left of a move dies away along a
// chain, while a wave of the hand grows towards the hand.
func wavesBelow(c *kit.Context, fig *motion.Figure, t *track.Track, a, b int) bool {
	if t.Quality != track.Rotation {
		return false
	}
	for _, p := range fig.Parts {
		if c.Study.Scene.Parts[p].Parent != t.Part {
			continue
		}
		if k := c.Study.RotationTrack(p); k != nil && k.PathLength(a, b) > looseSettleWave.Value*t.PathLength(a, b) {
			return true
		}
	}
	return false
}

// wholeSwings leaves out a first half swing, from the stop to one side, and the
// last one back to the middle.
func wholeSwings(s []swing) []swing {
	if s[1].size > looseSettleGrowth.Value*s[0].size {
		s = s[1:]
	}
	if n := len(s); n > 1 && s[n-1].size < looseSettleHalf.Value*s[n-2].size {
		s = s[:n-1]
	}
	return s
}

// reached is how far from its start a stroke gets: one that springs back at its
// end is as large as that.
func reached(t *track.Track, k track.Stroke) float64 {
	most := 0.0
	for i := k.First + 1; i <= k.Last; i++ {
		most = max(most, r3.Norm(r3.Sub(t.At(i), t.At(k.First))))
	}
	return most
}

// sameWay reports whether the second stroke goes on where the first went.
func sameWay(t *track.Track, a, b track.Stroke) bool {
	x, y := r3.Sub(t.At(a.Last), t.At(a.First)), r3.Sub(t.At(b.Last), t.At(b.First))
	d := r3.Dot(x, y)
	return d > 0 && d > looseSettleSameLine.Value*r3.Norm(x)*r3.Norm(y)
}

// opposite reports whether the second stroke goes back on the first.
func opposite(t *track.Track, a, b track.Stroke) bool {
	x, y := r3.Sub(t.At(a.Last), t.At(a.First)), r3.Sub(t.At(b.Last), t.At(b.First))
	d := r3.Dot(x, y)
	return d < 0 && d < -looseSettleSameLine.Value*r3.Norm(x)*r3.Norm(y)
}

func settleNote(c *kit.Context, fig *motion.Figure, f settle) note.Note {
	ch := f.Driver()
	p := c.Study.Scene.Channels[ch].Part
	n := c.Draft(p, ch, f.First, f.Last)
	n.Message = fmt.Sprintf("%s: %s in %d swings, each %s of the one before; let it die sooner",
		c.Span(f.First, f.Last), c.Says(p, "settles"), f.swings, words.Percent(f.ratio))
	n.Weight = c.Weigh(fig, p, f.Size)
	n.Measures = []note.Measure{
		{Name: "swings", Value: float64(f.swings), Unit: "count"},
		{Name: "ratio", Value: f.ratio, Unit: "ratio"},
	}
	n.Causes = append(n.Causes, p, f.Track.Part)
	return n
}
