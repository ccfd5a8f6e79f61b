// Package x3d reads animated scenes of the X3D family: X3D in XML (.x3d) and
// in Classic VRML (.x3dv), ISO/IEC 19775 and 19776, and VRML97 (.wrl), ISO/IEC
// 14772.
//
// The encodings share one model of nodes, fields and routes (node.go), filled
// by two readers (classic.go, xml.go). Routes from time sensors through
// interpolators to fields become channels (route.go, interpolator.go), nodes
// that place others become parts (part.go). Only what moves is read: the
// numbers of geometry are skipped.
//
// Keys are fractions of a time sensor's cycle, so that a frame is
// key * cycleInterval * rate, with the rate guessed from all keys.
package x3d
