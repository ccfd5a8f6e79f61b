package kit

// Gather is how many seconds a body takes to gather itself before a jump, and to
// catch itself after: common practice, no source.
const Gather = 0.5

// StillGoing is half the speed of the slowest move whose stop is judged.
const StillGoing = 0.12
