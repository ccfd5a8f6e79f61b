package checks

import (
	_ "embed"
	"fmt"

	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/note"
	"curvelint/parse/scene"
)

//go:embed even_spacing.md
var evenSpacingDoc string

// EvenSpacing finds runs in which a part travels the same distance every frame.
var EvenSpacing = &Check{
	ID:       "even-spacing",
	Severity: note.Warning,
	Group:    Spacing,
	Title:    "equal spacing through a stroke",
	Doc:      evenSpacingDoc,
	Settings: []Setting{
		{Name: "evenness", Unit: "ratio", Default: 0.10, Min: 0, Max: 1, Doc: "(largest - smallest) / mean of the spacings in a run"},
		{Name: "min_time", Unit: "s", Default: 0.2, Min: 0, Max: 10, Doc: "shortest run"},
		{Name: "min_spacings", Unit: "count", Default: 5, Min: 3, Max: 100, Doc: "fewest spacings on ones; one less on twos"},
		{Name: "coverage", Unit: "ratio", Default: 0.5, Min: 0, Max: 1, Doc: "share of its stroke that the run covers"},
		{Name: "min_speed", Unit: "figure/s", Default: 0.07, Min: 0, Max: 100, Doc: "slowest mean speed of a point"},
		{Name: "min_turn_speed", Unit: "degrees/s", Default: 12, Min: 0, Max: 10000, Doc: "slowest mean speed of a rotation"},
		{Name: "min_value_speed", Unit: "range/s", Default: 0.4, Min: 0, Max: 100, Doc: "slowest mean speed of a weight"},
		{Name: "min_travel", Unit: "figure", Default: 0.04, Min: 0, Max: 100, Doc: "shortest run of a point"},
		{Name: "min_turn", Unit: "degrees", Default: 6, Min: 0, Max: 10000, Doc: "shortest run of a rotation"},
		{Name: "min_value", Unit: "range", Default: 0.2, Min: 0, Max: 1, Doc: "shortest run of a weight"},
		{Name: "continuous", Unit: "s", Default: 2, Min: 0.5, Max: 1000, Doc: "even travel longer than this is information"},
	},
	SilentWhenBlocked: true,
	Run:               runEvenSpacing,
}

// evenRun is a run of even spacing on one track.
type evenRun struct {
	finding
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

func runEvenSpacing(c *Context) []note.Note {
	l := evenLimits{
		evenness: c.Setting("evenness"), minTime: c.Setting("min_time"), coverage: c.Setting("coverage"),
		continuous: c.Setting("continuous"), minSpacings: int(c.Setting("min_spacings")),
		minSpeed:  [3]float64{c.Setting("min_speed"), c.Setting("min_turn_speed"), c.Setting("min_value_speed")},
		minLength: [3]float64{c.Setting("min_travel"), c.Setting("min_turn"), c.Setting("min_value")},
	}
	var notes []note.Note
	for _, fig := range c.living() {
		var runs []evenRun
		for _, t := range seenTracks(fig) {
			if c.Ctx.Err() != nil {
				return nil
			}
			runs = append(runs, c.evenRuns(fig, t, &l)...)
		}
		notes = append(notes, c.evenNotes(fig, runs, &l)...)
	}
	return notes
}

// evenNotes makes one note of all runs that one driver causes at one time.
func (c *Context) evenNotes(fig *motion.Figure, runs []evenRun, l *evenLimits) []note.Note {
	var notes []note.Note
	for _, r := range oneCause(fig, runs, func(r *evenRun) *finding { return &r.finding }) {
		n := c.evenNote(fig, r, l)
		for _, o := range runs {
			// It speaks for the other brow as well, and what is hard about that.
			if o.first <= r.last && r.first <= o.last && fig.GroupOf(o.track.Part) != nil && fig.GroupOf(o.track.Part) == fig.GroupOf(n.PartID) {
				n.Causes = append(n.Causes, o.track.Part)
			}
		}
		notes = append(notes, n)
	}
	return notes
}

func (c *Context) evenNote(fig *motion.Figure, r evenRun, l *evenLimits) note.Note {
	s := c.Study
	ch := r.driver()
	p := s.Scene.Channels[ch].Part
	n := c.draft(p, ch, r.first, r.last)
	on := ""
	if r.onTwos {
		on = " on twos"
	}
	does := [...]string{motion.Position: "travels", motion.Rotation: "turns", motion.Value: "changes"}[r.track.Quality]
	seconds := float64(r.last-r.first) / s.Rate
	if seconds > l.continuous {
		n.Severity = max(n.Severity, note.Information)
		n.Message = fmt.Sprintf("%s: %s evenly for %.1f s, %s a frame; let the speed breathe", c.span(r.first, r.last), c.says(p, does), seconds, amount(r.track.Quality, r.mean))
	} else {
		n.Message = fmt.Sprintf("%s: %s evenly, %d spacings%s within %s; favour one end", c.span(r.first, r.last), c.says(p, does), r.spacings, on, percent(r.evenness))
	}
	n.Weight = c.weigh(fig, p, likeFigures(r.track.Quality, r.length))
	q := unit(r.track.Quality)
	n.Measures = []note.Measure{
		{Name: "spacing", Value: r.mean, Unit: q},
		{Name: "evenness", Value: r.evenness, Unit: "ratio"},
		{Name: "spacings", Value: float64(r.spacings), Unit: "count"},
		{Name: "travel", Value: r.length, Unit: q},
		{Name: "driver-share", Value: r.drivers[0].Value, Unit: "ratio"},
	}
	for _, d := range r.drivers[1:] {
		if d.Value > 0.25 {
			c.relate(&n, d.Channel, r.first, "also drives it: %s %s, %s", c.name(s.Scene.Channels[d.Channel].Part), s.Scene.Channels[d.Channel].Name, share(d.Value))
		}
	}
	if r.track.Part != p {
		c.relatePart(&n, r.track.Part, r.first, "seen on %s", r.track.Name)
	}
	n.Causes = []scene.PartID{p, r.track.Part}
	return n
}
