package report

import (
	"path/filepath"
	"strings"
	"testing"

	"curvelint/diagnostics"

	"github.com/owenrumney/go-sarif/v3/pkg/report/v210/sarif"
)

// The report is valid against the schema of the OASIS standard SARIF 2.1.0,
// errata 01, as the library ships it.
func TestSARIFIsValid(t *testing.T) {
	out := write(t, "sarif", Options{Version: "1.2.3"}, inventedFile(), &File{Path: filepath.Join(t.TempDir(), "b.usda")})
	r, err := sarif.FromString(out, sarif.WithStrictValidation())
	if err != nil {
		t.Fatal(err)
	}
	if err := r.Validate(); err != nil {
		t.Error(err)
	}
	run := r.Runs[0]
	if n := len(run.Tool.Driver.Rules); n != len(diagnostics.Checks()) {
		t.Errorf("%d rules, want one for each of %d checks", n, len(diagnostics.Checks()))
	}
	for i, res := range run.Results {
		if rule := run.Tool.Driver.Rules[res.RuleIndex]; *rule.ID != *res.RuleID {
			t.Errorf("result %d of %s has the rule %s", i, *res.RuleID, *rule.ID)
		}
		for _, l := range append(res.Locations, res.RelatedLocations...) {
			at := l.PhysicalLocation.ArtifactLocation
			if uri := *run.Artifacts[at.Index].Location.URI; uri != *at.URI {
				t.Errorf("result %d lies in %s but points to %s", i, *at.URI, uri)
			}
		}
	}
	// Columns count characters: before this one stand one of two bytes and
	// one of four.
	if c := *run.Results[1].Locations[0].PhysicalLocation.Region.StartColumn; c != 10 {
		t.Errorf("column %d, want 10", c)
	}
	if uri := *run.Artifacts[1].Location.URI; uri != "deck%20layer.usda" {
		t.Errorf("URI %s", uri)
	}
	if l := run.Results[0].Level + run.Results[1].Level + run.Results[2].Level; l != "errorwarningnote" {
		t.Errorf("levels %s", l)
	}
}

// The schema finds mistakes at all.
func TestSARIFSchemaBites(t *testing.T) {
	out := write(t, "sarif", Options{}, inventedFile())
	r, err := sarif.FromString(strings.Replace(out, `"unicodeCodePoints"`, `"letters"`, 1), sarif.WithStrictValidation())
	if err == nil {
		err = r.Validate()
	}
	if err == nil {
		t.Error("an invalid report passes for valid")
	}
}
