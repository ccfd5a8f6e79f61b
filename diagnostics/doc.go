// Package diagnostics studies a scene and gives the notes on it: it decides
// which checks run, runs them, lets the more specific of two notes with one
// cause stand, applies what is allowed on purpose, and puts the rest in order.
//
// The same bytes with the same configuration give the same notes in the same
// order, however many processors there are.
package diagnostics

import (
	"slices"

	"curvelint/diagnostics/checks"
	"curvelint/diagnostics/checks/kit"
	"curvelint/diagnostics/checks/tool"
	"curvelint/diagnostics/config"
)

// Checks returns all checks, of motion and of the tool, in the order of their
// lists.
func Checks() []*kit.Check { return slices.Concat(checks.All, tool.Checks) }

// Schema returns what the configuration may say of checks.
func Schema() config.Schema {
	var s config.Schema
	for _, c := range Checks() {
		k := config.CheckSchema{ID: c.ID}
		for _, setting := range c.Settings {
			v := setting.About()
			k.Settings = append(k.Settings, config.SettingSchema{
				Name: v.Name, Unit: v.Unit, Default: v.Default, Min: v.Min, Max: v.Max})
		}
		s.Checks = append(s.Checks, k)
	}
	return s
}
