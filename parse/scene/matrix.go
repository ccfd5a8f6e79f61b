package scene

// Mat4 is an affine transform: a 4x4 matrix for column vectors, row-major, so
// that the translation is m[3], m[7], m[11].
type Mat4 [16]float64

// Identity is the transform that changes nothing.
var Identity = Mat4{0: 1, 5: 1, 10: 1, 15: 1}
