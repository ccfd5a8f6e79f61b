package kit

// Limits that several checks share. A check that decides by one lists it among
// its own, so that its document is printed with it.
var (
	// FilmFrame is the span over which spacings are compared and within which
	// two things happen at once.
	FilmFrame = Limit{Name: "film_frame", Value: 1.0 / 24, Unit: "s",
		Doc:    "spacings are taken over this span, and what happens within it happens at once",
		Source: "common practice, no source: 24 frames a second is the film rate"}
	// Interruption joins contacts: a foot that jumps off the floor for a frame
	// lands on nothing.
	Interruption = Limit{Name: "interruption", Value: 0.12, Unit: "s",
		Doc:    "a contact that is interrupted for no longer goes on",
		Source: "common practice, no source: the shortest contact of the study"}
	// StandsStill is how far the end of a limb may go that is held.
	StandsStill = Limit{Name: "stands_still", Value: 0.015, Unit: "figure",
		Doc:    "a limb whose hand or foot goes no farther is held where it is, and its joints only follow the body",
		Source: "common practice, no source"}
	// OwnTurn is the share of its turn that the world sees of a hand that turns
	// by itself at the end of a held arm.
	OwnTurn = Limit{Name: "own_turn", Value: 0.5, Unit: "ratio",
		Doc:    "a hand at the end of a held arm turns by itself when the world sees more than this share of its turn",
		Source: "common practice, no source"}
	// KeepsTime is how long a change is watched for its return.
	KeepsTime = Limit{Name: "keeps_time", Value: 0.5, Unit: "s",
		Doc:    "a change that returns sooner is a there and back, a blink or a nod",
		Source: "common practice, no source: a blink takes a third of a second"}
	// KeepsShare is how much of its way a change keeps.
	KeepsShare = Limit{Name: "keeps_share", Value: 0.5, Unit: "ratio",
		Doc:    "a change that keeps no more than this share of its way from where it began has returned",
		Source: "common practice, no source"}
	// DriverSpan is how far around a frame its driver is looked for.
	DriverSpan = Limit{Name: "driver_span", Value: 0.25, Unit: "s",
		Doc:    "the note sits on the channel that moves the part most within this time around the frame",
		Source: "common practice, no source: the shortest hold"}
	// Gather is how long a body takes to gather itself before a jump, and to
	// catch itself after.
	Gather = Limit{Name: "gather", Value: 0.5, Unit: "s",
		Doc:    "a body takes so long to gather itself before a jump and to catch itself after",
		Source: "common practice, no source"}
	// StillGoing is half the speed of the slowest move whose stop is judged.
	StillGoing = Limit{Name: "still_going", Value: 0.12, Unit: "figure/s",
		Doc:    "what goes faster has not come to rest: half the speed of the slowest move whose stop is judged",
		Source: "common practice, no source"}
	// Rounding is what two computed amounts that are the same may differ by.
	Rounding = Limit{Name: "rounding", Value: 1e-9, Unit: "ratio",
		Doc:    "amounts that differ by a smaller share are the same",
		Source: "rounding of float64 through a hierarchy"}
	// SureNoise is how many times its noise a spacing must be to be judged.
	SureNoise = Limit{Name: "sure_noise", Value: 20, Unit: "ratio",
		Doc:    "spacings below so many times the noise of the file cannot be called even, stepped or uniform",
		Source: "measured on files of two decimals: rounding alone then moves a spacing by at most 5 %"}
	// AlsoDrives is the share of a motion from which a channel is named beside
	// its driver.
	AlsoDrives = Limit{Name: "also_drives", Value: 0.25, Unit: "ratio",
		Doc:    "a channel with more of the motion is named beside the driver",
		Source: "common practice, no source"}
)
