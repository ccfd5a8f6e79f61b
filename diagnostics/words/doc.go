// Package words is how numbers, units, frames and lists are worded, once for notes,
// comparisons, hovers, pictures, pages and the command line. It knows nothing of the
// module: it takes plain values, and units by the names that note.Measure has.
//
// The rules:
//
//   - An amount carries its unit: "2.1 % of figure size", "12.5 degrees", "30 % of its
//     range"; a speed the time too: "84 % of figure size a second". Sizes are shares
//     of the figure, as a percentage: nobody sees a 0.021.
//   - An amount has as many digits as one acts on: percentages one decimal below 10,
//     none from there; degrees one decimal below 100, none from there.
//   - The spacings of neighbouring frames, which are read against each other, have
//     three digits, zeros included.
//   - What is there is never written as nothing: "under 1 %", "under 0.1 degrees".
//   - A pair of values of one thing, "0.10 -> 0.14", has the same decimals on both
//     sides, and as few as show the change; alone a number has no zeros at its end.
//   - Frames are whole, or between two with at most two decimals. How long something
//     takes to leave or to arrive is told in whole frames, since those are drawn.
//   - Things are counted: "1 note", "8 spacings".
//   - No number is written with an exponent, unless it is beyond anything a shot has.
package words
