package chart

import (
	"bytes"
	"slices"
	"testing"
)

func TestOperatingCurve(t *testing.T) {
	values := []Operating{{"0.1", 0, 0, false}, {"0.3", 0.5, 0, false}, {"0.5", 1, 0.02, true}, {"0.9", 1, 0.4, false}}
	svg, err := OperatingCurve("hitch: depth swept", values, Options{})
	if err != nil {
		t.Fatal(err)
	}
	got := texts(t, svg)
	for _, want := range []string{"hitch: depth swept", "default 0.5", "0.9", "% of flaws found", "% of proper scenes noted"} {
		if !slices.Contains(got, want) {
			t.Errorf("no text %q in %q", want, got)
		}
	}
	const words = "With the default of 0.5, 100 % of the flaws are found and 2 % of the proper scenes get a note."
	if !bytes.Contains(svg, []byte(words)) {
		t.Errorf("it does not say to those who do not see it: %s", words)
	}
	if _, err := OperatingCurve("x", values[:1], Options{}); err == nil {
		t.Error("one value makes a curve")
	}
}
