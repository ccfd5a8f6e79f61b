package spacing

import (
	_ "embed"

	"curvelint/diagnostics/checks/kit"
	"curvelint/diagnostics/note"
)

//go:embed hard_start.md
var hardStartDoc string

// The settings of hard-start; those of hard-stop are its own.
var (
	hardStartShare   = kit.Number{Name: "share", Unit: "ratio", Default: 0.9, Min: 0.3, Max: 1, Doc: "the spacing next to the hold is at least this share of the stroke's largest"}
	hardStartMinTime = kit.Seconds{Name: "min_time", Default: 0.2, Min: 0, Max: 10, Doc: "shortest stroke"}
	hardStartMinPeak = kit.Number{Name: "min_peak", Unit: "figure/s", Default: 0.24, Min: 0, Max: 100, Doc: "slowest peak of a point; a turn needs 40 degrees/s and a weight 1.4 ranges/s for the default, in proportion otherwise"}
)

// HardStart finds moves that leave a hold at full speed.
var HardStart = &kit.Check{
	ID: "hard-start", Severity: note.Information, Group: kit.Spacing,
	Title: "a move that starts without an ease", Doc: hardStartDoc, Settings: []kit.Setting{&hardStartShare, &hardStartMinTime, &hardStartMinPeak},
	Limits:            edgeLimits,
	SilentWhenBlocked: true,
	YieldsTo:          []string{"even-spacing", "pop", "knee-pop"},
	Run: func(c *kit.Context) []note.Note {
		return hardEdgeNotes(c, true, hardLimits{share: hardStartShare.In(c), minTime: hardStartMinTime.In(c), minPeak: hardStartMinPeak.In(c)})
	},
}
