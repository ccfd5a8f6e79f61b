package checks

// All are the checks of motion, in the order of the catalogue: by group, then
// as people meet them.
var All = []*Check{
	TwinnedKeys,
	LostLead,
	MirroredPose,
	Lockstep,
	LateFollow,
	CrowdedBeat,
	MaskedChange,
	RushedRead,
	EvenSpacing,
	Hitch,
	HardStart,
	HardStop,
	NoAnticipation,
	Overshoot,
	MixedStepping,
	FrozenHold,
	UniformDrift,
	DeadStare,
	LooseSettle,
	FlatArc,
	PivotArc,
	KinkedArc,
	LateArc,
	Pop,
	Busy,
	AngleFlip,
	SubFrameKey,
	IdleKey,
	SlidingContact,
	GripSlip,
	SunkContact,
	KneePop,
	BackwardBend,
	FreeFall,
	OffBalance,
	LoopSeam,
	OutOfFrame,
	SplitAttention,
	CrossedFace,
}

// Find returns the check with the given id, of motion or of the tool, or nil.
func Find(id string) *Check {
	for _, list := range [][]*Check{All, Findings} {
		for _, c := range list {
			if c.ID == id {
				return c
			}
		}
	}
	return nil
}
