package bvh

// unwrap deals with writers that break the line of each frame into several:
// when the lines are a multiple of the frames that Frames: claims, and every
// so many of them hold exactly one number for each channel, it returns where
// the frames start. Else the rows stay as they are.
func (p *parser) unwrap(rows []uint32) (frames []uint32, wrapped bool) {
	if !p.framesKnown || p.frames == 0 || len(rows) <= p.frames || len(rows)%p.frames != 0 {
		return rows, false
	}
	lines := len(rows) / p.frames
	frames = make([]uint32, 0, p.frames)
	for first := 0; first < len(rows); first += lines {
		n := 0
		for _, start := range rows[first : first+lines] {
			n += countWords(p.src[start:lineStop(p.src, int(start))])
		}
		if n != len(p.columns) {
			return rows, false
		}
		frames = append(frames, rows[first])
	}
	return frames, true
}
