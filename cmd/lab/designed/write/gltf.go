package write

import (
	"encoding/base64"
	"encoding/binary"
	"encoding/json"
	"io"
	"math"
	"strconv"

	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/cmd/lab/designed"
)

// GLTF writes a take as glTF 2.0 in one file, the numbers in a data URI: nodes
// with rest transforms, cameras, and one animation with LINEAR samplers. Shape
// weights become morph targets of a small mesh on their parent.
func GLTF(w io.Writer, t *designed.Take) error {
	g := &gltf{t: metric(t), children: t.Shot.Children(), node: make([]int, len(t.Shot.Parts))}
	g.doc.Asset.Version, g.doc.Asset.Generator = "2.0", "curvelint cmd/lab/designed"
	g.nodes()
	g.animate()
	return g.print(w)
}

type gltf struct {
	t        *designed.Take
	children [][]int
	node     []int // by part: its index in nodes, -1 for a weight
	doc      gltfDoc
	size     int                       // bytes of buffer so far
	data     []func(put func(float64)) // what the buffer holds, in order
}

// The parts of a glTF document that are used here, as its specification names
// them.
type (
	gltfDoc struct {
		Asset struct {
			Version   string `json:"version"`
			Generator string `json:"generator"`
		} `json:"asset"`
		Scene       int              `json:"scene"`
		Scenes      []gltfScene      `json:"scenes"`
		Nodes       []gltfNode       `json:"nodes"`
		Cameras     []gltfCamera     `json:"cameras,omitempty"`
		Meshes      []gltfMesh       `json:"meshes,omitempty"`
		Animations  []gltfAnimation  `json:"animations,omitempty"`
		Accessors   []gltfAccessor   `json:"accessors"`
		BufferViews []gltfBufferView `json:"bufferViews"`
	}
	gltfScene struct {
		Name  string `json:"name"`
		Nodes []int  `json:"nodes"`
	}
	gltfNode struct {
		Name        string    `json:"name"`
		Translation []float64 `json:"translation,omitempty"`
		Rotation    []float64 `json:"rotation,omitempty"`
		Camera      *int      `json:"camera,omitempty"`
		Mesh        *int      `json:"mesh,omitempty"`
		Children    []int     `json:"children,omitempty"`
	}
	gltfCamera struct {
		Name        string `json:"name"`
		Type        string `json:"type"`
		Perspective struct {
			AspectRatio float64 `json:"aspectRatio"`
			YFov        float64 `json:"yfov"`
			ZNear       float64 `json:"znear"`
		} `json:"perspective"`
	}
	gltfMesh struct {
		Primitives []gltfPrimitive `json:"primitives"`
		Weights    []float64       `json:"weights"`
		Extras     struct {
			TargetNames []string `json:"targetNames"`
		} `json:"extras"`
	}
	gltfPrimitive struct {
		Attributes map[string]int   `json:"attributes"`
		Targets    []map[string]int `json:"targets"`
	}
	gltfAnimation struct {
		Name     string        `json:"name"`
		Channels []gltfChannel `json:"channels"`
		Samplers []gltfSampler `json:"samplers"`
	}
	gltfChannel struct {
		Sampler int        `json:"sampler"`
		Target  gltfTarget `json:"target"`
	}
	gltfTarget struct {
		Node int    `json:"node"`
		Path string `json:"path"`
	}
	gltfSampler struct {
		Input         int    `json:"input"`
		Interpolation string `json:"interpolation"`
		Output        int    `json:"output"`
	}
	gltfAccessor struct {
		BufferView    int       `json:"bufferView"`
		ComponentType int       `json:"componentType"`
		Count         int       `json:"count"`
		Type          string    `json:"type"`
		Min           []float64 `json:"min,omitempty"`
		Max           []float64 `json:"max,omitempty"`
	}
	gltfBufferView struct {
		Buffer     int `json:"buffer"`
		ByteOffset int `json:"byteOffset"`
		ByteLength int `json:"byteLength"`
	}
)

// nodes makes a node of every part that is no weight.
func (g *gltf) nodes() {
	n := 0
	for i := range g.t.Shot.Parts {
		g.node[i] = -1
		if g.t.Shot.Parts[i].Kind != designed.Weight {
			g.node[i] = n
			n++
		}
	}
	scene := gltfScene{Name: g.t.Shot.Name}
	for _, root := range g.t.Shot.Roots() {
		scene.Nodes = append(scene.Nodes, g.node[root])
	}
	g.doc.Scenes = []gltfScene{scene}
	for i := range g.t.Shot.Parts {
		if g.node[i] >= 0 {
			g.doc.Nodes = append(g.doc.Nodes, g.makeNode(i))
		}
	}
}

func (g *gltf) makeNode(i int) gltfNode {
	part, row := &g.t.Shot.Parts[i], &g.t.Rows[i]
	rest := g.t.Rest(i)
	at, turn := row.Move[0], row.Turn[0]
	if row.Moves {
		at = rest.At
	}
	if row.Turns {
		turn = rest.Turn
	}
	n := gltfNode{Name: part.Name}
	if at != (r3.Vec{}) {
		n.Translation = []float64{float32s(at.X), float32s(at.Y), float32s(at.Z)}
	}
	if turn != (quat.Number{Real: 1}) {
		n.Rotation = []float64{float32s(turn.Imag), float32s(turn.Jmag), float32s(turn.Kmag), float32s(turn.Real)}
	}
	for _, c := range g.children[i] {
		if g.node[c] >= 0 {
			n.Children = append(n.Children, g.node[c])
		}
	}
	if part.Lens != nil {
		n.Camera = g.camera(part)
	}
	if shapes := weights(g.t, g.children[i]); len(shapes) > 0 {
		n.Mesh = g.mesh(shapes)
	}
	return n
}

// float32s rounds to what single precision holds and prints in few digits.
func float32s(v float64) float64 {
	short, _ := strconv.ParseFloat(strconv.FormatFloat(v, 'g', 8, 32), 64)
	return short
}

func (g *gltf) camera(part *designed.Part) *int {
	c := gltfCamera{Name: part.Name, Type: "perspective"}
	c.Perspective.AspectRatio = float32s(part.Lens.Width / part.Lens.Height)
	c.Perspective.YFov = float32s(fieldOfView(part.Lens))
	c.Perspective.ZNear = 0.1
	g.doc.Cameras = append(g.doc.Cameras, c)
	n := len(g.doc.Cameras) - 1
	return &n
}

// mesh makes a triangle with a morph target for every weight.
func (g *gltf) mesh(shapes []int) *int {
	triangle := func(size, lift float64) int {
		return g.accessor("VEC3", 3, 9, []float64{0, lift, 0}, []float64{size, lift + size, 0}, func(put func(float64)) {
			for _, v := range [9]float64{0, lift, 0, size, lift, 0, 0, lift + size, 0} {
				put(v)
			}
		})
	}
	m := gltfMesh{Primitives: []gltfPrimitive{{Attributes: map[string]int{"POSITION": triangle(0.125, 0)}}}}
	for k, s := range shapes {
		m.Primitives[0].Targets = append(m.Primitives[0].Targets, map[string]int{"POSITION": triangle(0.0625, 0.0078125*float64(k+1))})
		m.Weights = append(m.Weights, 0)
		m.Extras.TargetNames = append(m.Extras.TargetNames, g.t.Shot.Parts[s].Name)
	}
	g.doc.Meshes = append(g.doc.Meshes, m)
	n := len(g.doc.Meshes) - 1
	return &n
}

// accessor adds a run of floats to the buffer and returns its accessor.
func (g *gltf) accessor(kind string, count, floats int, lo, hi []float64, fill func(put func(float64))) int {
	g.doc.BufferViews = append(g.doc.BufferViews, gltfBufferView{ByteOffset: g.size, ByteLength: 4 * floats})
	g.doc.Accessors = append(g.doc.Accessors, gltfAccessor{
		BufferView: len(g.doc.BufferViews) - 1, ComponentType: 5126, Count: count, Type: kind, Min: lo, Max: hi})
	g.size += 4 * floats
	g.data = append(g.data, fill)
	return len(g.doc.Accessors) - 1
}

// animate makes one animation of all that moves.
func (g *gltf) animate() {
	t := g.t
	times := g.accessor("SCALAR", t.N, t.N, []float64{0}, []float64{float64(float32(duration(t)))}, func(put func(float64)) {
		for f := range t.N {
			put(t.Time(f))
		}
	})
	a := gltfAnimation{Name: t.Shot.Name}
	channel := func(part int, path, kind string, width int, fill func(put func(float64))) {
		count := t.N
		if kind == "SCALAR" {
			count *= width
		}
		out := g.accessor(kind, count, t.N*width, nil, nil, fill)
		a.Channels = append(a.Channels, gltfChannel{len(a.Samplers), gltfTarget{g.node[part], path}})
		a.Samplers = append(a.Samplers, gltfSampler{times, "LINEAR", out})
	}
	for i := range t.Rows {
		g.channels(i, channel)
	}
	if len(a.Channels) > 0 {
		g.doc.Animations = []gltfAnimation{a}
	}
}

// channels adds the channels of one part.
func (g *gltf) channels(i int, channel func(part int, path, kind string, width int, fill func(put func(float64)))) {
	row := &g.t.Rows[i]
	if row.Moves {
		channel(i, "translation", "VEC3", 3, vectors(row.Move))
	}
	if row.Turns {
		channel(i, "rotation", "VEC4", 4, func(put func(float64)) {
			for _, q := range row.Turn {
				put(q.Imag)
				put(q.Jmag)
				put(q.Kmag)
				put(q.Real)
			}
		})
	}
	if row.Size != nil {
		channel(i, "scale", "VEC3", 3, vectors(row.Size))
	}
	if shapes := weights(g.t, g.children[i]); len(shapes) > 0 {
		channel(i, "weights", "SCALAR", len(shapes), func(put func(float64)) {
			for f := range g.t.N {
				for _, s := range shapes {
					put(g.t.Rows[s].Value[f])
				}
			}
		})
	}
}

func vectors(list []r3.Vec) func(put func(float64)) {
	return func(put func(float64)) {
		for _, v := range list {
			put(v.X)
			put(v.Y)
			put(v.Z)
		}
	}
}

// print writes the document and, as its last member, the buffer.
func (g *gltf) print(w io.Writer) error {
	text, err := json.MarshalIndent(&g.doc, "", "  ")
	if err != nil {
		return err
	}
	p := newPrinter(w, "")
	p.text(string(text[:len(text)-2])) // up to the last line's brace
	p.text(",\n  \"buffers\": [\n    {\n      \"byteLength\": ", strconv.Itoa(g.size), ",\n      \"uri\": \"data:application/octet-stream;base64,")
	enc := base64.NewEncoder(base64.StdEncoding, p.w)
	var four [4]byte
	put := func(v float64) {
		binary.LittleEndian.PutUint32(four[:], math.Float32bits(float32(v)))
		if _, err := enc.Write(four[:]); err != nil && p.err == nil {
			p.err = err
		}
	}
	for _, fill := range g.data {
		fill(put)
	}
	if err := enc.Close(); err != nil && p.err == nil {
		p.err = err
	}
	p.text("\"\n    }\n  ]\n}\n")
	return p.close()
}
