package diagnostics

import (
	"curvelint/diagnostics/config"
	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/motion/body"
	"curvelint/parse"
	"curvelint/parse/scene"
)

// ReadFunc reads a file that a scene names: see scene.ReadOptions.
type ReadFunc = func(from, name string) (path string, text []byte, err error)

// ReadOptions are the configuration's words to a parser.
func ReadOptions(cfg *config.Config, open ReadFunc) scene.ReadOptions {
	return scene.ReadOptions{Rate: cfg.FPS, Clip: cfg.Clip, Open: open}
}

// Read parses the file called name, whose bytes are raw, as the configuration
// says: at its rate, and with its number for the first frame.
func Read(name string, raw []byte, cfg *config.Config, open ReadFunc) *scene.Scene {
	return Number(parse.Parse(name, raw, ReadOptions(cfg, open)), cfg)
}

// Number gives the scene's frames the numbers that the configuration asks for.
func Number(sc *scene.Scene, cfg *config.Config) *scene.Scene {
	if !cfg.HasFirstFrame {
		return sc
	}
	return scene.Renumber(sc, cfg.FirstFrame)
}

// StudyOptions are the configuration's words to the motion study.
func StudyOptions(cfg *config.Config) motion.Options {
	o := motion.Options{
		Focus: cfg.Focus, Lead: cfg.Lead,
		Floor: cfg.Floor, HasFloor: cfg.HasFloor,
		Step: cfg.Step, Loop: cfg.Loop, Camera: cfg.Camera, Aspect: cfg.Aspect,
		First: cfg.Frames.First, Last: cfg.Frames.Last, HasRange: cfg.HasFrames,
		Handles: cfg.Handles,
	}
	for _, g := range cfg.Groups {
		o.Groups = append(o.Groups, body.GroupRule{Name: g.Name, Match: g.Match.Match})
	}
	for _, c := range cfg.Chains {
		o.Chains = append(o.Chains, body.GroupRule{Name: c.Name, Match: c.Match.Match})
	}
	for _, f := range cfg.Figures {
		o.Figures = append(o.Figures, f.Match.Match)
	}
	for _, p := range cfg.Points {
		o.Points = append(o.Points, body.PointRule{Name: p.Name, Match: p.Match.Match, Role: roles[p.Role], Offset: p.Offset})
	}
	for _, p := range cfg.Parts {
		r := motion.PartRule{Match: p.Match.Match, Carrier: p.Carrier}
		if p.Kind == config.Mechanical {
			r.Nature = motion.Mechanical
		}
		o.Parts = append(o.Parts, r)
	}
	return o
}

// roles are the roles that a configuration gives to points.
var roles = map[string]body.Role{
	"root": body.RootPoint, "head": body.HeadPoint, "hand": body.HandPoint,
	"heel": body.HeelPoint, "toe": body.ToePoint,
}
