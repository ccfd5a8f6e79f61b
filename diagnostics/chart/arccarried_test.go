package chart

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"curvelint/diagnostics"
	"curvelint/diagnostics/config"
	"curvelint/diagnostics/motion"
	"curvelint/parse/scene"
)

// aboard is a hand that swings by a quarter turn on a deck, over 25 frames. The deck
// rocks by so many degrees and lies level in the middle frame.
func aboard(t *testing.T, rock float64) (*motion.Study, scene.PartID) {
	t.Helper()
	samples := func(value func(u float64) float64) string {
		var b strings.Builder
		for f := range 25 {
			fmt.Fprintf(&b, "%d: %.9f, ", f+1, value(float64(f-12)/12))
		}
		return b.String()
	}
	deck := ""
	if rock != 0 {
		deck = "        double xformOp:rotateZ.timeSamples = {" + samples(func(u float64) float64 { return rock * math.Sin(math.Pi*u) }) + "}\n" +
			"        uniform token[] xformOpOrder = [\"xformOp:rotateZ\"]\n"
	}
	text := "#usda 1.0\n(\n    startTimeCode = 1\n    endTimeCode = 25\n    timeCodesPerSecond = 24\n    upAxis = \"Y\"\n)\n" +
		"def Xform \"Shot\"\n{\n    def Camera \"cam\"\n    {\n        double3 xformOp:translate = (0, 2, 20)\n        uniform token[] xformOpOrder = [\"xformOp:translate\"]\n    }\n" +
		"    def Xform \"deck\"\n    {\n" + deck +
		"        def Xform \"Tug\"\n        {\n            double3 xformOp:translate = (3, 1, 0)\n            uniform token[] xformOpOrder = [\"xformOp:translate\"]\n" +
		"            def Xform \"arm_l\"\n            {\n                double xformOp:rotateX.timeSamples = {" + samples(func(u float64) float64 { return 5 * u }) + "}\n" +
		"                double xformOp:rotateZ.timeSamples = {" + samples(func(u float64) float64 { return 45 * u }) + "}\n" +
		"                uniform token[] xformOpOrder = [\"xformOp:rotateZ\", \"xformOp:rotateX\"]\n" +
		"                def Xform \"hand_l\"\n                {\n                    double3 xformOp:translate = (0, 2, 0)\n                    uniform token[] xformOpOrder = [\"xformOp:translate\"]\n                }\n            }\n        }\n    }\n}\n"
	cfg := config.Parse("curvelint.toml", []byte("[[part]]\nmatch = \"/Shot/deck/Tug/**\"\ncarrier = \"/Shot/deck\"\n"), diagnostics.Schema())
	sc := diagnostics.Read("aboard.usda", []byte(text), cfg, nil)
	s, fault := diagnostics.Judge{Config: cfg}.Study(sc)
	hand := sc.Find("/Shot/deck/Tug/arm_l/hand_l")
	if fault != nil || len(sc.Problems) > 0 || hand == scene.NoPart {
		t.Fatal(fault, sc.Problems)
	}
	return s, hand
}

// A rocking deck bends no arc that is seen from it: the path is that on a deck which
// lies level, as in the middle frame.
func TestArcSeenFromACarrier(t *testing.T) {
	paths := map[float64]arcPath{}
	for _, rock := range []float64{0, 20} {
		s, hand := aboard(t, rock)
		c := arcChart{study: s, part: hand, clip: clip{0, s.N - 1}}
		o := Options{}
		if err := c.paths(&o); err != nil {
			t.Fatal(err)
		}
		if !strings.HasPrefix(c.where, "seen from deck") {
			t.Errorf("rocking by %g: %q", rock, c.where)
		}
		paths[rock] = c.now
	}
	level, rocking := paths[0], paths[20]
	if len(level.at) != 25 || len(rocking.at) != 25 {
		t.Fatalf("%d and %d places", len(level.at), len(rocking.at))
	}
	for i := range level.at {
		if d := math.Hypot(level.at[i].x-rocking.at[i].x, level.at[i].y-rocking.at[i].y); d > 1e-4 {
			t.Errorf("frame %d: %v on a level deck, %v on one that rocks", i+1, level.at[i], rocking.at[i])
		}
	}
	// In the world, the rocking would show.
	s, hand := aboard(t, 20)
	fig := s.FigureOf(hand)
	world := screenTrack(s, fig, fig.PointOn(hand))
	if x := 100 * (world.Origin[0] + world.Unit*world.At(18).X); math.Abs(x-level.at[18].x) < 1 {
		t.Errorf("the deck does not rock: %g and %g", x, level.at[18].x)
	}
}
