package noise_test

import (
	"testing"

	"curvelint/cmd/lab/cases"
	"curvelint/diagnostics/checks/noise"
)

func TestLabelledCases(t *testing.T) { cases.Run(t, noise.Checks...) }

func TestSettingsArePinned(t *testing.T) { cases.Pins(t, noise.Checks...) }
