// Showing a shot, the first one or a newer state of the same one.

// same finds in a list the item that another was, before the file changed.
const same = (list, was) => {
  const alike = list.map((item, at) => ({ item, at })).filter(({ item }) => item.check === was.check && item.column >= 0 === was.column >= 0);
  const exact = alike.find(({ item }) => item.part === was.part && (item.text ?? item.message) === (was.text ?? was.message));
  const near = alike.filter(({ item }) => item.part === was.part && item.frames && was.frames &&
    item.frames[0] <= was.frames[1] + 4 && item.frames[1] >= was.frames[0] - 4);
  return (exact ?? near[0])?.at ?? -1;
};

// partNamed is what is chosen when a part is, without a note; null when there is no
// such part.
const partNamed = ({ now }, path) => {
  const column = now?.parts.findIndex((p) => p.path === path) ?? -1;
  if (column < 0) {
    return null;
  }
  const point = now.points.find((p) => p.at === column || now.parts[p.at].up === column);
  return { kind: "part", item: { path, column, track: point?.at ?? column, whole: false, frames: null } };
};

// keep is the state that outlives a change of the file.
const keep = (old, shot) => {
  const item = chosenItem(), { chosen } = state, list = chosen?.kind === "note" ? shot.notes : shot.change?.items ?? [];
  const at = item && !chosen.item ? same(list, item) : -1;
  state.chosen = at >= 0 ? { kind: chosen.kind, at } : item?.path ? partNamed(shot, item.path) : null;
  if (old.now && shot.now) {
    state.index = Math.round(frameOf(state.index) - shot.now.first);
    const name = old.now.figures[state.around]?.path, around = shot.now.figures.findIndex((f) => f.path === name);
    state.around = around >= 0 || state.around === everything ? around : leading(shot.now);
    if (!shot.camera) {
      state.sight = "hand";
    }
  }
  return Boolean(old.now);
};

const begin = (shot) => {
  state.chosen = null;
  state.index = 0;
  state.paths.clear();
  if (shot.now) {
    state.around = leading(shot.now);
    state.sight = shot.camera ? "camera" : "hand";
    state.hand = { ...asCamera(shot), zoom: 1, x: 0, y: 0 };
    shot.now.points.filter((p) => p.focus && [p.figure, everything].includes(state.around)).forEach((p) => state.paths.add(keyOf(shot.now, p)));
  }
};

const show = (form) => {
  const shot = unpack(form), old = state.shot;
  if (!(old?.path === shot.path && keep(old, shot))) {
    pause();
    begin(shot);
  }
  state.shot = shot;
  state.figures = [];
  $("name").textContent = document.title = shot.name;
  $("about").textContent = aboutOf(shot);
  $("picture").hidden = $("options").hidden = !shot.now;
  listNotes();
  listChanges();
  if (shot.now) {
    showMotion(shot);
  }
  showChosen();
};

const aboutOf = ({ now, change }) => {
  if (!now) {
    return "nothing that moves";
  }
  const cut = now.all > now.count ? ` of ${now.all}` : "";
  const range = `frames ${tidy(now.first)}-${tidy(now.first + now.count - 1)}${cut} at ${tidy(now.rate)} a second`;
  return change ? `${range} · against ${change.name}` : range;
};

const showMotion = (shot) => {
  $("slider").max = count() - 1;
  const cameraRadio = document.querySelector("[name=sight][value=camera]");
  cameraRadio.disabled = !shot.camera;
  cameraRadio.parentElement.hidden = !shot.camera;
  $("canvas").style.setProperty("--aspect", shot.camera?.aspect ?? 1);
  $("camera").textContent = shot.camera?.name ?? "";
  $("aboard-label").hidden = shot.now.carriers.length === 0;
  $("aboard-name").textContent = shot.now.carrierNames.join(", ");
  $("ghost-label").hidden = !shot.before;
  $("ghost-name").textContent = shot.before ? `earlier pass, ${shot.change.name}` : "";
  $("canvas").setAttribute("aria-label", `Stick drawing of ${shot.now.figures.filter((f) => !f.machine).map((f) => f.name).join(", ")}`);
  listPoints();
  listFigures();
  listWeights();
  strip();
  legend();
  setSight(state.sight);
  goTo(state.index);
};
