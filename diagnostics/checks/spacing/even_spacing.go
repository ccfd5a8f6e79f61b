package spacing

import (
	_ "embed"
	"fmt"

	"curvelint/diagnostics/checks/kit"
	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/motion/track"
	"curvelint/diagnostics/note"
	"curvelint/diagnostics/words"
	"curvelint/parse/scene"
)

// seen reports whether the run lasts, covers its stroke, and is large and fast
// enough for an audience.
func (l *evenLimits) seen(t *track.Track, r *evenRun, k track.Stroke) bool {
	seconds := float64(r.Last-r.First) / t.Rate
	few := l.minSpacings
	if r.onTwos {
		few--
	}
	q := t.Quality
	coverage, least := l.coverage, l.minTime
	if cutOff(t, k) {
		// The clip shows a part of the stroke only, and maybe not its ease.
		coverage, least = max(coverage, evenSpacingMostlyEven.Value), max(least, evenSpacingLongEven.Value)
	}
	return r.spacings >= few && seconds >= least-kit.Rounding.Value &&
		float64(r.Last-r.First) >= coverage*float64(k.Last-k.First) && r.length >= l.coverage*k.Length && k.PeakSpeed <= evenSpacingBurst.Value*r.length/seconds &&
		r.length >= l.minLength[q] && r.length/seconds >= l.minSpeed[q]
}

//go:embed even_spacing.md
var evenSpacingDoc string

// The settings of even-spacing.
var (
	evenSpacingContrast      = kit.Number{Name: "contrast", Unit: "ratio", Default: 0.10, Min: 0, Max: 1, Doc: "(largest - smallest) / mean of the spacings in a run"}
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

// The limits of even-spacing.
var (
	evenSpacingOwnWork = kit.Limit{Name: "own_work", Value: 0.45, Unit: "ratio",
		Doc:    "the least share that one channel has in the even path of a point: several eased parts may add up to an even path for a few frames",
		Source: "common practice, no source"}
	evenSpacingEasedShare = kit.Limit{Name: "eased_share", Value: 0.6, Unit: "ratio",
		Doc:    "a driver that adds less than this share in one part of a run of what it adds in another is eased",
		Source: "common practice, no source"}
	evenSpacingMostlyEven = kit.Limit{Name: "mostly_even", Value: 0.8, Unit: "ratio",
		Doc:    "the share of a stroke that must be even when the clip cuts it",
		Source: "a cubic with flat tangents, cut where it starts to slow down, is even for 55 % of what is left"}
	evenSpacingLongEven = kit.Limit{Name: "long_even", Value: 0.3, Unit: "s",
		Doc:    "a run in a stroke that the clip cuts lasts so long",
		Source: "common practice, no source"}
	evenSpacingBurst = kit.Limit{Name: "burst", Value: 1.12, Unit: "ratio",
		Doc:    "a stroke that elsewhere is so many times faster than the run is no stroke at one speed",
		Source: "common practice, no source"}
	evenSpacingSeenContrast = kit.Limit{Name: "seen_contrast", Value: 1.5, Unit: "ratio",
		Doc:    "as the audience sees it, a turn may contrast by so many times the setting",
		Source: "common practice, no source"}
	evenSpacingHalfSeen = kit.Limit{Name: "half_seen", Value: 0.5, Unit: "ratio",
		Doc:    "or, in a stroke that is even nearly from end to end, keep this share of its speed",
		Source: "common practice, no source"}
	evenSpacingOneAxis = kit.Limit{Name: "one_axis", Value: 0.7071067811865476, Unit: "ratio",
		Doc:    "a turn whose axis changes by more wanders: the cosine of 45 degrees",
		Source: "common practice, no source"}
	evenSpacingCutSpeed = kit.Limit{Name: "cut_speed", Value: 0.5, Unit: "ratio",
		Doc:    "a stroke that runs at more than this share of its peak at an end of the clip is cut by it",
		Source: "common practice, no source"}
	evenSpacingParts = kit.Limit{Name: "parts", Value: 4, Unit: "count",
		Doc:    "a run is compared with itself in so many parts",
		Source: "common practice, no source"}
)

// EvenSpacing finds runs in which a part travels the same distance every frame.
var EvenSpacing = &kit.Check{
	ID:                "even-spacing",
	Severity:          note.Warning,
	Group:             kit.Spacing,
	Title:             "equal spacing through a stroke",
	Doc:               evenSpacingDoc,
	Settings:          []kit.Setting{&evenSpacingContrast, &evenSpacingMinTime, &evenSpacingMinSpacings, &evenSpacingCoverage, &evenSpacingMinSpeed, &evenSpacingMinTurnSpeed, &evenSpacingMinValueSpeed, &evenSpacingMinTravel, &evenSpacingMinTurn, &evenSpacingMinValue, &evenSpacingContinuous},
	Limits:            []*kit.Limit{&evenSpacingOwnWork, &evenSpacingEasedShare, &evenSpacingMostlyEven, &evenSpacingLongEven, &evenSpacingBurst, &evenSpacingSeenContrast, &evenSpacingHalfSeen, &evenSpacingOneAxis, &evenSpacingCutSpeed, &evenSpacingParts, &kit.AlsoDrives, &kit.SureNoise, &kit.FilmFrame, &kit.StandsStill, &kit.OwnTurn, &kit.Rounding},
	SilentWhenBlocked: true,
	Run:               runEvenSpacing,
}

// evenRun is a run of even spacing on one track.
type evenRun struct {
	kit.Candidate
	contrast float64
	mean     float64 // spacing, in the track's unit
	spacings int
	onTwos   bool
	length   float64
	covers   float64 // share of its stroke's time
}

// evenLimits are the settings, by quality of track.
type evenLimits struct {
	contrast, minTime, coverage, continuous float64
	minSpacings                             int
	minSpeed, minLength                     [3]float64
}

func runEvenSpacing(c *kit.Context) []note.Note {
	l := evenLimits{
		contrast: evenSpacingContrast.In(c), minTime: evenSpacingMinTime.In(c), coverage: evenSpacingCoverage.In(c),
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
	does := [...]string{track.Position: "travels", track.Rotation: "turns", track.Value: "changes"}[r.Track.Quality]
	seconds := float64(r.Last-r.First) / s.Rate
	if seconds > l.continuous {
		n.Severity = max(n.Severity, note.Information)
		n.Message = fmt.Sprintf("%s: %s evenly for %.1f s, %s a frame; let the speed breathe", c.Span(r.First, r.Last), c.Says(p, does), seconds, kit.Amount(r.Track.Quality, r.mean))
	} else {
		n.Message = fmt.Sprintf("%s: %s evenly, %d spacings%s within %s; favour one end", c.Span(r.First, r.Last), c.Says(p, does), r.spacings, on, words.Percent(r.contrast))
	}
	n.Weight = c.Weigh(fig, p, kit.LikeFigures(r.Track.Quality, r.length))
	q := kit.Unit(r.Track.Quality)
	n.Measures = []note.Measure{
		{Name: "spacing", Value: r.mean, Unit: q},
		{Name: "spacing-contrast", Value: r.contrast, Unit: "ratio"},
		{Name: "spacings", Value: float64(r.spacings), Unit: "count"},
		{Name: "travel", Value: r.length, Unit: q},
		{Name: "driver-share", Value: r.Drivers[0].Value, Unit: "ratio"},
	}
	for _, d := range r.Drivers[1:] {
		if d.Value > kit.AlsoDrives.Value {
			c.Relate(&n, d.Channel, r.First, "also drives it: %s %s, %s", c.Name(s.Scene.Channels[d.Channel].Part), s.Scene.Channels[d.Channel].Name, kit.Share(d.Value))
		}
	}
	if r.Track.Part != p {
		c.RelatePart(&n, r.Track.Part, r.First, "seen on %s", r.Track.Name)
	}
	n.Causes = []scene.PartID{p, r.Track.Part}
	return n
}
