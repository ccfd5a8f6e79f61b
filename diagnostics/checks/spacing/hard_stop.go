package spacing

import (
	_ "embed"

	"curvelint/diagnostics/checks/kit"
	"curvelint/diagnostics/note"
)

//go:embed hard_stop.md
var hardStopDoc string

// The settings of hard-stop; those of hard-start are its own.
var (
	hardStopShare   = kit.Number{Name: "share", Unit: "ratio", Default: 0.9, Min: 0.3, Max: 1, Doc: "the spacing next to the hold is at least this share of the stroke's largest"}
	hardStopMinTime = kit.Seconds{Name: "min_time", Default: 0.2, Min: 0, Max: 10, Doc: "shortest stroke"}
	hardStopMinPeak = kit.Number{Name: "min_peak", Unit: "figure/s", Default: 0.24, Min: 0, Max: 100, Doc: "slowest peak of a point; a turn needs 40 degrees/s and a weight 1.4 ranges/s for the default, in proportion otherwise"}
)

// HardStop finds moves that run into a hold at full speed.
var HardStop = &kit.Check{
	ID: "hard-stop", Severity: note.Information, Group: kit.Spacing,
	Title: "a move that stops without an ease", Doc: hardStopDoc, Settings: []kit.Setting{&hardStopShare, &hardStopMinTime, &hardStopMinPeak},
	Limits:            edgeLimits,
	SilentWhenBlocked: true,
	YieldsTo:          []string{"even-spacing", "pop", "knee-pop"},
	Run: func(c *kit.Context) []note.Note {
		return hardEdgeNotes(c, false, hardLimits{share: hardStopShare.In(c), minTime: hardStopMinTime.In(c), minPeak: hardStopMinPeak.In(c)})
	},
}
