// The picture: what is drawn of the state, once a screen refresh at most.

let theme = colours(), waiting = false;

const redraw = () => {
  if (!waiting) {
    waiting = true;
    requestAnimationFrame(() => {
      waiting = false;
      draw();
    });
  }
};

// sightOf is how the state sees, in a picture of a size.
const sightOf = (width, height) => {
  const { shot, sight, hand, around, index, figures } = state;
  if (sight === "camera" && shot.camera) {
    return throughCamera(shot.camera, width, height);
  }
  figures[around] ??= aroundFigure(shot.now, around);
  return byHand(shot, figures[around], hand, index, width, height);
};

const draw = () => {
  const canvas = $("canvas"), { shot, index } = state, width = canvas.clientWidth, height = canvas.clientHeight;
  if (!shot?.now || !width) {
    return;
  }
  const sharp = devicePixelRatio || 1;
  if (canvas.width !== Math.round(width * sharp) || canvas.height !== Math.round(height * sharp)) {
    canvas.width = Math.round(width * sharp);
    canvas.height = Math.round(height * sharp);
  }
  const g = canvas.getContext("2d"), see = sightOf(width, height);
  g.setTransform(sharp, 0, 0, sharp, 0, 0);
  g.clearRect(0, 0, width, height);
  const painter = new Painter(g, see, theme, width, height);
  if (shot.floor !== null && count()) {
    painter.floor(shot, shot.now, state.around, index);
  }
  painter.from = state.aboard ? index : null;
  const item = chosenItem();
  drawEarlier(painter, item);
  if (item?.column >= 0) {
    painter.chosen(shot.now, item, index);
  }
  painter.figures(shot.now, index);
  drawPaths(painter);
  drawMarked(painter, item);
  if (see.frame) {
    painter.edges(see.frame);
  }
  if (!performance.getEntriesByName("drawn").length) {
    performance.mark("drawn"); // how long opening takes is tested
  }
};

// windowOf is the stretch of frames whose paths are drawn: half a second either
// way, or everything.
const windowOf = () => {
  const half = Math.round(state.shot.now.rate / 2);
  return state.whole ? [0, count() - 1] : [Math.max(state.index - half, 0), Math.min(state.index + half, count() - 1)];
};

const earlierIndex = (i) => state.shot.before.against[0] + state.shot.before.against[1] * i;

const drawEarlier = (painter, item) => {
  const { shot, ghost, index } = state, range = rangeOfItem(item);
  if (!shot.before || !ghost) {
    return;
  }
  const style = { colour: theme.before, wide: 1.25, dot: 1.75, dash: [4, 3], indexOf: earlierIndex };
  const [from, to] = windowOf();
  painter.ghost(shot.before, earlierIndex(index), index);
  for (const point of shot.before.points.filter((q) => chosenPoints().some((p) => p.name === q.name && sameFigure(p.figure, q.figure)))) {
    painter.path(shot.before, point.at, from, to, markStep(), style);
  }
  const track = range && shot.now.parts[item.track];
  const same = track ? shot.before.parts.findIndex((p) => p.name === track.name && sameFigure(track.figure, p.figure)) : -1;
  if (same >= 0) {
    painter.path(shot.before, same, range[0], range[1], markStep(), { ...style, wide: 1.75, dot: 2.25 });
  }
};

const keyOf = (cast, point) => `${cast.figures[point.figure].path} ${point.name}`;
const chosenPoints = () => state.shot.now.points.filter((p) => state.paths.has(keyOf(state.shot.now, p)));

// sameFigure tells whether two figures, of the later and the earlier pass, are one;
// paths may differ between formats.
const sameFigure = (now, before) => state.shot.now.figures[now].name === state.shot.before.figures[before].name;

const drawPaths = (painter) => {
  const { now } = state.shot, [from, to] = windowOf();
  for (const point of chosenPoints()) {
    painter.path(now, point.at, from, to, markStep(), { colour: theme.now, wide: 1.25, dot: 2.25 });
    painter.here(now, point.at, state.index, theme.now);
  }
};

// drawMarked marks the path that is chosen, and says which in the page, for
// whoever cannot see it.
const drawMarked = (painter, item) => {
  const range = rangeOfItem(item), { now } = state.shot;
  if (!range || !(item.track >= 0)) {
    delete $("canvas").dataset.marked;
    return;
  }
  const wider = range[0] === range[1] ? 2 : 0; // one frame is seen among its neighbours
  const from = Math.max(range[0] - wider, 0), to = Math.min(range[1] + wider, count() - 1), half = Math.round(now.rate / 4);
  painter.path(now, item.track, Math.max(from - half, 0), Math.min(to + half, count() - 1), markStep(), { colour: theme.now, wide: 1.25, dot: 2.25 });
  painter.marked(now, item.track, from, to, markStep());
  painter.here(now, item.track, state.index, theme.ink);
  $("canvas").dataset.marked = `${now.parts[item.track].path} ${tidy(frameOf(from))}-${tidy(frameOf(to))}`;
};

matchMedia("(prefers-color-scheme: dark)").addEventListener("change", () => {
  theme = colours();
  redraw();
});
new ResizeObserver(redraw).observe($("canvas"));
