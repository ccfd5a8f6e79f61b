package tool_test

import (
	"testing"

	"curvelint/cmd/lab/cases"
	"curvelint/diagnostics/checks/tool"
)

func TestLabelledCases(t *testing.T) { cases.Run(t, tool.Checks...) }

func TestSettingsArePinned(t *testing.T) { cases.Pins(t, tool.Checks...) }
