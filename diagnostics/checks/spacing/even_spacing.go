package spacing

import (
	_ "embed"
	"fmt"

	"curvelint/diagnostics/checks/kit"
	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/note"
	"curvelint/parse/scene"
)

// seen reports whether the run lasts, covers its stroke, and is large and fast
// enough for an audience.
func (l *evenLimits) seen(t *motion.Track, r *evenRun, k motion.Stroke) bool {
	seconds := float64(r.Last-r.First) / t.Rate
	few := l.minSpacings
	if r.onTwos {
		few--
	}
	q := t.Quality
	coverage, least := l.coverage, l.minTime
	if cutOff(t, k) {
		// The clip shows a part of the stroke only, and maybe not its ease.
		coverage, least = max(coverage, mostlyEven), max(least, longEven)
	}
	return r.spacings >= few && seconds >= least-1e-9 &&
		float64(r.Last-r.First) >= coverage*float64(k.Last-k.First) && r.length >= l.coverage*k.Length && k.PeakSpeed <= burst*r.length/seconds &&
		r.length >= l.minLength[q] && r.length/seconds >= l.minSpeed[q]
}

//go:embed even_spacing.md
var evenSpacingDoc string

// The settings of even-spacing.
var (
	evenSpacingEvenness      = kit.Number{Name: "evenness", Unit: "ratio", Default: 0.10, Min: 0, Max: 1, Doc: "(largest - smallest) / mean of the spacings in a run"}
	evenSpacingMinTime       = kit.Seconds{Name: "min_time", Default: 0.2, Min: 0, Max: 10, Doc: "shortest run"}
	evenSpacingMinSpacings   = kit.Number{Name: "min_spacings", Unit: "count", Default: 5, Min: 3, Max: 100, Doc: "fewest spacings on ones; one less on twos"}
	evenSpacingCoverage      = kit.Number{Name: "coverage", Unit: "ratio", Default: 0.5, Min: 0, Max: 1, Doc: "share of its stroke that the run covers"}
	evenSpacingMinSpeed      = kit.Number{Name: "min_speed", Unit: "figure/s", Default: 0.07, Min: 0, Max: 100, Doc: "slowest mean speed of a point"}
	evenSpacingMinTurnSpeed  = kit.Number{Name: "min_turn_speed", Unit: "degrees/s", Default: 12, Min: 0, Max: 10000, Doc: "slowest mean speed of a rotation"}
	evenSpacingMinValueSpeed = kit.Number{Name: "min_value_speed", Unit: "range/s", Default: 0.4, Min: 0, Max: 100, Doc: "slowest mean speed of a weight"}
	evenSpacingMinTravel     = kit.Number{Name: "min_travel", Unit: "figure", Default: 0.04, Min: 0, Max: 100, Doc: "shortest run of a point"}
	evenSpacingMinTurn       = kit.Number{Name: "min_turn", Unit: "degrees", Default: 6, Min: 0, Max: 10000, Doc: "shortest run of a rotation"}
	evenSpacingMinValue      = kit.Number{Name: "min_value", Unit: "range", Default: 0.2, Min: 0, Max: 1, Doc: "shortest run of a weight"}
	evenSpacingContinuous    = kit.Seconds{Name: "continuous", Default: 2, Min: 0.5, Max: 1000, Doc: "even travel longer than this is information"}
)

// EvenSpacing finds runs in which a part travels the same distance every frame.
var EvenSpacing = &kit.Check{
	ID:                "even-spacing",
	Severity:          note.Warning,
	Group:             kit.Spacing,
	Title:             "equal spacing through a stroke",
	Doc:               evenSpacingDoc,
	Settings:          []kit.Setting{&evenSpacingEvenness, &evenSpacingMinTime, &evenSpacingMinSpacings, &evenSpacingCoverage, &evenSpacingMinSpeed, &evenSpacingMinTurnSpeed, &evenSpacingMinValueSpeed, &evenSpacingMinTravel, &evenSpacingMinTurn, &evenSpacingMinValue, &evenSpacingContinuous},
	SilentWhenBlocked: true,
	Run:               runEvenSpacing,
}

// evenRun is a run of even spacing on one track.
type evenRun struct {
	kit.Candidate
	evenness float64
	mean     float64 // spacing, in the track's unit
	spacings int
	onTwos   bool
	length   float64
	covers   float64 // share of its stroke's time
}

// evenLimits are the settings, by quality of track.
type evenLimits struct {
	evenness, minTime, coverage, continuous float64
	minSpacings                             int
	minSpeed, minLength                     [3]float64
}

func runEvenSpacing(c *kit.Context) []note.Note {
	l := evenLimits{
		evenness: evenSpacingEvenness.In(c), minTime: evenSpacingMinTime.In(c), coverage: evenSpacingCoverage.In(c),
		continuous: evenSpacingContinuous.In(c), minSpacings: int(evenSpacingMinSpacings.In(c)),
		minSpeed:  [3]float64{evenSpacingMinSpeed.In(c), evenSpacingMinTurnSpeed.In(c), evenSpacingMinValueSpeed.In(c)},
		minLength: [3]float64{evenSpacingMinTravel.In(c), evenSpacingMinTurn.In(c), evenSpacingMinValue.In(c)},
	}
	var notes []note.Note
	for _, fig := range c.Living() {
		var runs []evenRun
		for _, t := range kit.SeenTracks(fig) {
			if c.Ctx.Err() != nil {
				return nil
			}
			runs = append(runs, evenRuns(c, fig, t, &l)...)
		}
		notes = append(notes, evenNotes(c, fig, runs, &l)...)
	}
	return notes
}

// evenNotes makes one note of all runs that one driver causes at one time.
func evenNotes(c *kit.Context, fig *motion.Figure, runs []evenRun, l *evenLimits) []note.Note {
	var notes []note.Note
	for _, r := range kit.OneCause(fig, runs, func(r *evenRun) *kit.Candidate { return &r.Candidate }) {
		n := evenNote(c, fig, r, l)
		for _, o := range runs {
			// It speaks for the other brow as well, and what is hard about that.
			if o.First <= r.Last && r.First <= o.Last && fig.GroupOf(o.Track.Part) != nil && fig.GroupOf(o.Track.Part) == fig.GroupOf(n.PartID) {
				n.Causes = append(n.Causes, o.Track.Part)
			}
		}
		notes = append(notes, n)
	}
	return notes
}

func evenNote(c *kit.Context, fig *motion.Figure, r evenRun, l *evenLimits) note.Note {
	s := c.Study
	ch := r.Driver()
	p := s.Scene.Channels[ch].Part
	n := c.Draft(p, ch, r.First, r.Last)
	on := ""
	if r.onTwos {
		on = " on twos"
	}
	does := [...]string{motion.Position: "travels", motion.Rotation: "turns", motion.Value: "changes"}[r.Track.Quality]
	seconds := float64(r.Last-r.First) / s.Rate
	if seconds > l.continuous {
		n.Severity = max(n.Severity, note.Information)
		n.Message = fmt.Sprintf("%s: %s evenly for %.1f s, %s a frame; let the speed breathe", c.Span(r.First, r.Last), c.Says(p, does), seconds, kit.Amount(r.Track.Quality, r.mean))
	} else {
		n.Message = fmt.Sprintf("%s: %s evenly, %d spacings%s within %s; favour one end", c.Span(r.First, r.Last), c.Says(p, does), r.spacings, on, kit.Percent(r.evenness))
	}
	n.Weight = c.Weigh(fig, p, kit.LikeFigures(r.Track.Quality, r.length))
	q := kit.Unit(r.Track.Quality)
	n.Measures = []note.Measure{
		{Name: "spacing", Value: r.mean, Unit: q},
		{Name: "evenness", Value: r.evenness, Unit: "ratio"},
		{Name: "spacings", Value: float64(r.spacings), Unit: "count"},
		{Name: "travel", Value: r.length, Unit: q},
		{Name: "driver-share", Value: r.Drivers[0].Value, Unit: "ratio"},
	}
	for _, d := range r.Drivers[1:] {
		if d.Value > 0.25 {
			c.Relate(&n, d.Channel, r.First, "also drives it: %s %s, %s", c.Name(s.Scene.Channels[d.Channel].Part), s.Scene.Channels[d.Channel].Name, kit.Share(d.Value))
		}
	}
	if r.Track.Part != p {
		c.RelatePart(&n, r.Track.Part, r.First, "seen on %s", r.Track.Name)
	}
	n.Causes = []scene.PartID{p, r.Track.Part}
	return n
}
