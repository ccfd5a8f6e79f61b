package scene

// Renumber returns the scene with all its times moved by one and the same
// number of frames, so that its range begins at the frame first. Columns of
// times that curves share stay shared; the given scene does not change.
func Renumber(s *Scene, first float64) *Scene {
	shift := first - s.First
	if shift == 0 || shift != shift {
		return s
	}
	moved := *s
	moved.First, moved.Last = first, s.Last+shift
	moved.Channels = append([]Channel(nil), s.Channels...)

	type column struct {
		first *float64
		n     int
	}
	done := make(map[column][]float64)
	for i := range moved.Channels {
		c := &moved.Channels[i].Curve
		if len(c.Times) == 0 {
			continue
		}
		key := column{&c.Times[0], len(c.Times)}
		times, ok := done[key]
		if !ok {
			times = make([]float64, len(c.Times))
			for k, t := range c.Times {
				times[k] = t + shift
			}
			done[key] = times
		}
		c.Times = times
	}
	return &moved
}
