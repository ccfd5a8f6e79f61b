// Package track studies the path of one thing over the frames of a clip: of a point, a
// rotation or a value. It knows no figures and no hierarchy; of a scene it knows only
// which part and which channel a track belongs to.
//
// The words of this room:
//
//   - A track is such a path in units free of scale: figure sizes, degrees, or shares
//     of the range of a value. Its quality says which.
//   - A spacing is the distance between two successive positions.
//   - A rest is a stretch without motion, a hold a rest that an audience can see: it
//     lasts HoldSeconds.
//   - A stroke is a stretch of motion between two rests, or between two frames at which
//     the motion nearly stops. Rests and strokes together tile the clip.
//   - An event is a frame at which a stroke starts, stops or turns.
//   - A hitch is a short dip of speed within a stroke; a spike one frame that stands out
//     of a smooth path.
//   - A contact is a stretch in which a point stays on what is below it, a slip how far
//     it moves meanwhile; a grip a stretch in which two points hold together.
//   - Motion is on ones when something changes in every frame, on twos when every
//     change stays for two frames of film.
//   - The noise of a track is how far its positions may be from what was animated.
package track
