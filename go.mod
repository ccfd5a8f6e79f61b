module curvelint

go 1.26.0

require (
	github.com/google/go-cmp v0.7.0
	github.com/pelletier/go-toml/v2 v2.4.3
	gonum.org/v1/gonum v0.17.0
)

require (
	github.com/fsnotify/fsnotify v1.10.1
	github.com/schollz/progressbar/v3 v3.19.1
	github.com/spf13/cobra v1.10.2
	golang.org/x/term v0.48.0
	golang.org/x/tools v0.52.0
)

require (
	codeberg.org/go-latex/latex v0.2.0 // indirect
	codeberg.org/go-pdf/fpdf v0.11.1 // indirect
	git.sr.ht/~sbinet/gg v0.7.0 // indirect
	github.com/ajstarks/svgo v0.0.0-20211024235047-1546f124cd8b // indirect
	github.com/golang/freetype v0.0.0-20170609003504-e2365dfdc4a0 // indirect
	github.com/inconshreveable/mousetrap v1.1.0 // indirect
	github.com/mitchellh/colorstring v0.0.0-20190213212951-d06e56a500db // indirect
	github.com/rivo/uniseg v0.4.7 // indirect
	github.com/spf13/pflag v1.0.10 // indirect
	golang.org/x/sys v0.50.0 // indirect
	golang.org/x/text v0.36.0 // indirect
)

require (
	codeberg.org/go-fonts/liberation v0.5.0
	github.com/go-json-experiment/json v0.0.0-20260623181947-01eb4420fa68
	golang.org/x/image v0.30.0
	gonum.org/v1/plot v0.17.0
)

require (
	github.com/owenrumney/go-sarif/v3 v3.3.1
	github.com/xeipuuv/gojsonpointer v0.0.0-20180127040702-4e3ac2762d5f // indirect
	github.com/xeipuuv/gojsonreference v0.0.0-20180127040603-bd5ef7bd5415 // indirect
	github.com/xeipuuv/gojsonschema v1.2.0 // indirect
	go.lsp.dev/jsonrpc2 v1.0.1
	go.lsp.dev/protocol v1.0.1
	go.lsp.dev/uri v1.0.1
)
