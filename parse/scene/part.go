package scene

// PartID is an index into Scene.Parts.
type PartID int32

// NoPart stands for the absence of a part.
const NoPart PartID = -1

// PartKind says what a part is, as far as the file tells.
type PartKind uint8

// The kinds of parts.
const (
	Node         PartKind = iota // a transform or grouping node
	Joint                        // a joint of a skeleton
	SkeletonRoot                 // the node that holds a skeleton: a figure by declaration
	Tip                          // the end of a chain that carries no animation (BVH End Site)
	Mesh                         // drawable geometry
	CameraPart                   // a camera
	LightPart                    // a light
	Weight                       // one shape weight (0 to 1 as a rule), a child of what it shapes
	Scalar                       // one free number that moves nothing we know
	WorldTrack                   // a position in world space (table wx wy wz)
	PictureTrack                 // a position on the picture plane (table u v)
)

// Part is a node of the hierarchy, one shape weight, or one free scalar.
type Part struct {
	ID     PartID
	Parent PartID
	Name   string // last element of Path, as written
	Path   string // unique in the scene, "/"-separated from "/"
	Kind   PartKind

	// Ops is the transform stack: in column vectors, local = Ops[0]*Ops[1]*...
	// A Weight or Scalar has none; its channels have Op = NoOp.
	Ops []Op
	// ResetStack is true when the parent's transform does not apply
	// (USD !resetXformStack!).
	ResetStack bool

	// Rest is the local transform at rest when the file declares one apart
	// from the animation (skeleton rest pose, BVH offset, glTF node TRS).
	Rest    Mat4
	HasRest bool

	// Figure is true when the file declares this part the root of a figure:
	// a Skeleton, an HAnim humanoid, a BVH root, the skeleton root of a skin.
	Figure bool

	Def      Span // the part's header: where an editor should jump
	NameSpan Span // the part's name inside the header
	Body     Span // the whole block
}

// NoOp is the Op of a channel that belongs to no transform op.
const NoOp = -1

// OpKind names a transform op.
type OpKind uint8

// The transform ops of all formats. Components in order; angles in degrees.
const (
	Translate  OpKind = iota // x y z
	Scale                    // x y z
	RotateX                  // angle
	RotateY                  // angle
	RotateZ                  // angle
	RotateXYZ                // x y z: turns about X first: Rz*Ry*Rx
	RotateXZY                // x y z: Ry*Rz*Rx
	RotateYXZ                // x y z: Rz*Rx*Ry
	RotateYZX                // x y z: Rx*Rz*Ry
	RotateZXY                // x y z: Ry*Rx*Rz
	RotateZYX                // x y z: Rx*Ry*Rz
	RotateAxis               // axis x y z, angle (degrees): COLLADA rotate
	Orient                   // unit quaternion, real part first: w x y z
	Matrix                   // 16 numbers, column-vector matrix, row-major (m[4*row+col])
	TranslateX               // x
	TranslateY               // y
	TranslateZ               // z
	ScaleX                   // x
	ScaleY                   // y
	ScaleZ                   // z
	Skew                     // COLLADA skew: angle, axis to turn (x y z), axis to slide along (x y z)
	LookAt                   // COLLADA lookat: eye, interest, up (9 numbers)
)

// opWidth is the number of components of each op.
var opWidth = [...]int{
	Translate: 3, Scale: 3, RotateX: 1, RotateY: 1, RotateZ: 1,
	RotateXYZ: 3, RotateXZY: 3, RotateYXZ: 3, RotateYZX: 3, RotateZXY: 3, RotateZYX: 3,
	RotateAxis: 4, Orient: 4, Matrix: 16, TranslateX: 1, TranslateY: 1, TranslateZ: 1,
	ScaleX: 1, ScaleY: 1, ScaleZ: 1, Skew: 7, LookAt: 9,
}

// Width returns the number of components of the op.
func (k OpKind) Width() int { return opWidth[k] }

// Op is one step of a transform stack.
type Op struct {
	Kind OpKind
	// Name is the op's name in the file (xformOp:rotateXYZ:tag, Xrotation,
	// a COLLADA sid), or the format's word for it.
	Name string
	// Inverse is true when the op's inverse applies (USD !invert!).
	Inverse bool
	// Value holds the static value of each component, len Kind.Width(). Where
	// a channel animates a component, the channel wins.
	Value []float64
	Span  Span // where the op's value or animation is written
}
