package contact

import (
	_ "embed"
	"fmt"

	"curvelint/diagnostics/checks/kit"
	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/motion/body"
	"curvelint/diagnostics/note"
)

//go:embed backward_bend.md
var backwardBendDoc string

// The settings of backward-bend.
var (
	backwardBendBend    = kit.Number{Name: "bend", Unit: "degrees", Default: 5, Min: 0, Max: 180, Doc: "how far a knee or elbow bends to the other side"}
	backwardBendMinTime = kit.Seconds{Name: "min_time", Default: 2.0 / 24, Min: 0, Max: 10, Doc: "shortest time"}
)

// BackwardBend finds hinges that bend past straight.
var BackwardBend = &kit.Check{
	ID:       "backward-bend",
	Severity: note.Information,
	Group:    kit.Contact,
	Title:    "a hinge bent past straight",
	Doc:      backwardBendDoc,
	Settings: []kit.Setting{&backwardBendBend, &backwardBendMinTime},
	Limits:   []*kit.Limit{&otherSide, &sameAxis, &noHingeShare},
	Run:      runBackwardBend,
}

func runBackwardBend(c *kit.Context) []note.Note {
	s := c.Study
	least := backwardBendMinTime.Frames(c)
	var notes []note.Note
	eachLimb(c, func(fig *motion.Figure, l body.TwoBone, f motion.Flexion) {
		back := func(i int) bool { return f.Side[i] < otherSide.Value && f.Angle[i] > backwardBendBend.In(c) }
		if noHinge(&f, backwardBendBend.In(c)) {
			return
		}
		for i := 0; i < s.N; i++ {
			if !back(i) {
				continue
			}
			a, worst := i, 0.0
			for i < s.N && back(i) {
				worst = max(worst, f.Angle[i])
				i++
			}
			if i-a < least || !s.Judged(a, i-1) {
				continue
			}
			n := c.Draft(l.Lower, hingeChannel(c, l, max(a-1, 0), i-1), a, i-1)
			n.Message = fmt.Sprintf("%s: %s bends %.0f degrees to the wrong side; turn the hinge back past straight", c.Span(a, i-1), l.Name, worst)
			n.Weight = c.Weigh(fig, l.Lower, worst/180)
			n.Measures = []note.Measure{{Name: "bend", Value: worst, Unit: "degrees"}}
			n.Causes = append(n.Causes, l.Lower)
			notes = append(notes, n)
		}
	})
	return notes
}
