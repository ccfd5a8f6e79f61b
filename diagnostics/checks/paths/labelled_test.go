package paths_test

import (
	"testing"

	"curvelint/cmd/lab/cases"
	"curvelint/diagnostics/checks/paths"
)

func TestLabelledCases(t *testing.T) { cases.Run(t, paths.Checks...) }

func TestSettingsArePinned(t *testing.T) { cases.Pins(t, paths.Checks...) }

func TestLimitsAreFelt(t *testing.T) { cases.Limits(t, paths.Checks...) }
