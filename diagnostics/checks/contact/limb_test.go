package contact

import (
	"bytes"
	"testing"

	"curvelint/cmd/lab/designed"
	"curvelint/cmd/lab/designed/write"
	"curvelint/diagnostics/checks/kit"
	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/motion/body"
	"curvelint/parse"
	"curvelint/parse/scene"
)

// TestLimbDriver: what a foot in contact does is noted on its limb, also where the hips
// move it more; only where no channel of the limb has a share, on what moves it most.
func TestLimbDriver(t *testing.T) {
	var b bytes.Buffer
	if err := write.BVH(&b, designed.Deckhand(designed.SplinePass).Take(24)); err != nil {
		t.Fatal(err)
	}
	s := motion.New(parse.Parse("a.bvh", b.Bytes(), scene.ReadOptions{}), motion.Options{})
	c := &kit.Context{Study: s}
	for _, fig := range s.Figures() {
		foot := fig.Feet()
		if len(foot) == 0 {
			continue
		}
		point := fig.Points[foot[0].Points[0]].Part
		limb := fig.GroupOf(point)
		inLimb, outside := scene.NoChannel, scene.NoChannel
		for id := range s.Scene.Channels {
			if fig.GroupOf(s.Scene.Channels[id].Part) == limb {
				inLimb = scene.ChannelID(id)
			} else {
				outside = scene.ChannelID(id)
			}
		}
		for _, tt := range []struct {
			share float64
			want  scene.ChannelID
		}{{0.3, inLimb}, {0.05, outside}} {
			got := limbDriver(c, fig, point, []motion.Share{{Channel: outside, Value: 0.9}, {Channel: inLimb, Value: tt.share}})
			if got != tt.want {
				t.Errorf("share %g: channel %d, want %d", tt.share, got, tt.want)
			}
		}
		return
	}
	t.Fatal("no feet")
}

// TestLengthOf: centimetres are told only where the file's unit makes a likely figure.
func TestLengthOf(t *testing.T) {
	for _, tt := range []struct {
		size, unit float64
		want       string
	}{
		{170, 0.01, "2 % of figure size (3.4 cm)"},
		{170, 1, "2 % of figure size"},
		{1.7, 0, "2 % of figure size"},
	} {
		if got := lengthOf(&kit.Context{}, &motion.Figure{Anatomy: &body.Anatomy{Size: tt.size, Unit: tt.unit}}, 0.02); got != tt.want {
			t.Errorf("%g at %g m: %q, want %q", tt.size, tt.unit, got, tt.want)
		}
	}
}
