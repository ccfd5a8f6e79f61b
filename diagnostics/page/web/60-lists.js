// The lists beside the picture, and what can be chosen below it.

// make makes an element with properties and children.
const make = (tag, properties = {}, ...children) => {
  const e = Object.assign(document.createElement(tag), properties);
  e.append(...children);
  return e;
};

const severityColour = (severity) => `var(--${severities.includes(severity) ? severity : "hint"})`;

const listNotes = () => {
  const { notes } = state.shot;
  $("notes-title").textContent = notes.length === 1 ? "1 note" : `${notes.length || "No"} notes`;
  $("notes").replaceChildren(...notes.map((note, at) => {
    const button = make("button", { type: "button", onclick: () => choose({ kind: "note", at }) },
      make("span", { className: "severity", textContent: note.severity }), ` ${note.message}`);
    if (note.new) {
      button.append(make("span", { className: "fresh", textContent: "new" }));
    }
    button.append(make("span", { className: "more", textContent: `${note.check} · ${note.place}` }));
    button.style.setProperty("--of", severityColour(note.severity));
    return make("li", {}, button);
  }));
};

// firstChanges are told at once; the others when asked for.
const firstChanges = 8;

// arrows draws what a measure changed to so that no line breaks within the arrow.
const arrows = (text) => text.replaceAll(" -> ", "\u00a0\u2192 ");

const listChanges = () => {
  const { change } = state.shot;
  $("changes").hidden = !change;
  if (!change) {
    return;
  }
  $("changes-title").textContent = `Since ${change.name}`;
  $("change-lines").replaceChildren(...change.lines.map((textContent) => make("li", { textContent })));
  const entries = change.items.map((item, at) => make("li", {}, make("button", { type: "button", onclick: () => choose({ kind: "change", at }) },
    make("span", { className: "frames", textContent: `${framesOf(item.frames)} ` }), arrows(item.text))));
  $("change-list").replaceChildren(...entries.slice(0, firstChanges));
  $("more").hidden = entries.length <= firstChanges;
  $("more").firstElementChild.textContent = `${entries.length - firstChanges} more`;
  $("more").lastElementChild.replaceChildren(...entries.slice(firstChanges));
  $("fixed").hidden = change.fixed.length === 0;
  $("fixed").firstElementChild.textContent = `Notes fixed: ${change.fixed.length}`;
  $("fixed").lastElementChild.replaceChildren(...change.fixed.map((textContent) => make("li", { textContent })));
};

// strip draws the notes over the slider, in lanes where they overlap.
const strip = () => {
  const lanes = [], last = Math.max(count() - 1, 1);
  $("strip").replaceChildren(...state.shot.notes.flatMap((note, at) => {
    const range = rangeOfItem(note);
    if (!range) {
      return [];
    }
    const free = lanes.findIndex((end) => end < range[0]), lane = free < 0 ? Math.min(lanes.length, 5) : free;
    lanes[lane] = range[1];
    const bar = make("i", { title: note.message, onclick: () => choose({ kind: "note", at }) });
    bar.dataset.note = at;
    bar.style.cssText = `left:${100 * range[0] / last}%;width:${100 * (range[1] - range[0]) / last}%;top:${7 * lane}px`;
    bar.style.setProperty("--of", severityColour(note.severity));
    return [bar];
  }));
  $("strip").style.height = `${7 * lanes.length}px`;
};

// intoSight scrolls the lists, where they scroll by themselves, to a button; the
// page stays, so that the picture does.
const intoSight = (button) => {
  const lists = $("lists"), box = lists.getBoundingClientRect(), at = button.getBoundingClientRect();
  if (lists.scrollHeight > lists.clientHeight) {
    lists.scrollTop += Math.min(at.top - box.top - 4, 0) || Math.max(at.bottom - box.bottom + 4, 0);
  }
};

// showChosen marks what is chosen in the lists, and brings it into sight.
const showChosen = () => {
  const { chosen } = state;
  for (const [kind, list] of [["note", "#notes button"], ["change", "#changes button"]]) {
    [...document.querySelectorAll(list)].forEach((button, at) => {
      const on = chosen?.kind === kind && chosen.at === at;
      on ? button.setAttribute("aria-current", "true") : button.removeAttribute("aria-current");
      if (on) {
        intoSight(button);
      }
    });
  }
  for (const bar of $("strip").children) {
    bar.classList.toggle("chosen", chosen?.kind === "note" && chosen.at === Number(bar.dataset.note));
  }
};

// nextNote chooses the note after or before the one chosen; with none chosen,
// the one nearest in the direction from the frame shown.
const nextNote = (way) => {
  const { notes, now } = state.shot, { chosen } = state, last = notes.length - 1;
  if (last < 0) {
    return say("no notes");
  }
  let at = chosen?.kind === "note" ? chosen.at + way : -1;
  if (chosen?.kind !== "note") {
    const here = now ? frameOf(state.index) : 0, starts = notes.map((n) => n.frames?.[0] ?? -Infinity);
    at = way > 0 ? starts.findIndex((f) => f >= here) : starts.findLastIndex((f) => f <= here);
  }
  choose({ kind: "note", at: at > last || at < 0 ? (way > 0 ? 0 : last) : at });
};

// pointBox is the box that shows the path of a point or hides it.
const pointBox = (now, point) => {
  const key = keyOf(now, point);
  const box = make("input", { type: "checkbox", checked: state.paths.has(key), onchange: () => {
    box.checked ? state.paths.add(key) : state.paths.delete(key);
    redraw();
  } });
  return make("label", { className: "tick" }, box, ` ${point.name.replaceAll("_", " ")}`);
};

// listPoints has a row for each figure, and one for all that are a point alone.
const listPoints = () => {
  const { now } = state.shot, lone = make("div"), rows = [];
  now.figures.forEach((figure, f) => {
    const points = now.points.filter((p) => p.figure === f);
    if (points.length < 2) {
      return lone.append(...points.map((point) => pointBox(now, point)));
    }
    const row = make("div", {}, make("b", { textContent: figure.name }), ...points.map((point) => pointBox(now, point)));
    row.setAttribute("role", "group");
    row.setAttribute("aria-label", figure.name);
    rows.push(row);
  });
  $("points").replaceChildren(...rows, lone);
};

const listFigures = () => {
  const { now } = state.shot, option = (value, textContent) => make("option", { value, textContent, selected: value === state.around });
  $("around").replaceChildren(option(everything, "everything"), ...now.figures.flatMap((figure, f) => figure.bones > 0 ? [option(f, figure.name)] : []));
};

const legend = () => {
  const { now, before, change } = state.shot, sides = ["left", "right"].filter((side) => now.parts.some((p) => p.side === side && p.stick));
  const entry = (text, colour, className = "") => {
    const e = make("span", { textContent: text, className });
    e.style.setProperty("--of", `var(--${colour})`);
    return e;
  };
  $("legend").replaceChildren(...sides.map((side) => entry(side, side)), entry(markStep() > 1 ? `path, a mark each ${markStep()} frames` : "path, a mark each frame", "now"), entry("chosen", "mark"),
    ...(before && state.ghost ? [entry(change.name, "before", "dashed")] : []),
    ...(now.leftOut ? [make("b", { textContent: `${now.leftOut} parts are not drawn: too many` })] : []));
};
