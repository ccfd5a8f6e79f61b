// Drawing: the floor, the earlier pass, paths with their frame marks, the figures.

const colours = () => {
  const style = getComputedStyle(document.documentElement), names = "field ink quiet grid edge now before mark left right middle";
  return Object.fromEntries(names.split(" ").map((name) => [name, style.getPropertyValue(`--${name}`).trim()]));
};

// Painter draws one picture of one moment.
class Painter {
  constructor(context, see, theme, width, height) {
    Object.assign(this, { g: context, see, theme, width, height, unit: 1, from: null, names: [], p: [0, 0, 0], a: [0, 0, 0], b: [0, 0, 0] });
  }

  // spot puts where a column is seen into out and tells whether it is.
  spot(cast, column, at, index, out) {
    return this.see.project(cast.at(column, at, this.p), index, out);
  }

  floor(shot, cast, around, index) {
    const figure = Math.max(around, 0), g = this.g, [right, up, near] = axesOf(shot.up), p = [0, 0, 0], cell = cast.figures[figure].size / 2 || 1;
    cast.roots.slice(3 * (figure * cast.count + Math.round(index))).slice(0, 3).forEach((v, k) => { p[k] = v; });
    const x = Math.round(dot(p, right) / cell), z = Math.round(dot(p, near) / cell), reach = 5;
    const ground = (i, k, out) => this.see.project(right.map((v, n) => (v * i + near[n] * k) * cell + up[n] * shot.floor), index, out);
    g.strokeStyle = this.theme.grid;
    g.lineWidth = 1;
    g.beginPath();
    for (let i = -reach; i <= reach; i++) {
      for (let k = -reach; k < reach; k++) {
        this.line((out) => ground(x + i, z + k, out), (out) => ground(x + i, z + k + 1, out));
        this.line((out) => ground(x + k, z + i, out), (out) => ground(x + k + 1, z + i, out));
      }
    }
    g.stroke();
  }

  line(from, to) {
    if (from(this.a) && to(this.b)) {
      this.g.moveTo(this.a[0], this.a[1]);
      this.g.lineTo(this.b[0], this.b[1]);
    }
  }

  // thickness is how wide a figure's lines are, in pixels.
  thickness(cast, figure, index) {
    const root = cast.parts.findIndex((p) => p.figure === figure), size = cast.figures[figure].size;
    if (root < 0 || !this.spot(cast, root, index, index, this.a)) {
      return 2;
    }
    cast.at(root, index, this.p);
    let widest = 0;
    for (let axis = 0; axis < 3; axis++) {
      const q = [...this.p];
      q[axis] += size;
      if (this.see.project(q, index, this.b)) {
        widest = Math.max(widest, Math.hypot(this.b[0] - this.a[0], this.b[1] - this.a[1]));
      }
    }
    this.unit = widest / size; // pixels in a scene unit, where the figure is
    return Math.min(Math.max(widest * 0.011, 1.5), 7);
  }

  // ghost draws the earlier pass.
  ghost(cast, at, index) {
    const g = this.g;
    g.strokeStyle = this.theme.before;
    g.lineWidth = 1.75;
    g.setLineDash([5, 3]);
    g.beginPath();
    cast.parts.forEach((part, i) => {
      if (part.stick) {
        this.line((out) => this.spot(cast, part.up, at, index, out), (out) => this.spot(cast, i, at, index, out));
      }
    });
    g.stroke();
    g.setLineDash([]);
  }

  figures(cast, index) {
    cast.figures.forEach((figure, f) => {
      const wide = this.thickness(cast, f, index);
      for (const side of ["right", "", "left"]) {
        this.sticks(cast, index, (part) => part.figure === f && part.side === side, this.theme[side || "middle"], wide);
      }
      this.heads(cast, f, index, wide);
      this.dots(cast, f, index, wide);
    });
  }

  // heads are round, about the line to their end.
  heads(cast, f, index, wide) {
    const g = this.g, at = cast.parts.findIndex((p) => p.figure === f && p.head);
    if (at < 0 || !this.spot(cast, at, index, index, this.b) || !this.spot(cast, cast.parts[at].up, index, index, this.a)) {
      return;
    }
    const long = this.apart(cast, at, cast.parts[at].up, index);
    g.strokeStyle = this.theme.middle;
    g.lineWidth = wide * 0.8;
    g.beginPath();
    g.arc((this.a[0] + this.b[0]) / 2, (this.a[1] + this.b[1]) / 2, Math.max(0.56 * long * this.unit, 3), 0, 7);
    g.stroke();
  }

  // apart is how far two columns are from each other, in scene units.
  apart(cast, one, other, index) {
    const p = [...cast.at(one, index, this.p)], q = cast.at(other, index, this.p);
    return Math.hypot(p[0] - q[0], p[1] - q[1], p[2] - q[2]);
  }

  sticks(cast, index, which, colour, wide) {
    const g = this.g;
    g.strokeStyle = colour;
    g.lineWidth = wide;
    g.lineCap = g.lineJoin = "round";
    g.beginPath();
    cast.parts.forEach((part, i) => {
      if (part.stick && !part.head && which(part, i)) {
        this.line((out) => this.spot(cast, part.up, index, index, out), (out) => this.spot(cast, i, index, index, out));
      }
    });
    g.stroke();
  }

  // dots stand for what no line leads to: faces, and what has no lines at all, such
  // as machines, which is named.
  dots(cast, f, index, wide) {
    const g = this.g, loose = cast.figures[f].bones === 0;
    cast.parts.forEach((part, i) => {
      const alone = loose || !part.stick && part.up >= 0 && cast.below[i].length === 0;
      if (part.figure !== f || !alone || !this.spot(cast, i, index, index, this.a)) {
        return;
      }
      const [x, y] = this.a;
      g.fillStyle = this.theme[loose ? "quiet" : part.side || "middle"];
      if (loose) {
        g.fillRect(x - 3, y - 3, 6, 6);
        this.name(part.name, x, y);
      } else {
        g.beginPath();
        g.arc(x, y, Math.max(1.5, wide * 0.45), 0, 7);
        g.fill();
      }
    });
  }

  // name writes a name where no other one is yet.
  name(text, x, y) {
    const right = x + 9 + 7 * text.length;
    if (!this.names.some(([left, end, at]) => Math.abs(at - y) < 14 && x < end && left < right)) {
      this.names.push([x, right, y]);
      this.label(text, x, y, this.theme.quiet);
    }
  }

  // chosen marks what a note or change is about.
  chosen(cast, aim, index) {
    const g = this.g, column = aim.column, part = cast.parts[column], wide = this.thickness(cast, part.figure, index);
    const about = aim.whole ? (p) => p.figure === part.figure : (_, i) => i === column || cast.below[column].includes(i);
    this.sticks(cast, index, about, this.theme.mark, wide + 7);
    if (!aim.whole && this.spot(cast, column, index, index, this.a)) {
      g.strokeStyle = this.theme.mark;
      g.lineWidth = 3;
      g.beginPath();
      g.arc(this.a[0], this.a[1], wide + 7, 0, 7);
      g.stroke();
    }
  }

  // passed puts where a column was seen at index i into out, as a path has it: seen
  // from what carries the figure, everything stands as it does in this frame.
  passed(cast, column, indexOf, i, out) {
    const { figure } = cast.parts[column];
    if (this.from === null || cast.figures[figure].carrier < 0) {
      return this.spot(cast, column, indexOf(i), i, out);
    }
    return this.see.project(cast.carry(figure, indexOf(i), indexOf(this.from), cast.at(column, indexOf(i), this.p)), this.from, out);
  }

  // trace draws the path of a column over the indices from to to, and returns
  // where each was, null when out of sight.
  trace(cast, column, from, to, indexOf) {
    const g = this.g, spots = [];
    let pen = false;
    g.beginPath();
    for (let i = from; i <= to; i++) {
      const spot = [0, 0, 0];
      if (!this.passed(cast, column, indexOf, i, spot)) {
        spots.push(null);
        pen = false;
        continue;
      }
      spots.push(spot);
      pen ? g.lineTo(spot[0], spot[1]) : g.moveTo(spot[0], spot[1]);
      pen = true;
    }
    g.stroke();
    return spots;
  }

  // path draws a path with a mark for each frame, or each second one.
  path(cast, column, from, to, step, style) {
    const g = this.g;
    g.strokeStyle = style.colour;
    g.lineWidth = style.wide;
    g.setLineDash(style.dash || []);
    const spots = this.trace(cast, column, from, to, style.indexOf || ((i) => i));
    g.setLineDash([]);
    g.fillStyle = style.colour;
    spots.forEach((spot, k) => {
      if (spot && (from + k) % step === 0) {
        g.beginPath();
        g.arc(spot[0], spot[1], style.dot, 0, 7);
        g.fill();
      }
    });
    return spots;
  }

  // marked draws the path that a note is about, wide, with its ends numbered.
  marked(cast, column, from, to, step) {
    const g = this.g, { mark, ink } = this.theme;
    g.lineCap = g.lineJoin = "round";
    this.path(cast, column, from, to, step, { colour: mark, wide: 8, dot: 5.5 });
    const spots = this.path(cast, column, from, to, step, { colour: ink, wide: 1.5, dot: 2.5 });
    [0, spots.length - 1].forEach((k, last) => {
      if (spots[k] && !(last && spots[0] && Math.hypot(spots[k][0] - spots[0][0], spots[k][1] - spots[0][1]) < 16)) {
        this.label(tidy(cast.first + from + k), spots[k][0], spots[k][1] - (last ? 16 : 0), ink);
      }
    });
  }

  label(text, x, y, colour) {
    const g = this.g;
    g.font = "12px system-ui, sans-serif";
    g.lineWidth = 3;
    g.lineJoin = "round";
    g.strokeStyle = this.theme.field;
    g.fillStyle = colour;
    g.strokeText(text, x + 9, y + 4);
    g.fillText(text, x + 9, y + 4);
  }

  // here marks where a column is now.
  here(cast, column, index, colour) {
    if (this.spot(cast, column, index, index, this.a)) {
      const g = this.g;
      g.fillStyle = this.theme.field;
      g.strokeStyle = colour;
      g.lineWidth = 2.5;
      g.beginPath();
      g.arc(this.a[0], this.a[1], 5, 0, 7);
      g.fill();
      g.stroke();
    }
  }

  // edges dims what the camera does not take in.
  edges([x, y, wide, high]) {
    const g = this.g;
    g.fillStyle = this.theme.field;
    g.globalAlpha = 0.72;
    g.beginPath();
    g.rect(0, 0, this.width, this.height);
    g.rect(x, y, wide, high);
    g.fill("evenodd");
    g.globalAlpha = 1;
    g.strokeStyle = this.theme.edge;
    g.lineWidth = 1;
    g.strokeRect(x + 0.5, y + 0.5, wide - 1, high - 1);
  }
}
