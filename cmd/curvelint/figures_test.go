package main

import (
	"os"
	"strings"
	"testing"
)

func TestFigures(t *testing.T) {
	status, out, errs := call(t, "", "figures", demoSpline)
	if status != statusClean {
		t.Fatalf("status %d: %s", status, errs)
	}
	for _, want := range []string{
		"/Tug: figure size ", "carried by /Shot/deck", "\n  not known  drum\n", "\n  left leg ", "shin_l (knee)", "forearm_r (elbow)", "\n  brows ", "/Gull", "\n  left wing ",
	} {
		if !strings.Contains(out, want) {
			t.Errorf("no %q in\n%s", want, out)
		}
	}
}

// What names leave open is said, and where nothing moves.
func TestFiguresThatAreNotKnown(t *testing.T) {
	shots(t, map[string]string{
		"winch.bvh":  winch,
		"torn.bvh":   "HIERARCHY\nROOT\n",
		"still.usda": "#usda 1.0\ndef Xform \"bollard\" {\n    double3 xformOp:translate = (1, 0, 0)\n    uniform token[] xformOpOrder = [\"xformOp:translate\"]\n}\n",
	})
	if _, out, _ := call(t, "", "figures", "winch.bvh"); !strings.Contains(out, "units of the file") || !strings.Contains(out, "  root  drum\n") {
		t.Errorf("a drum with no body's name:\n%s", out)
	}
	for path, want := range map[string]string{"still.usda": "still.usda has nothing that moves", "none.usda": "none.usda does not exist", "torn.bvh": "torn.bvh cannot be read: expected"} {
		if status, _, errs := call(t, "", "figures", path); status != statusFailed || !strings.Contains(errs, want) {
			t.Errorf("%s: status %d, %q, want %q", path, status, errs, want)
		}
	}
	if status, _, errs := call(t, "", "figures"); status != statusFailed || !strings.Contains(errs, "needs the path of one scene file") {
		t.Errorf("no file: status %d, %q", status, errs)
	}
	if err := os.WriteFile("curvelint.toml", []byte("[groups]\nmachinery = [\"*drum*\"]\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	if _, out, _ := call(t, "", "figures", "winch.bvh"); !strings.Contains(out, "  machinery  drum") {
		t.Errorf("a group of the configuration:\n%s", out)
	}
}
