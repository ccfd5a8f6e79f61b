package main

import (
	"bytes"
	"io"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strconv"

	"curvelint/cmd/lab/designed"
	"curvelint/cmd/lab/designed/write"
)

// format is a way to write a bake.
type format struct {
	name, extension string
	write           func(io.Writer, *designed.Take) error
}

var formats = []format{
	{"BVH", "bvh", write.BVH},
	{"USD, a prim for each joint", "usda", write.USDA},
	{"USD, a skeleton", "usda", write.USDASkeleton},
	{"COLLADA", "dae", write.COLLADA},
	{"glTF", "gltf", write.GLTF},
	{"X3D in XML", "x3d", write.X3D},
	{"X3D Classic", "wrl", write.X3DClassic},
	{"table", "csv", write.Table},
}

var (
	asBVH  = formats[0]
	asUSDA = formats[1]
	asGLTF = formats[4]
)

// bake writes a body that moves all the time, so many joints and frames.
func (f format) bake(joints, frames int) ([]byte, error) {
	var b bytes.Buffer
	if err := f.write(&b, designed.Bake(joints, frames)); err != nil {
		return nil, err
	}
	return bytes.Clone(b.Bytes()), nil
}

// writeFlawed writes the joints of a take with motion of another kind: moves in
// even spacing with hard stops, holds without life, single frames that pop.
// Nearly every check has something to say about it, again and again.
func writeFlawed(w io.Writer, t *designed.Take) error {
	var b bytes.Buffer
	if err := write.BVH(&b, t); err != nil {
		return err
	}
	head, body, _ := bytes.Cut(b.Bytes(), []byte("Frame Time:"))
	rate, rows, _ := bytes.Cut(body, []byte("\n"))
	out := bytes.NewBuffer(append(bytes.Clone(head), "Frame Time:"...))
	out.Write(rate)
	width := len(bytes.Fields(rows[:bytes.IndexByte(rows, '\n')]))
	r := rand.New(rand.NewPCG(7, 1))
	at, step := make([]float64, width), make([]float64, width)
	for frame := range bytes.Count(rows, []byte("\n")) {
		for c := range at {
			if (frame+5*(c%3))%12 == 0 {
				step[c] = float64(r.IntN(3)-1) * 4
			}
			at[c] += step[c] - at[c]*0.002
			shown := at[c]
			if r.IntN(400) == 0 {
				shown += 15
			}
			out.WriteByte("\n "[min(c, 1)])
			out.Write(strconv.AppendFloat(out.AvailableBuffer(), shown, 'f', 4, 64))
		}
	}
	out.WriteByte('\n')
	_, err := w.Write(out.Bytes())
	return err
}

// sized writes a bake of so many joints and about so many bytes.
func (f format) sized(joints, size int) ([]byte, error) {
	const probe = 64
	one, err := f.bake(joints, probe)
	if err != nil {
		return nil, err
	}
	two, err := f.bake(joints, 2*probe)
	if err != nil {
		return nil, err
	}
	frame := max(1, (len(two)-len(one))/probe)
	fixed := len(one) - probe*frame
	return f.bake(joints, max(2, (size-fixed)/frame))
}

// put writes a file into the folder for files and returns its path.
func (b *bench) put(name string, content []byte) (string, error) {
	path := filepath.Join(b.dir, name)
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		return "", err
	}
	return path, os.WriteFile(path, content, 0o644)
}
