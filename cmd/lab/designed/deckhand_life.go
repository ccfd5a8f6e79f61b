package designed

// life is what the polish adds: no hold is dead. Every part drifts at a rate of
// its own, the chest breathes, the body gives with the deck, the lids blink.
func (d *deckhand) life() {
	d.breathe()
	d.giveWithDeck()
	d.drift()
	for i := range 2 {
		d.Ease(d.Lid[i], X, Blink(30, frames24(37.5), frames24(51), frames24(76)))
		d.Ease(d.Eye[i], X, Drift(61, 0.9))
		d.Ease(d.Eye[i], Y, Add(
			Stroke(HalfCosine, frames24(49), frames24(51.5), -4), Stroke(HalfCosine, frames24(55), frames24(57), 4)))
	}
}

// breathe raises the chest, then the shoulders and the head a little later.
func (d *deckhand) breathe() {
	d.Ease(d.Spine, X, Breath(-0.35, 2.7, 0))
	d.Ease(d.Chest, X, Breath(-0.9, 2.7, -0.05))
	d.Ease(d.Head, X, Breath(0.5, 2.7, -0.16))
	for i := range 2 {
		d.Ease(d.Clav[i], Z, Breath(0.8*(1-2*float64(i)), 2.7, -0.1))
	}
}

// giveWithDeck leans the body against the deck's roll, each part later than the
// one below it.
func (d *deckhand) giveWithDeck() {
	d.Shift(d.Hips, X, Times(0.35, Late(frames24(2), roll)))
	d.Ease(d.Hips, Z, Times(-0.12, Late(frames24(2), roll)))
	d.Ease(d.Spine, Z, Times(-0.20, Late(frames24(4), roll)))
	d.Ease(d.Chest, Z, Times(-0.16, Late(frames24(6), roll)))
	d.Ease(d.Head, Z, Times(-0.22, Late(frames24(8), roll)))
}

// drift keeps what holds from standing dead still.
func (d *deckhand) drift() {
	d.Shift(d.Hips, Y, Drift(11, 0.5))
	d.Shift(d.Hips, Z, Drift(12, 0.7))
	d.Ease(d.Spine, Y, Drift(13, 0.7))
	d.Ease(d.Chest, Y, Drift(14, 1.0))
	d.Ease(d.Neck, X, Drift(15, 0.8))
	d.Ease(d.Head, Y, Drift(16, 1.6))
	d.Ease(d.Head, Z, Drift(17, 1.2))
	d.Ease(d.Jaw, X, Drift(18, 0.4))
	for i := range 2 {
		d.Ease(d.Brow[i], X, Drift(Seed(19+i), 0.6))
		d.Ease(d.Lid[i], X, Drift(21, 0.5))
	}
	// The rope swings in the hands.
	sway := [2]Signal{Left: Drift(23, 0.8), Right: Drift(24, 0.6)}
	d.right, d.left = Add(d.right, sway[Right]), Add(d.left, sway[Left])
	d.sag = Add(d.sag, Drift(25, 0.7))
}
