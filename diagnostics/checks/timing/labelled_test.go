package timing_test

import (
	"testing"

	"curvelint/cmd/lab/cases"
	"curvelint/diagnostics/checks/timing"
)

func TestLabelledCases(t *testing.T) { cases.Run(t, timing.Checks...) }

func TestSettingsArePinned(t *testing.T) { cases.Pins(t, timing.Checks...) }
