// Package chart draws pictures of a motion study: the spacing of a move, the
// arc of a point, the timeline of a figure, and the speeds of what leads and
// what follows. A chart is SVG, whose text is text, or PNG; with an earlier
// pass it shows both. It is legible from the size of a hover (320 by 180) up,
// and the same study gives the same bytes.
//
// What tells two things apart is never colour alone: the later pass is solid
// and filled, the earlier one dashed and hollow, and notes have brackets with
// their names.
package chart
