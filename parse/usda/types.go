package usda

import (
	"strconv"
	"strings"
)

// base is what the numbers or words of a value are.
type base uint8

const (
	anything base = iota // a type the grammar does not know: any value
	real                 // half, float, double, timecode
	integer
	boolean
	str
	tok
	assetPath
	nothing    // opaque, group: no value can be written
	dictionary // a block of typed entries; no attribute has this type
)

// role says what a tuple of numbers stands for.
type role uint8

const (
	plain role = iota
	quaternion
	matrix
	color // and texture coordinates and normals: nothing that moves
)

// valueType is the type of an attribute or metadata value.
type valueType struct {
	name string
	base base
	role role
	// rows and cols are the shape of a tuple: 0, 0 for a scalar, n, 0 for a
	// vector, n, n for a matrix.
	rows, cols int
	float32    bool // single precision or less
	min, max   float64
	array      bool
	// nameOK is true for a string that may also be written as a bare word,
	// as metadata allows.
	nameOK bool
}

// width returns the number of numbers in one element.
func (t valueType) width() int { return max(t.rows, 1) * max(t.cols, 1) }

// numeric reports whether elements are numbers that can be kept in columns.
func (t valueType) numeric() bool { return t.base == real || t.base == integer }

// asWhole reports whether the numbers of an element make one value that is
// studied as a whole, a quaternion or a matrix.
func (t valueType) asWhole() bool { return t.role == quaternion || t.role == matrix }

// holds reports whether a whole number, too large to be exact as a float64,
// fits in a type of 64 bits.
func (t valueType) holds(digits []byte) bool {
	_, err := strconv.ParseInt(string(digits), 10, 64)
	if t.min == 0 {
		_, err = strconv.ParseUint(string(digits), 10, 64)
	}
	return err == nil
}

// title returns the type as written.
func (t valueType) title() string {
	if t.array {
		return t.name + "[]"
	}
	return t.name
}

// types are the value types of the specification by name, with the names that
// older files use.
var types = makeTypes()

func makeTypes() map[string]valueType {
	m := map[string]valueType{
		"string": {base: str}, "token": {base: tok}, "asset": {base: assetPath},
		"pathExpression": {base: str}, "bool": {base: boolean},
		"opaque": {base: nothing}, "group": {base: nothing},
		"uchar": {base: integer, max: 255}, "int": {base: integer, min: -1 << 31, max: 1<<31 - 1},
		"uint": {base: integer, max: 1<<32 - 1}, "int64": {base: integer, min: -1 << 63, max: 1 << 63},
		"uint64": {base: integer, max: 1 << 64},
		"half":   {base: real, float32: true}, "float": {base: real, float32: true},
		"double": {base: real}, "timecode": {base: real},
		"PointIndex": {base: integer, min: -1 << 31, max: 1<<31 - 1}, "EdgeIndex": {base: integer, min: -1 << 31, max: 1<<31 - 1},
		"FaceIndex": {base: integer, min: -1 << 31, max: 1<<31 - 1}, "Schema": {base: tok},
	}
	for _, n := range []int{2, 3, 4} {
		d := string(rune('0' + n))
		m["int"+d] = valueType{base: integer, rows: n, min: -1 << 31, max: 1<<31 - 1}
		m["Vec"+d+"i"] = m["int"+d]
		m["matrix"+d+"d"] = valueType{base: real, role: matrix, rows: n, cols: n}
		m["Matrix"+d+"d"] = m["matrix"+d+"d"]
		for _, f := range []string{"half", "float", "double"} {
			m[f+d] = valueType{base: real, rows: n, float32: f != "double"}
			m["Vec"+d+f[:1]] = m[f+d]
		}
	}
	m["frame4d"], m["Frame"], m["Transform"] = m["matrix4d"], m["matrix4d"], m["matrix4d"]
	for _, f := range []string{"h", "f", "d"} {
		single := f != "d"
		three := valueType{base: real, rows: 3, float32: single}
		m["point3"+f], m["vector3"+f] = three, three
		three.role = color
		m["normal3"+f], m["color3"+f], m["texCoord3"+f] = three, three, three
		m["color4"+f] = valueType{base: real, role: color, rows: 4, float32: single}
		m["texCoord2"+f] = valueType{base: real, role: color, rows: 2, float32: single}
		m["quat"+f] = valueType{base: real, role: quaternion, rows: 4, float32: single}
		m["Quat"+f] = m["quat"+f]
	}
	for _, name := range []string{"Point", "Normal", "Vector", "Color"} {
		m[name], m[name+"Float"] = m["point3d"], m["point3f"]
	}
	for name, t := range m {
		t.name = name
		m[name] = t
	}
	return m
}

// typeNamed returns the type of a name as written, with [] for an array. Types
// that are not known hold anything.
func typeNamed(name string) valueType {
	single, array := strings.CutSuffix(name, "[]")
	t, ok := types[single]
	if !ok {
		t = valueType{name: single}
	}
	t.array = array
	return t
}
