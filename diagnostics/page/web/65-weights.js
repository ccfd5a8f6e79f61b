// The shape weights, as curves below the frame bar and in line with it.

// curve is the points of a curve over the frames. Of a long shot each stretch gives
// its lowest and its highest value, so that no blink is lost.
const curve = (values, place, height) => {
  const every = Math.max(1, Math.ceil(values.length / 1000)), points = [];
  for (let i = 0; i < values.length; i += every) {
    let low = i, high = i;
    for (let k = i + 1; k < Math.min(i + every, values.length); k++) {
      low = values[k] < values[low] ? k : low;
      high = values[k] > values[high] ? k : high;
    }
    for (const k of low === high ? [low] : [Math.min(low, high), Math.max(low, high)]) {
      points.push(`${place(k).toFixed(2)},${height(values[k]).toFixed(1)}`);
    }
  }
  return points.join(" ");
};

// valuesOf are the values of a weight at each frame.
const valuesOf = (weight) => Array.from(new Uint8Array(bytesOf(weight.values)), (v) => weight.low + (weight.high - weight.low) * v / 255);

// rows are those shown: the values of each and where its number stands.
let rows = [];

const weightRow = (weight, was) => {
  const { before } = state.shot, values = valuesOf(weight), earlier = was ? valuesOf(was) : [];
  const low = Math.min(weight.low, was?.low ?? weight.low), high = Math.max(weight.high, was?.high ?? weight.high);
  const height = (v) => 100 * (high - v) / (high - low), number = make("b"), row = make("p");
  const lines = earlier.length > 0 ? `<polyline class="before" points="${curve(earlier, (k) => (k - before.against[0]) / before.against[1], height)}"/>` : "";
  row.innerHTML = `<svg aria-hidden="true" preserveAspectRatio="none" viewBox="0 0 ${Math.max(values.length - 1, 1)} 100">${lines}<polyline points="${curve(values, (k) => k, height)}"/></svg>`;
  row.append(make("span", { textContent: `${weight.name.replaceAll("_", " ")} ` }), number);
  rows.push({ values, number });
  return row;
};

const listWeights = () => {
  const { now, before } = state.shot, { weights, otherWeights } = now;
  rows = [];
  $("weights").hidden = weights.length === 0;
  $("weight-rows").replaceChildren(...weights.map((weight) => weightRow(weight, before?.weights.find((w) => w.name === weight.name))),
    make("i", { id: "weight-now" }));
  $("weights-title").textContent = otherWeights > 0 ? `Shape weights, the ${weights.length} that change most of ${weights.length + otherWeights}` : "Shape weights";
};

// showWeights shows what the weights are in the frame that is shown.
const showWeights = () => {
  rows.forEach(({ values, number }) => { number.textContent = values[state.index].toFixed(2); });
  if (rows.length > 0) {
    $("weight-now").style.left = `${100 * state.index / Math.max(count() - 1, 1)}%`;
    document.documentElement.dataset.weights = rows.map(({ number }) => number.textContent).join(" ");
  }
};

// pickFrame goes to the frame below the pointer.
const pickFrame = (event) => {
  const box = $("weight-rows").getBoundingClientRect();
  pause();
  goTo((event.clientX - box.left) / box.width * (count() - 1));
};
