// What the reader sees and has chosen. Everything that changes goes through here
// and ends in draw.

const $ = (id) => document.getElementById(id);
const calm = matchMedia("(prefers-reduced-motion: reduce)");

const state = {
  shot: null, figures: [], // the figures to turn about, made when asked for
  index: 0, twos: false, playing: false,
  sight: "hand", around: 0, hand: { yaw: 0, pitch: 0, zoom: 1, x: 0, y: 0 },
  paths: new Set(), whole: false, aboard: true, ghost: true,
  chosen: null, // { kind: "note" or "change", at }, or { kind: "part", item }
};

const count = () => state.shot?.now?.count ?? 0;
const frameOf = (index) => state.shot.now.first + index;
const chosenItem = () => {
  const { shot, chosen } = state;
  return chosen && (chosen.item ?? (chosen.kind === "note" ? shot.notes : shot.change.items)[chosen.at]);
};

// rangeOfItem is the indices of the frames that a note or change is about; null
// for none.
const rangeOfItem = (item) => {
  if (!item?.frames || !count()) {
    return null;
  }
  const within = (frame) => Math.min(Math.max(Math.round(frame - state.shot.now.first), 0), count() - 1);
  return item.frames.map(within);
};

// say tells a screen reader, and everybody, what has just been done.
const say = (text) => { $("said").textContent = text; };

const showFrame = () => {
  const { index, shot } = state, frame = tidy(frameOf(index)), last = tidy(frameOf(count() - 1));
  $("where").innerHTML = `<b>${frame}</b> / ${last} · ${(index / shot.now.rate).toFixed(2)} s`;
  $("slider").value = index;
  $("slider").setAttribute("aria-valuetext", `frame ${frame}`);
  document.documentElement.dataset.frame = frame;
  showWeights();
};

// goTo shows a frame, by its index; on twos the one that is held there.
const goTo = (index) => {
  const i = Math.min(Math.max(Math.round(index), 0), count() - 1);
  state.index = state.twos ? i - i % 2 : i;
  showFrame();
  redraw();
};

const stepBy = (n) => {
  pause();
  goTo(state.index + n);
  say(`frame ${tidy(frameOf(state.index))}`);
};

const stepSize = () => state.twos ? 2 : 1;

// markStep is how many frames lie between the marks on a path: on ones or twos,
// but no denser than those of film, whatever the rate of a capture.
const markStep = () => Math.max(stepSize(), Math.round(state.shot.now.rate / 30));

// Playing keeps to the clock: a frame that cannot be drawn in time is left out,
// and the shot never runs slow.
const play = () => {
  if (count() < 2) {
    return;
  }
  const { rate } = state.shot.now, from = state.index >= count() - stepSize() ? 0 : state.index;
  const began = performance.now();
  setPlaying(true);
  const tick = () => {
    if (!state.playing) {
      return;
    }
    const passed = Math.floor((performance.now() - began) * rate / 1000) + from;
    if (calm.matches && passed >= count()) {
      goTo(count() - 1); // whoever wants little motion sees it once
      return pause();
    }
    const i = passed % count(), shown = state.twos ? i - i % 2 : i;
    if (shown !== state.index) {
      goTo(shown);
    }
    requestAnimationFrame(tick);
  };
  requestAnimationFrame(tick);
};

const pause = () => {
  if (state.playing) {
    setPlaying(false);
    say(`frame ${tidy(frameOf(state.index))}`);
  }
};

const setPlaying = (on) => {
  state.playing = on;
  $("play").classList.toggle("playing", on);
  $("play").setAttribute("aria-label", on ? "Pause" : "Play");
  if (on) {
    say("playing");
  }
};

const setTwos = (on) => {
  state.twos = $("twos").checked = on;
  legend();
  goTo(state.index);
  if (!state.playing) {
    say(`${on ? "on twos" : "on ones"}, frame ${tidy(frameOf(state.index))}`);
  }
};

const setSight = (sight) => {
  state.sight = sight;
  for (const radio of document.getElementsByName("sight")) {
    radio.checked = radio.value === sight;
  }
  $("canvas").classList.toggle("by-hand", sight === "hand");
  $("around-label").hidden = sight !== "hand" || $("around").length < 2;
  redraw();
};

const setGhost = (on) => {
  state.ghost = $("ghost").checked = on;
  legend();
  redraw();
};

// turn turns the view by hand, in radians; from the camera it sets out where the
// camera stands.
const turn = (yaw, pitch) => {
  const { hand } = state;
  setSight("hand");
  hand.yaw += yaw;
  hand.pitch = Math.min(Math.max(hand.pitch + pitch, -1.55), 1.55);
};

const nearer = (times) => {
  setSight("hand");
  state.hand.zoom = Math.min(Math.max(state.hand.zoom * times, 0.1), 40);
};

const move = (x, y) => {
  setSight("hand");
  state.hand.x += x;
  state.hand.y += y;
};

const asAtFirst = () => {
  state.hand = { ...asCamera(state.shot), zoom: 1, x: 0, y: 0 };
  redraw();
};

// nameOf is what a column is called: the point that it is of, or the part.
const nameOf = (cast, column) => (cast.points.find((p) => p.at === column) ?? cast.parts[column]).name;

// choose goes to a note or a change: its first frame, its part, its path.
const choose = (chosen, tell = true) => {
  pause();
  state.chosen = chosen;
  const item = chosenItem(), range = rangeOfItem(item), part = state.shot.now?.parts[item?.column];
  showChosen();
  if (part && state.around !== everything && part.figure !== state.around && state.shot.now.figures[part.figure].bones > 0) {
    state.around = part.figure;
    $("around").value = part.figure;
  }
  if (range) {
    goTo(range[0]);
  }
  if (tell && item) {
    const path = range && part ? `, path of ${nameOf(state.shot.now, item.track)} marked` : "";
    say(range ? `frame ${tidy(frameOf(state.index))}, ${part?.name ?? "no part"}${path}` : part?.name ?? "not about frames");
  } else if (tell) {
    say("no note chosen");
  }
  redraw();
};
