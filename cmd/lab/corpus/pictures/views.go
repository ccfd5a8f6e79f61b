package pictures

// view is how the flaw of a check is drawn.
type view struct {
	kind string // of chart
	// proper draws the same motion, properly animated, behind.
	proper bool
	// pad is how many seconds are shown on both sides of the note, or of its
	// first two seconds when it is longer.
	pad float64
}

// views are by check; others are drawn as a timeline.
var views = map[string]view{
	"same-frame":       {"timeline", false, 0.5},
	"lost-lead":        {"timeline", false, 0.5},
	"twinned-pose":     {"timeline", false, 0.2},
	"lockstep":         {"speed", false, 0.3},
	"late-follow":      {"speed", false, 0.3},
	"crowded-beat":     {"timeline", false, 0.5},
	"masked-change":    {"timeline", false, 0.5},
	"rushed-read":      {"timeline", false, 0.6},
	"even-spacing":     {"spacing", true, 0.4},
	"hitch":            {"spacing", true, 0.4},
	"hard-start":       {"spacing", true, 0.3},
	"hard-stop":        {"spacing", true, 0.3},
	"no-anticipation":  {"spacing", true, 0.4},
	"spline-overshoot": {"keys", true, 0.4},
	"mixed-stepping":   {"spacing", true, 0.4},
	"frozen-hold":      {"timeline", false, 0.5},
	"uniform-drift":    {"timeline", false, 0.5},
	"dead-stare":       {"timeline", false, 0.5},
	"loose-settle":     {"speed", true, 0.4},
	"flat-arc":         {"arc", true, 0.1},
	"pivot-arc":        {"arc", true, 0.1},
	"kinked-arc":       {"arc", true, 0.2},
	"late-arc":         {"arc", true, 0.1},
	"pop":              {"spacing", true, 0.3},
	"jitter":           {"arc", true, 0.2},
	"angle-flip":       {"keys", false, 0.3},
	"sub-frame-key":    {"keys", false, 0.3},
	"idle-key":         {"keys", false, 0.3},
	"sliding-contact":  {"arc", true, 0.2},
	"grip-slip":        {"arc", true, 0.2},
	"sunk-contact":     {"arc", true, 0.3},
	"knee-pop":         {"speed", true, 0.3},
	"backward-bend":    {"arc", true, 0.3},
	"free-fall":        {"arc", true, 0.2},
	"off-balance":      {"timeline", false, 0.5},
	"loop-seam":        {"keys", true, 0.8},
	"out-of-frame":     {"arc", true, 0.3},
	"split-attention":  {"timeline", false, 0.5},
	"still-blocked":    {"timeline", false, 0},
	"crossed-face":     {"arc", false, 0.3},
}
