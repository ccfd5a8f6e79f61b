package server_test

import (
	"os"
	"testing"

	"curvelint/diagnostics"
)

func TestMain(m *testing.M) {
	diagnostics.PanicOnBugs(true)
	os.Exit(m.Run())
}
