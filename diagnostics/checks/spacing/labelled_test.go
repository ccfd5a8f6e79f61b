package spacing_test

import (
	"testing"

	"curvelint/cmd/lab/cases"
	"curvelint/diagnostics/checks/spacing"
)

func TestLabelledCases(t *testing.T) { cases.Run(t, spacing.Checks...) }

func TestSettingsArePinned(t *testing.T) { cases.Pins(t, spacing.Checks...) }
