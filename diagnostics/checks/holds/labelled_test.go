package holds_test

import (
	"testing"

	"curvelint/cmd/lab/cases"
	"curvelint/diagnostics/checks/holds"
)

func TestLabelledCases(t *testing.T) { cases.Run(t, holds.Checks...) }

func TestSettingsArePinned(t *testing.T) { cases.Pins(t, holds.Checks...) }

func TestLimitsAreFelt(t *testing.T) { cases.Limits(t, holds.Checks...) }
