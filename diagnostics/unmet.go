package diagnostics

import (
	"fmt"
	"slices"

	"curvelint/diagnostics/config"
	"curvelint/diagnostics/motion"
	"curvelint/parse/scene"
)

// Uses says what became of the words of a configuration in one file.
type Uses struct {
	// Allows holds one use for each of the configuration's allowances.
	Allows []Use
	// Unmet are the names of the configuration that the file does not have.
	Unmet []Unmet
}

// Unmet is a name that one file does not have.
type Unmet struct {
	What    config.What
	Name    string
	Message string
}

// unmet finds the names of the configuration that the scene does not have. A
// scene that was not read whole, or in which nothing moves, may lack anything.
func unmet(study *motion.Study, cfg *config.Config) []Unmet {
	sc := study.Scene
	if len(cfg.Mentions) == 0 || len(sc.Problems) > 0 || len(study.Figures()) == 0 {
		return nil
	}
	var out []Unmet
	for _, m := range cfg.Mentions {
		if message := missing(study, &m); message != "" {
			out = append(out, Unmet{m.What, m.Text, message})
		}
	}
	return out
}

// missing says what is missing of a mention, or nothing.
func missing(study *motion.Study, m *config.Mention) string {
	sc := study.Scene
	switch m.What {
	case config.PartsNamed:
		if !slices.ContainsFunc(sc.Parts, func(p scene.Part) bool { return m.Match.Match(p.Path) }) {
			return fmt.Sprintf("no part matches %q; correct the pattern or remove it", m.Text)
		}
	case config.PartNamed:
		if sc.Find(m.Text) == scene.NoPart {
			return fmt.Sprintf("no part has the path %q; write it as the outline shows it", m.Text)
		}
	case config.CameraNamed:
		var cameras []string
		for _, c := range sc.Cameras {
			cameras = append(cameras, sc.Parts[c.Part].Path)
		}
		if !slices.Contains(cameras, m.Text) {
			return fmt.Sprintf("no camera has the path %q; %s", m.Text, config.Suggest(m.Text, cameras))
		}
	case config.GroupNamed:
		names := groupNames(study)
		if !slices.Contains(names, m.Text) {
			return fmt.Sprintf("no group is called %q; %s", m.Text, config.Suggest(m.Text, names))
		}
	}
	return ""
}

// groupNames are the names of the groups of all figures.
func groupNames(study *motion.Study) []string {
	var names []string
	for _, fig := range study.Figures() {
		for _, g := range fig.Groups {
			if !slices.Contains(names, g.Name) {
				names = append(names, g.Name)
			}
		}
	}
	return names
}
