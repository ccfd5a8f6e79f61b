// Buttons, keys and pointers.

const controls = () => {
  $("start").onclick = () => stepBy(-Infinity);
  $("back").onclick = () => stepBy(-stepSize());
  $("play").onclick = () => state.playing ? pause() : play();
  $("forth").onclick = () => stepBy(stepSize());
  $("finish").onclick = () => stepBy(Infinity);
  $("slider").oninput = () => {
    pause();
    say("");
    goTo($("slider").valueAsNumber);
  };
  $("weight-rows").onclick = pickFrame;
  $("weights").open = matchMedia("(min-width: 62rem)").matches; // on a phone the picture comes first
  $("twos").onchange = () => setTwos($("twos").checked);
  $("whole").onchange = () => {
    state.whole = $("whole").checked;
    redraw();
  };
  $("aboard").onchange = () => {
    state.aboard = $("aboard").checked;
    redraw();
  };
  $("ghost").onchange = () => setGhost($("ghost").checked);
  $("around").onchange = () => {
    state.around = Number($("around").value);
    redraw();
  };
  for (const radio of document.getElementsByName("sight")) {
    radio.onchange = () => setSight(radio.value);
  }
};

// keys are what single keys do; those of one character can be switched off.
const keys = {
  ArrowLeft: (shift) => stepBy(shift ? -2 : -stepSize()),
  ArrowRight: (shift) => stepBy(shift ? 2 : stepSize()),
  Home: () => stepBy(-Infinity),
  End: () => stepBy(Infinity),
  Escape: () => state.chosen && choose(null),
  " ": () => state.playing ? pause() : play(),
  n: () => nextNote(1),
  p: () => nextNote(-1),
  t: () => setTwos(!state.twos),
  c: () => state.shot.camera && setSight(state.sight === "camera" ? "hand" : "camera"),
  b: () => state.shot.before && setGhost(!state.ghost),
  a: (shift) => shift ? move(-0.08, 0) : turn(-0.1, 0),
  d: (shift) => shift ? move(0.08, 0) : turn(0.1, 0),
  w: (shift) => shift ? move(0, 0.08) : turn(0, 0.08),
  s: (shift) => shift ? move(0, -0.08) : turn(0, -0.08),
  "+": () => nearer(1.15),
  "=": () => nearer(1.15),
  "-": () => nearer(1 / 1.15),
  0: () => asAtFirst(),
};

// takesKey reports whether what has the focus does something with a key itself.
const takesKey = (target, key) => {
  if (target.matches("select, input[type=text], textarea")) {
    return true;
  }
  if (key === " ") {
    return target.matches("button, summary, a, input[type=checkbox], input[type=radio]");
  }
  return target.matches("input[type=radio]") && key.startsWith("Arrow");
};

const onKey = (event) => {
  const key = event.key.length === 1 ? event.key.toLowerCase() : event.key;
  const letter = key.length === 1 && key !== " ";
  if (event.ctrlKey || event.metaKey || event.altKey || !Object.hasOwn(keys, key) || takesKey(event.target, key)) {
    return;
  }
  if (letter && !$("letters").checked || !state.shot || !count() && !["n", "p", "Escape"].includes(key)) {
    return;
  }
  event.preventDefault();
  keys[key](event.shiftKey);
};

// pointers turn the view by one, and bring it nearer by two.
const pointers = (canvas) => {
  const down = new Map();
  const apart = () => {
    const [a, b] = [...down.values()];
    return b ? Math.hypot(a.x - b.x, a.y - b.y) : 0;
  };
  canvas.onpointerdown = (event) => {
    down.set(event.pointerId, { x: event.clientX, y: event.clientY });
    canvas.setPointerCapture(event.pointerId);
  };
  canvas.onpointermove = (event) => {
    const from = down.get(event.pointerId), before = apart();
    if (!from) {
      return;
    }
    const dx = event.clientX - from.x, dy = event.clientY - from.y;
    down.set(event.pointerId, { x: event.clientX, y: event.clientY });
    const size = Math.min(canvas.clientWidth, canvas.clientHeight);
    if (down.size > 1) {
      nearer(before > 0 ? apart() / before : 1);
    } else if (event.shiftKey) {
      move(dx / size * 2 / state.hand.zoom, -dy / size * 2 / state.hand.zoom);
    } else if (dx || dy) {
      turn(-dx / size * 3, dy / size * 3);
    }
  };
  canvas.onpointerup = canvas.onpointercancel = (event) => down.delete(event.pointerId);
  canvas.addEventListener("wheel", (event) => {
    if (state.sight === "hand" && !event.ctrlKey) {
      event.preventDefault();
      nearer(Math.exp(-Math.sign(event.deltaY) * Math.min(Math.abs(event.deltaY), 120) / 800));
    }
  }, { passive: false });
};
