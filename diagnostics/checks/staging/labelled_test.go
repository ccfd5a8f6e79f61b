package staging_test

import (
	"testing"

	"curvelint/cmd/lab/cases"
	"curvelint/diagnostics/checks/staging"
)

func TestLabelledCases(t *testing.T) { cases.Run(t, staging.Checks...) }

func TestSettingsArePinned(t *testing.T) { cases.Pins(t, staging.Checks...) }
