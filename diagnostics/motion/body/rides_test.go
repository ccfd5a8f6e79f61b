package body

import (
	"fmt"
	"testing"

	"curvelint/cmd/lab/smallscene"
	"curvelint/parse/scene"
)

// TestNamelessBodyOnADeck: what moves in many joints on a deck is carried by it,
// though no name says that it is a body; a rope of few joints is part of it.
func TestNamelessBodyOnADeck(t *testing.T) {
	for joints, want := range map[int]int{12: 2, 3: 1} {
		b := smallscene.New(24)
		sway := func(f float64) float64 { return f }
		deck := b.Part("/deck", "deck", scene.NoPart, smallscene.Op(scene.Translate, 0, 0, 0), smallscene.Op(scene.RotateX, 0))
		b.Animate(deck, 1, 0, scene.Angle, sway)
		up, path := deck, "/deck"
		for i := range joints {
			name := fmt.Sprintf("joint%d", i)
			path += "/" + name
			up = b.Part(path, name, up, smallscene.Op(scene.Translate, 0, 3, 0), smallscene.Op(scene.RotateX, 0))
			b.Animate(up, 1, 0, scene.Angle, sway)
		}
		figs := found(&b.Scene)
		if len(figs) != want {
			t.Errorf("%d joints: %d figures, want %d", joints, len(figs), want)
		} else if want == 2 && figs[1].Carrier != deck {
			t.Errorf("%d joints: carried by %d", joints, figs[1].Carrier)
		}
	}
}
