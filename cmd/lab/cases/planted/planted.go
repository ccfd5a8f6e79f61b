// Package planted makes cases of the scenes of the corpus and of sheets.
package planted

import (
	"bytes"
	"fmt"
	"io"
	"path"
	"slices"
	"strings"

	"curvelint/cmd/lab/cases"
	"curvelint/cmd/lab/cases/sheet"
	"curvelint/cmd/lab/corpus"
	"curvelint/cmd/lab/designed"
	"curvelint/cmd/lab/designed/write"
)

// Case is a scene of the corpus as a case of a check. Its About is empty.
func Case(check string, c *corpus.Case) *cases.Case {
	name := "shot" + path.Ext(c.File)
	k := &cases.Case{Name: c.Name, Check: check, Scene: name, Files: map[string][]byte{name: c.Text}}
	if toml := Config(c); toml != "" {
		k.Files[cases.ConfigName] = []byte(toml)
	}
	return k
}

// Config is what a person says of a scene of the corpus, as curvelint.toml; ""
// when that is nothing.
func Config(c *corpus.Case) string {
	var b strings.Builder
	if path.Ext(c.File) == ".csv" {
		fmt.Fprintf(&b, "fps = %g\n", c.Rate) // a table does not tell its rate: people do
	}
	if c.Config.HasFloor {
		fmt.Fprintf(&b, "floor = %.1f\n", c.Config.Floor)
	}
	if c.Config.Loop {
		b.WriteString("loop = true\n")
	}
	if c.Config.Aspect > 0 {
		fmt.Fprintf(&b, "aspect = %g\n", c.Config.Aspect)
	}
	return b.String()
}

// Form is a way of writing a scene.
type Form struct {
	Name, Ext string
	// Title is what people call it.
	Title string
	write func(io.Writer, *designed.Take) error
}

// Forms are the ways of writing a sheet. Those of the corpus are its own.
var Forms = []Form{
	{"usda", ".usda", "USD text", write.USDA},
	{"usda-sparse", ".usda", "USD text, samples where something changes", write.USDASparse},
	{"usda-splines", ".usda", "USD splines", write.USDASplines},
	{"usda-keyed", ".usda", "USD splines on few knots", write.USDAKeyed},
	{"usda-skeleton", ".usda", "a USD skeleton", write.USDASkeleton},
	{"bvh", ".bvh", "BVH", write.BVH},
	{"gltf", ".gltf", "glTF", write.GLTF},
	{"dae", ".dae", "COLLADA", write.COLLADA},
	{"dae-keyed", ".dae", "COLLADA curves on few keys", write.COLLADAKeyed},
	{"x3d", ".x3d", "X3D", write.X3D},
	{"x3dv", ".x3dv", "X3D in the classic encoding", write.X3DClassic},
	{"csv", ".csv", "a table", write.Table},
}

// FormNames lists the names of the forms.
func FormNames() string {
	var names []string
	for _, f := range Forms {
		names = append(names, f.Name)
	}
	return strings.Join(names, ", ")
}

// Sheet is a sheet as a case of a check, in the form of the given name, with
// digits decimals more than usual. Its About is empty.
func Sheet(check, text, form string, digits int) (*cases.Case, error) {
	at := slices.IndexFunc(Forms, func(f Form) bool { return f.Name == form })
	if at < 0 {
		return nil, fmt.Errorf("no form is called %q; there are %s", form, FormNames())
	}
	shot, err := sheet.Shot(text)
	if err != nil {
		return nil, err
	}
	take := shot.Take(shot.Rate)
	take.MoreDigits += digits
	var b bytes.Buffer
	if err := Forms[at].write(&b, take); err != nil {
		return nil, err
	}
	name := "shot" + Forms[at].Ext
	k := &cases.Case{Name: "sheet", Check: check, Scene: name, Files: map[string][]byte{name: b.Bytes()}}
	if Forms[at].Ext == ".csv" {
		k.Files[cases.ConfigName] = fmt.Appendf(nil, "fps = %g\n", shot.Rate)
	}
	return k, nil
}
