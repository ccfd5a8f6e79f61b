// What the page is given, unpacked: see columns.go for the form.

const bytesOf = (text) => {
  const raw = atob(text), bytes = new Uint8Array(raw.length);
  for (let i = 0; i < raw.length; i++) {
    bytes[i] = raw.charCodeAt(i);
  }
  return bytes.buffer;
};

// Cast is who plays in one pass. Positions are relative to the page's origin.
class Cast {
  constructor(form) {
    Object.assign(this, form);
    this.roots = new Float32Array(bytesOf(form.roots));
    this.scale = new Float32Array(bytesOf(form.scale));
    this.steps = new Uint16Array(bytesOf(form.steps));
    this.carriers = form.carriers.map((c) => new Float32Array(bytesOf(c.ways)));
    this.carrierNames = form.carriers.map((c) => c.name);
    this.figures.forEach((f, i) => { f.bones = form.parts.filter((p) => p.figure === i && p.stick).length; });
    this.below = form.parts.map(() => []);
    form.parts.forEach((p, i) => p.up >= 0 && p.stick && this.below[p.up].push(i));
  }

  // at puts where a column is at an index of a frame, which may lie between two.
  at(column, index, out) {
    const last = this.count - 1, i = Math.min(Math.max(Math.floor(index), 0), last);
    const between = Math.min(Math.max(index - i, 0), 1), k = Math.min(i + 1, last);
    const root = 3 * this.parts[column].figure * this.count;
    for (let axis = 0; axis < 3; axis++) {
      const c = 3 * column + axis, steps = c * this.count, step = this.scale[2 * c + 1];
      const here = this.roots[root + 3 * i + axis] + this.scale[2 * c] + step * this.steps[steps + i];
      const next = this.roots[root + 3 * k + axis] + this.scale[2 * c] + step * this.steps[steps + k];
      out[axis] = here + (next - here) * between;
    }
    return out;
  }

  // carry takes a place of one frame along with what carries its figure to another
  // frame, by their indices.
  carry(figure, from, to, p) {
    const ways = this.carriers[this.figures[figure].carrier], last = this.count - 1;
    if (!ways) {
      return p;
    }
    const at = (index) => 12 * Math.min(Math.max(Math.round(index), 0), last), a = at(from), b = at(to);
    const [x, y, z] = [3, 6, 9].map((k) => ways.subarray(a + k, a + k + 3)), d = [p[0] - ways[a], p[1] - ways[a + 1], p[2] - ways[a + 2]];
    const yz = cross(y, z), volume = dot(x, yz);
    if (volume !== 0) {
      const u = dot(d, yz) / volume, v = dot(d, cross(z, x)) / volume, w = dot(d, cross(x, y)) / volume;
      for (let k = 0; k < 3; k++) {
        p[k] = ways[b + k] + u * ways[b + 3 + k] + v * ways[b + 6 + k] + w * ways[b + 9 + k];
      }
    }
    return p;
  }
}

// unpack makes a shot of what stands in a script element or comes from the server.
const unpack = (form) => {
  const shot = { ...form, now: form.now && new Cast(form.now), before: form.before && new Cast(form.before) };
  if (form.camera) {
    shot.camera = { ...form.camera, lens: new Float32Array(bytesOf(form.camera.lens)) };
  }
  return shot;
};

const severities = ["error", "warning", "information", "hint"];
const tidy = (frame) => String(Math.round(frame * 100) / 100);
// framesOf writes frames as package words does.
const framesOf = ([first, last]) => first === last ? tidy(first) : `${tidy(first)}${first < 0 ? " to " : "-"}${tidy(last)}`;

// everything stands for all figures, where one is asked for.
const everything = -1;

// leading is the figure that the page opens on: the one with the point to watch,
// else the living one with most lines; everything when there are no lines.
const leading = (cast) => {
  const watched = cast.points.find((p) => p.focus && cast.figures[p.figure].bones > 0);
  if (watched) {
    return watched.figure;
  }
  const bones = cast.figures.map((f) => f.bones), most = Math.max(...bones);
  return most > 0 ? bones.indexOf(most) : everything;
};
