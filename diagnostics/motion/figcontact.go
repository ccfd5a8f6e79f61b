package motion

// Locomotion is a placeholder until contacts land.
func (fig *Figure) Locomotion() bool { return false }
