package body

import "curvelint/parse/scene"

// Shares of a person's mass by segment, and how far along the segment, from the end
// nearer to the trunk, its centre lies: D. A. Winter, Biomechanics and Motor Control
// of Human Movement, the table after Dempster (from memory). The trunk reaches from
// the line of the hips to that of the shoulders, its centre half-way; the head with
// the neck has its centre at the ear.
const (
	trunkMass, headMass                 = 0.497, 0.081
	thighMass, shankMass, footMass      = 0.100, 0.0465, 0.0145
	upperArmMass, forearmMass, palmMass = 0.028, 0.016, 0.006
	thighCentre, shankCentre            = 0.433, 0.433
	upperArmCentre, forearmCentre       = 0.436, 0.430
)

// jointMasses returns the joints whose weighted mean is the body's centre, with
// their weights, which sum to 1. Of a body with two arms and two legs it is the
// centre of mass of a person of that pose; of any other, and of one whose limbs are
// not known, the mean of the joints of torso and limbs.
func (fig *Anatomy) jointMasses() ([]scene.PartID, []float64) {
	if joints, masses, ok := fig.personMasses(); ok {
		return joints, masses
	}
	joints := fig.bodyJoints()
	masses := make([]float64, len(joints))
	for i := range masses {
		masses[i] = 1 / float64(len(joints))
	}
	return joints, masses
}

// personMasses spreads the mass of each segment on the joints at its two ends, so
// that their weighted mean is the segment's centre.
func (fig *Anatomy) personMasses() (joints []scene.PartID, masses []float64, ok bool) {
	var legs, arms []TwoBone
	for _, l := range fig.Limbs() {
		switch {
		case l.Label.Side == Middle || l.Label.Pair != 0:
			return nil, nil, false
		case l.Label.Body == Leg:
			legs = append(legs, l)
		default:
			arms = append(arms, l)
		}
	}
	head := fig.highest(Head, NoPlace)
	if len(legs) != 2 || len(arms) != 2 || head == scene.NoPart {
		return nil, nil, false
	}
	add := func(p scene.PartID, m float64) {
		joints = append(joints, p)
		masses = append(masses, m)
	}
	for _, l := range legs {
		add(l.Upper, trunkMass/4+thighMass*(1-thighCentre))
		add(l.Lower, thighMass*thighCentre+shankMass*(1-shankCentre))
		add(l.End, shankMass*shankCentre+footMass)
	}
	for _, l := range arms {
		add(l.Upper, trunkMass/4+upperArmMass*(1-upperArmCentre))
		add(l.Lower, upperArmMass*upperArmCentre+forearmMass*(1-forearmCentre))
		add(l.End, forearmMass*forearmCentre+palmMass)
	}
	add(head, headMass)
	return joints, masses, true
}
