// Where the page begins: with the shots that stand in it, or that come from the
// server, at the place that the address names.

const elements = [...document.querySelectorAll("script.shot")];
const formOf = (at) => JSON.parse(elements[at].textContent);

// labelOf is what the list calls a shot: read from the first fields alone, since
// hundreds of megabytes may follow.
const labelOf = (element) => {
  const found = element.textContent.match(/^\{"name":"(?:[^"\\]|\\.)*","path":("(?:[^"\\]|\\.)*"),"total":(\d+)/);
  return found ? `${JSON.parse(found[1])} (${found[2]})` : "?";
};

// chooser lets the reader choose among several shots; only the one shown is
// unpacked.
const chooser = () => {
  if (elements.length < 2) {
    return;
  }
  $("chooser").hidden = false;
  $("shots").replaceChildren(...elements.map((element, at) => make("option", { value: at, textContent: labelOf(element) })));
  $("shots").onchange = () => show(formOf(Number($("shots").value)));
};

// askedFor reads what stands after # of the address. Editors that open an address
// may write = and & as escapes.
const askedFor = (hash) => {
  try {
    return new URLSearchParams(hash.includes("=") ? hash : decodeURIComponent(hash));
  } catch {
    return new URLSearchParams(); // % without two digits
  }
};

// place goes to what the address names after #: frame=N, check=ID, part=PATH.
const place = () => {
  const asked = askedFor(location.hash.slice(1)), frame = Number.parseFloat(asked.get("frame"));
  if (!state.shot || !location.hash) {
    return;
  }
  const fits = (n) => (!asked.has("check") || n.check === asked.get("check")) && (!asked.has("part") || n.part === asked.get("part")) &&
    (Number.isNaN(frame) || n.frames && n.frames[0] <= frame && frame <= n.frames[1]);
  const at = asked.has("check") || asked.has("part") ? state.shot.notes.findIndex(fits) : -1;
  if (at >= 0) {
    choose({ kind: "note", at });
  } else if (asked.has("part")) {
    choose(partNamed(state.shot, asked.get("part")));
  }
  if (count() && !Number.isNaN(frame)) {
    goTo(frame - state.shot.now.first);
    say(`frame ${tidy(frameOf(state.index))}`);
  }
};

const fault = (text) => {
  $("fault").textContent = text;
  $("fault").hidden = !text;
};

// follow shows each new state of the file that the server tells of.
const follow = (revision) => {
  const events = new EventSource("events");
  let lost = false;
  events.onmessage = async (event) => {
    const now = JSON.parse(event.data);
    if (now.revision !== revision) {
      const answer = await fetch("shot");
      show(await answer.json());
      revision = answer.headers.get("Revision");
      say("the file has changed");
    }
    lost = false;
    fault(now.fault);
  };
  events.onerror = () => {
    if (!lost) {
      lost = true;
      fault("curvelint no longer serves this page; it stays as it is.");
    }
  };
};

controls();
pointers($("canvas"));
document.addEventListener("keydown", onKey);
window.addEventListener("hashchange", place);
if (elements.length > 0) {
  chooser();
  show(formOf(0));
  place();
}
if ("revision" in document.documentElement.dataset) {
  follow(document.documentElement.dataset.revision);
}
