package words

import "math"

// Frame writes the number of a frame, alone: "31", "12.5". Between frames it has two
// decimals at most: finer than that nobody places a key.
func Frame(f float64) string { return decimal(f, 2) }

// AppendFrame appends what Frame returns.
func AppendFrame(dst []byte, f float64) []byte { return appendDecimal(dst, f, 2, false) }

// Between writes a range of frames without the word: "31-39", or "31" when both ends
// are one. With a frame below zero it is "-8 to 12", since a hyphen beside a minus is
// hard to read.
func Between(first, last float64) string { return string(AppendBetween(nil, first, last)) }

// AppendBetween appends what Between returns.
func AppendBetween(dst []byte, first, last float64) []byte {
	at := len(dst)
	dst = AppendFrame(dst, first)
	middle := len(dst)
	dst = AppendFrame(dst, last)
	a, b := string(dst[at:middle]), string(dst[middle:])
	dst = dst[:middle]
	switch {
	case a == b:
		return dst
	case a[0] == '-' || b[0] == '-':
		return append(append(dst, " to "...), b...)
	}
	return append(append(dst, '-'), b...)
}

// Span writes frames as a sentence has them: "frames 31-39", "frame 31".
func Span(first, last float64) string {
	if Frame(first) == Frame(last) {
		return "frame " + Frame(first)
	}
	return "frames " + Between(first, last)
}

// InFrames writes a number of frames with at most one decimal: "2.5 frames",
// "1 frame".
func InFrames(v float64) string { return some(v, decimal(v, 1), "frame") }

// some puts a thing behind a number that is written already, in the plural unless it
// is 1.
func some(v float64, number, thing string) string {
	if number == "1" || number == "-1" {
		return number + " " + thing
	}
	return number + " " + plural(thing)
}

// Leaves says how long a move takes to get going, in frames from its start to nine
// tenths of its peak speed: "leaves over 5 frames", "leaves at once". "Ease in" would
// say this to one half of the trade and the other end of the move to the other half.
func Leaves(frames float64) string { return "leaves " + over(frames) }

// Arrives says how long a move takes to come to rest, in frames: "arrives over
// 3 frames".
func Arrives(frames float64) string { return "arrives " + over(frames) }

func over(frames float64) string {
	n := math.Round(frames)
	if n == 0 {
		return "at once"
	}
	return "over " + some(n, decimal(n, 0), "frame")
}

// Later writes by how many frames something comes later, less than 0 for sooner, in
// whole frames and at least one: "2 frames later", "1 frame sooner". It is for what is
// known to differ.
func Later(frames float64) string {
	n := max(1, math.Round(math.Abs(frames)))
	said := some(n, decimal(n, 0), "frame")
	if frames < 0 {
		return said + " sooner"
	}
	return said + " later"
}

// together is below how many frames two things move together: a quarter of one is
// not seen.
const together = 0.25

// Behind writes by how many frames one thing follows another, less than 0 for leading
// it, and whom unless that is "": "2.5 frames behind its parent", "1 frame ahead",
// "together with its parent" below a quarter of a frame.
func Behind(frames float64, whom string) string {
	said, before := InFrames(math.Abs(frames)), " "
	switch {
	case math.Abs(frames) < together:
		said, before = "together", " with "
	case frames < 0:
		said, before = said+" ahead", " of "
	default:
		said += " behind"
	}
	if whom == "" {
		return said
	}
	return said + before + whom
}
