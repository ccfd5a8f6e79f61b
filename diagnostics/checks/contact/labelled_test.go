package contact_test

import (
	"testing"

	"curvelint/cmd/lab/cases"
	"curvelint/diagnostics/checks/contact"
)

func TestLabelledCases(t *testing.T) { cases.Run(t, contact.Checks...) }

func TestSettingsArePinned(t *testing.T) { cases.Pins(t, contact.Checks...) }
