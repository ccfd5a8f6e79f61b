package editors_test

import (
	"encoding/json"
	"encoding/xml"
	"os"
	"os/exec"
	"regexp"
	"strings"
	"testing"

	"github.com/pelletier/go-toml/v2"

	"curvelint/parse"
)

// tables are formats whose names say too little: an editor is not to take
// every table for a scene.
var tables = map[string]bool{".csv": true, ".tsv": true}

// TestSnippetsKnowAllFormats: each editor's settings name every format.
func TestSnippetsKnowAllFormats(t *testing.T) {
	for _, file := range []string{"neovim/curvelint.lua", "emacs/curvelint.el", "helix/languages.toml", "vscode/package.json", "vscode/src/extension.js"} {
		b, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		text := strings.NewReplacer(`usda?\\'`, `usd usda`, `x3dv?\\'`, `x3d x3dv`).Replace(string(b))
		for _, ext := range parse.Extensions() {
			word := strings.TrimPrefix(ext, ".")
			// Helix and VS Code know glTF, COLLADA and X3D as JSON and XML.
			known := strings.HasPrefix(file, "helix") && (word == "gltf" || word == "dae" || word == "x3d")
			if !tables[ext] && !known && !strings.Contains(text, word) {
				t.Errorf("%s does not know %s", file, ext)
			}
		}
	}
}

func TestSnippetsAreSound(t *testing.T) {
	var helix struct {
		Language       []struct{ Name string }
		LanguageServer map[string]struct {
			Command string
			Args    []string
		} `toml:"language-server"`
	}
	b, err := os.ReadFile("helix/languages.toml")
	if err != nil {
		t.Fatal(err)
	}
	if err := toml.Unmarshal(b, &helix); err != nil || helix.LanguageServer["curvelint"].Command != "curvelint" || len(helix.Language) < 3 {
		t.Errorf("helix: %v, %+v", err, helix)
	}
	for _, file := range []string{"kate/settings.json", "vscode/package.json", "vscode/syntaxes/usda.json", "vscode/syntaxes/bvh.json", "vscode/language.json"} {
		b, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		if !json.Valid(b) {
			t.Errorf("%s is not JSON", file)
		}
	}
}

// TestKateModes: Kate takes a file of a mode that is no XML for no mode at all.
func TestKateModes(t *testing.T) {
	settings, err := os.ReadFile("kate/settings.json")
	if err != nil {
		t.Fatal(err)
	}
	var kate struct {
		Servers map[string]struct{ HighlightingModeRegex string }
	}
	if err := json.Unmarshal(settings, &kate); err != nil {
		t.Fatal(err)
	}
	started := regexp.MustCompile(kate.Servers["usda"].HighlightingModeRegex)
	extensions := map[string]bool{".wrl": true} // Kate has a mode of its own
	if !started.MatchString("VRML") || started.MatchString("JSON") || started.MatchString("XML") {
		t.Errorf("the server is started for %s", started)
	}
	for _, name := range []string{"USDA", "BVH", "glTF", "COLLADA", "X3D", "X3DV"} {
		b, err := os.ReadFile("kate/" + strings.ToLower(name) + ".xml")
		if err != nil {
			t.Fatal(err)
		}
		var mode struct {
			XMLName    xml.Name `xml:"language"`
			Name       string   `xml:"name,attr"`
			Extensions string   `xml:"extensions,attr"`
		}
		if err := xml.Unmarshal(b, &mode); err != nil || mode.Name != name || !started.MatchString(name) {
			t.Errorf("%s: %v, %+v", name, err, mode)
		}
		for ext := range strings.SplitSeq(mode.Extensions, ";") {
			extensions[strings.TrimPrefix(ext, "*")] = true
		}
	}
	for _, ext := range parse.Extensions() {
		if !extensions[ext] && !tables[ext] {
			t.Errorf("no mode of Kate is for %s: %v", ext, extensions)
		}
	}
}

// TestNewNeovimConfig reads the file for the newer Neovim as Lua does.
func TestNewNeovimConfig(t *testing.T) {
	nvim := need(t, "nvim", "apt-get install neovim")
	out, err := exec.Command(nvim, "--headless", "-u", "NONE", "-i", "NONE", "--cmd",
		`lua local c = dofile("neovim/lsp/curvelint.lua"); io.stdout:write(c.cmd[1] .. " " .. c.cmd[2] .. " " .. #c.filetypes)`, "--cmd", "qa!").CombinedOutput()
	if err != nil || !strings.HasPrefix(string(out), "curvelint serve ") {
		t.Errorf("%s, %v", out, err)
	}
}
