package workspace

import (
	"maps"
	"slices"

	"github.com/pelletier/go-toml/v2"

	"curvelint/diagnostics/config"
)

// parseSettings reads settings that have the keys of a curvelint.toml, as an
// editor's own configuration gives them.
func parseSettings(settings map[string]any, schema config.Schema) (*config.Config, []config.Problem) {
	if len(settings) == 0 {
		return nil, nil
	}
	src, err := toml.Marshal(settings)
	if err != nil {
		return nil, []config.Problem{{Message: "expected settings as in curvelint.toml: " + err.Error()}}
	}
	cfg := config.Parse("", src, schema)
	return cfg, cfg.Problems
}

// over returns base with what top says over it. Keys are the ones that top
// names; single values replace, lists are appended, checks are merged setting
// by setting.
func over(base, top *config.Config, keys map[string]any) *config.Config {
	if top == nil {
		return base
	}
	c := *base
	for key := range keys {
		overField(&c, top, key)
	}
	c.Groups = slices.Concat(base.Groups, top.Groups)
	c.Parts = slices.Concat(base.Parts, top.Parts)
	c.Figures = slices.Concat(base.Figures, top.Figures)
	c.Points = slices.Concat(base.Points, top.Points)
	c.Chains = slices.Concat(base.Chains, top.Chains)
	c.Allows = slices.Concat(base.Allows, top.Allows)
	c.Passes = slices.Concat(top.Passes, base.Passes) // the first that fits counts
	c.Checks = overChecks(base.Checks, top.Checks)
	return &c
}

// overField replaces one single value.
func overField(c, top *config.Config, key string) {
	switch key {
	case "fps":
		c.FPS = top.FPS
	case "first_frame":
		c.FirstFrame, c.HasFirstFrame = top.FirstFrame, top.HasFirstFrame
	case "frames":
		c.Frames, c.HasFrames = top.Frames, top.HasFrames
	case "step":
		c.Step = top.Step
	case "clip":
		c.Clip = top.Clip
	case "camera":
		c.Camera = top.Camera
	case "focus":
		c.Focus = top.Focus
	case "floor":
		c.Floor, c.HasFloor = top.Floor, top.HasFloor
	case "handles":
		c.Handles = top.Handles
	case "aspect":
		c.Aspect = top.Aspect
	case "lead":
		c.Lead = top.Lead
	case "loop":
		c.Loop = top.Loop
	}
}

func overChecks(base, top map[string]config.Check) map[string]config.Check {
	merged := maps.Clone(base)
	if merged == nil {
		merged = map[string]config.Check{}
	}
	for id, t := range top {
		b := merged[id]
		if t.HasSeverity {
			b.Severity, b.HasSeverity = t.Severity, true
		}
		settings := maps.Clone(b.Settings)
		if settings == nil {
			settings = map[string]float64{}
		}
		maps.Copy(settings, t.Settings)
		b.Settings = settings
		merged[id] = b
	}
	return merged
}
