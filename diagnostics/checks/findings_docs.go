package checks

import _ "embed" // the documents

//go:embed syntax.md
var syntaxDoc string

//go:embed unsupported.md
var unsupportedDoc string

//go:embed missing_file.md
var missingFileDoc string

//go:embed partial_export.md
var partialExportDoc string

//go:embed surplus.md
var surplusDoc string

//go:embed still_blocked.md
var stillBlockedDoc string

//go:embed unused_allow.md
var unusedAllowDoc string

//go:embed config.md
var configDoc string

//go:embed internal.md
var internalDoc string
