package main

import (
	"bytes"
	"io"
	"os"
	"path/filepath"

	"curvelint/diagnostics/designed"
	"curvelint/diagnostics/designed/write"
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
