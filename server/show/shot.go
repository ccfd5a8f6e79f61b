package show

import (
	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/note"
	"curvelint/diagnostics/passes"
	"curvelint/parse/scene"
)

// Shot is a scene about which something is shown.
type Shot struct {
	Study *motion.Study
	Notes []note.Note
	// Earlier says what changed since the earlier pass; nil when there is none, or
	// nothing is known of it.
	Earlier *passes.Comparison
}

// part returns a part of the scene.
func (s *Shot) part(id scene.PartID) *scene.Part { return &s.Study.Scene.Parts[id] }
