// Package usda reads OpenUSD text layers (.usda, text .usd) into the scene
// model: the text grammar of the AOUSD Core Specification (and of the older
// "#sdf 1.4.32" files), composition over local text layers, transform stacks,
// skeletons, splines, cameras and free animated numbers.
//
// The work runs in three steps, each in files of its own:
//
//   - the grammar: bytes to a layer, which is the tree of prims as written
//     (parser.go, statement.go, prim.go, attribute.go, metadata.go, value.go,
//     samples.go, spline.go);
//   - composition: layers to one tree whose nodes list their opinions from the
//     strongest to the weakest (stack.go, compose.go, index.go);
//   - building: the composed tree to parts, ops and channels (build.go,
//     xform.go, camera.go, skeleton.go, scalar.go, curve.go).
//
// A statement that breaks the grammar is reported and skipped by matching
// brackets; everything around it is kept.
package usda
