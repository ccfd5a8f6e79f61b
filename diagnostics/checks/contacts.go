package checks

import (
	"curvelint/diagnostics/motion"
	"curvelint/parse/scene"
)

func (c *Context) nearContact(fig *motion.Figure, frame int) bool            { return false }
func (c *Context) inContact(fig *motion.Figure, p scene.PartID, h hold) bool { return false }
