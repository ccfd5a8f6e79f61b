package scene

// Allow is an allowance written in the scene file itself, as a comment inside
// the block of the part it is for:
//
//	# curvelint: allow CHECK [FRAMES] because REASON
//
// FRAMES is one frame (40) or a range (40-52), in display frames; without it
// the allowance holds for the whole clip.
type Allow struct {
	// Part is the part whose block holds the comment, or NoPart for a comment
	// outside all of them, which holds for the whole scene.
	Part PartID
	// Check is the id as written; the parser does not know which ids exist.
	Check string
	// First and Last are the frames allowed, both included, or both NaN when
	// the comment names none.
	First, Last float64
	// Why is the reason, empty when the comment gives none.
	Why  string
	Span Span // the comment, from "curvelint:" to its end
}
