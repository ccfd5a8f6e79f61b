package designed

// plant puts the remaining flaws into the earlier pass and labels all of them.
// The even turn, the same-frame face, the stutter, the straight reach and the slide
// are in the motion itself.
func (d *deckhand) plant() {
	f := frames24
	// Slow drift up to the hold, so that nothing but the hold is dead.
	d.Shift(d.Hips, Y, Stroke(MinimumJerk, f(34), f(46), -0.25))
	d.Ease(d.Spine, X, Stroke(MinimumJerk, f(34), f(45), 0.2))
	d.Ease(d.Chest, X, Stroke(MinimumJerk, f(36), f(46), -0.25))
	d.Ease(d.Chest, Z, Stroke(MinimumJerk, f(83), f(95), 0.8))
	d.Ease(d.Spine, Z, Stroke(MinimumJerk, f(85), f(95), -0.6))
	d.Ease(d.Head, Z, Stroke(MinimumJerk, f(86), f(95), 1))

	path := d.Path
	d.Plant(Label{Check: "even-spacing", Part: path(d.Head), From: f(35), To: f(45),
		Why: "the head turns to the gull at one speed"})
	d.Plant(Label{Check: "same-frame", Part: path(d.Brow[Left]),
		Also: []string{path(d.Brow[Right]), path(d.Lid[Left]), path(d.Lid[Right]), path(d.Head)},
		From: f(30), To: f(90), Why: "brows and lids change on the same frames, three times"})
	d.Plant(Label{Check: "frozen-hold", Part: path(d.Root), Also: []string{path(d.Hips)},
		From: f(46), To: f(57), Why: "the whole figure stands dead while it looks at the gull"})

	d.Jumps = append(d.Jumps, Jump{Part: d.Jaw, Turn: true, Axis: X, At: f(23), Size: 6})
	d.Plant(Label{Check: "pop", Part: path(d.Jaw), From: f(23), To: f(23), Why: "one frame of the jaw is off by 6 degrees"})
	d.Plant(Label{Check: "hitch", Part: path(d.Hips),
		Also: []string{path(d.Spine), path(d.Chest), path(d.Head), path(d.Root)},
		From: f(20), To: f(25), Why: "the body stutters in the middle of the first haul"})
	d.Plant(Label{Check: "flat-arc", Part: path(d.Upper[Left]),
		Also: []string{path(d.Fore[Left]), path(d.Hand[Left]), path(d.HandTip[Left])},
		From: f(1), To: f(10), Why: "the left hand reaches for the rope along a straight line"})
	d.Plant(Label{Check: "sliding-contact", Part: path(d.Foot[Left]),
		Also: []string{path(d.Toe[Left]), path(d.ToeTip[Left]), path(d.Thigh[Left]), path(d.Shin[Left]), path(d.Hips)},
		From: f(72), To: f(84), Why: "the left foot slides 11 cm over the deck in the second haul"})
	d.Wraps = append(d.Wraps, Wrap{Part: d.Hand[Right], Axis: Z, At: f(66), Turns: 1})
	d.Plant(Label{Check: "angle-flip", Part: path(d.Hand[Right]), From: f(65), To: f(66),
		Formats: []string{"usda", "collada"}, Why: "one angle of the right hand goes on by a whole turn"})
}
