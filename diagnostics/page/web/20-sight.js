// Two ways to see: through the shot's camera, and turned by hand. Each projects
// positions to the picture: see.project(p, index, out) puts x, y in pixels and the
// depth, and returns whether it is in front.

// throughCamera sees what the audience sees; a position is projected by the lens
// of its own frame, so that paths are those in the picture.
const throughCamera = (camera, width, height) => {
  const margin = 14;
  const high = Math.min(height - 2 * margin, (width - 2 * margin) / camera.aspect), wide = high * camera.aspect;
  const frames = camera.lens.length / 15;
  return {
    frame: [(width - wide) / 2, (height - high) / 2, wide, high],
    project(p, index, out) {
      const at = 15 * Math.min(Math.max(Math.round(index), 0), frames - 1), m = camera.lens;
      const x = m[at] * p[0] + m[at + 1] * p[1] + m[at + 2] * p[2] + m[at + 3];
      const y = m[at + 4] * p[0] + m[at + 5] * p[1] + m[at + 6] * p[2] + m[at + 7];
      const depth = -(m[at + 8] * p[0] + m[at + 9] * p[1] + m[at + 10] * p[2] + m[at + 11]);
      const by = camera.orthographic ? 1 : depth;
      out[0] = width / 2 + high * (m[at + 12] * x / by - m[at + 13]);
      out[1] = height / 2 - high * (m[at + 12] * y / by - m[at + 14]);
      out[2] = depth;
      return depth > 0;
    },
  };
};

const dot = (a, b) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const cross = (a, b) => [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];

// axesOf are right, up and towards the viewer for somebody in front.
const axesOf = (up) => {
  const right = Math.abs(up[0]) > 0.9 ? [0, 1, 0] : [1, 0, 0];
  return [right, up, cross(right, up)];
};

// asCamera is how to turn so as to stand where the camera does in the first frame.
const asCamera = (shot) => {
  if (shot.flat) {
    return { yaw: 0, pitch: 0 };
  }
  if (!shot.camera) {
    return { yaw: 0.5, pitch: 0.12 };
  }
  const [right, up, near] = axesOf(shot.up), back = shot.camera.lens.slice(8, 11), length = Math.hypot(...back) || 1;
  return { yaw: Math.atan2(dot(back, right), dot(back, near)), pitch: Math.asin(Math.min(Math.max(dot(back, up) / length, -1), 1)) };
};

// aroundFigure finds what the view by hand turns about, for each frame, and how
// far things reach from there. A figure that goes places is followed, softly.
const aroundFigure = (cast, figure) => {
  const columns = cast.parts.flatMap((p, i) => figure === everything || p.figure === figure ? [i] : []), p = [0, 0, 0];
  const every = Math.max(1, Math.floor(columns.length * cast.count / 60000));
  const boxOf = (from, to, step) => {
    const low = [Infinity, Infinity, Infinity], high = [-Infinity, -Infinity, -Infinity];
    for (let i = from; i <= to; i += step) {
      for (const c of columns) {
        cast.at(c, i, p);
        for (let k = 0; k < 3; k++) {
          low[k] = Math.min(low[k], p[k]);
          high[k] = Math.max(high[k], p[k]);
        }
      }
    }
    return { middle: low.map((v, k) => (v + high[k]) / 2), reach: Math.hypot(...high.map((v, k) => v - low[k])) / 2 || 1 };
  };
  const whole = boxOf(0, cast.count - 1, every), first = boxOf(0, 0, 1);
  if (figure === everything || columns.length < 3 || whole.reach < 1.6 * first.reach) {
    return { reach: whole.reach, middle: () => whole.middle };
  }
  const half = Math.round(cast.rate / 2), shift = first.middle.map((v, k) => v - cast.roots[3 * figure * cast.count + k]);
  const middle = (index) => {
    const sum = [0, 0, 0], at = Math.round(index);
    for (let i = at - half; i <= at + half; i++) {
      const k = 3 * (figure * cast.count + Math.min(Math.max(i, 0), cast.count - 1));
      sum.forEach((_, axis) => { sum[axis] += cast.roots[k + axis]; });
    }
    return sum.map((v, axis) => v / (2 * half + 1) + shift[axis]);
  };
  return { reach: first.reach, middle };
};

// byHand sees a figure from where it was turned to. hand is { yaw, pitch, zoom, x, y }.
const byHand = (shot, around, hand, index, width, height) => {
  const [right, up, near] = axesOf(shot.up), middle = around.middle(index);
  const cy = Math.cos(hand.yaw), sy = Math.sin(hand.yaw), cp = Math.cos(hand.pitch), sp = Math.sin(hand.pitch);
  const scale = 0.46 * Math.min(width, height) / around.reach * hand.zoom, away = 4.5 * around.reach;
  return {
    project(p, _, out) {
      const d = [p[0] - middle[0], p[1] - middle[1], p[2] - middle[2]];
      const a = dot(d, right), b = dot(d, up), c = dot(d, near);
      const x = a * cy - c * sy, z = a * sy + c * cy;
      const y = b * cp - z * sp, depth = away - (b * sp + z * cp);
      const by = shot.flat ? 1 : away / depth;
      out[0] = width / 2 + (hand.x * around.reach + x * by) * scale;
      out[1] = height / 2 - (hand.y * around.reach + y * by) * scale;
      out[2] = depth;
      return shot.flat || depth > away / 50;
    },
  };
};
