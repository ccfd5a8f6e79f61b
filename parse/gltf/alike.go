package gltf

import (
	"bytes"
	"reflect"

	"curvelint/parse/scene"
)

// alike reports whether two readings of a file say the same but for where it
// stands and for numbers that do not move.
func (p *parser) alike(q *parser) bool {
	for _, pair := range [][2]any{
		{p.scene, q.scene}, {p.scenes, q.scenes}, {p.nodes, q.nodes}, {p.meshes, q.meshes}, {p.skins, q.skins},
		{p.cameras, q.cameras}, {p.animations, q.animations}, {p.accessors, q.accessors},
		{p.bufferViews, q.bufferViews}, {p.buffers, q.buffers},
	} {
		if !alike(reflect.ValueOf(pair[0]), reflect.ValueOf(pair[1])) {
			return false
		}
	}
	for i := range p.buffers { // their names are known by their places alone
		a, b := p.buffers[i].uri, q.buffers[i].uri
		if !bytes.Equal(p.src[a.Start:a.End], q.src[b.Start:b.End]) {
			return false
		}
	}
	return true
}

var (
	spanType   = reflect.TypeFor[scene.Span]()
	staticType = reflect.TypeFor[static]()
)

// alike compares two values of one type, places and static numbers aside.
func alike(a, b reflect.Value) bool {
	switch a.Type() {
	case spanType:
		return true
	case staticType:
		return a.IsNil() == b.IsNil()
	}
	switch a.Kind() {
	case reflect.Struct:
		for i := range a.NumField() {
			if !alike(a.Field(i), b.Field(i)) {
				return false
			}
		}
		return true
	case reflect.Slice:
		if a.Len() != b.Len() {
			return false
		}
		if a.Type().Elem() == spanType {
			return true
		}
		for i := range a.Len() {
			if !alike(a.Index(i), b.Index(i)) {
				return false
			}
		}
		return true
	case reflect.Pointer:
		if a.IsNil() || b.IsNil() {
			return a.IsNil() && b.IsNil()
		}
		return alike(a.Elem(), b.Elem())
	}
	return a.Equal(b)
}
