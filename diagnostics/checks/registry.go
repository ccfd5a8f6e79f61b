package checks

// All are the checks of motion, in the order of the catalogue: by group, then
// as people meet them.
var All = []*Check{
	SameFrame,
	LostLead,
	TwinnedPose,
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
	SplineOvershoot,
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
	Jitter,
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
