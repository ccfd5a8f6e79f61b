package config

// testSchema has two invented checks.
var testSchema = Schema{Checks: []CheckSchema{
	{ID: "even-spacing", Settings: []SettingSchema{
		{Name: "contrast", Unit: "ratio", Default: 0.1, Min: 0.01, Max: 0.5},
		{Name: "continuous", Min: 0, Max: 1},
	}},
	{ID: "frozen-hold"},
}}
