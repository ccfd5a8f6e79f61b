package checks

// Findings are what the tool says about a file, the configuration or itself.
// They have the shape of checks, so that they are listed, explained and
// configured alike, but nothing to run.
var Findings = []*Check{}
