// Looks at the page in Chromium: plays, steps, chooses, turns, changes files under
// it. Writes what it has measured to $RESULT; a failure ends it with a message.
//
// Environment: CHROMIUM the browser, TOOLS the folder with this folder's packages
// installed, LIVE the address of a served page of $FOLDER/shot.usda, $FOLDER also
// with spline.usda and polish.usda, LONG a page of 64 joints and 1,000 frames, TWO
// a page of two shots, FACE a page of a face with shape weights, NOTES, HEAD, RESULT, SHOTS a folder for pictures or "".

import assert from "node:assert/strict";
import fs from "node:fs";
import path from "node:path";
import { createRequire } from "node:module";
import { pathToFileURL } from "node:url";
import { contrasts } from "./contrast.mjs";

const { CHROMIUM, TOOLS, LIVE, FOLDER, LONG, TWO, FACE, RESULT, SHOTS } = process.env;
const head = JSON.parse(process.env.HEAD); // where the head is in frame 1036, in picture heights from the middle
const notes = JSON.parse(process.env.NOTES); // how many shot.usda has, and polish.usda
const require = createRequire(path.join(TOOLS, "package.json"));
const { chromium } = require("playwright-core");
const axe = fs.readFileSync(require.resolve("axe-core/axe.min.js"), "utf8");
const browser = await chromium.launch({
  executablePath: CHROMIUM,
  args: ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
    "--disable-component-update", "--disable-sync"],
});
const result = { requests: 0 };

// look opens a page, hands it to a test, and fails on anything that the page
// complains of or asks for elsewhere.
async function look(url, options, test) {
  const context = await browser.newContext({ viewport: { width: 1280, height: 800 }, ...options });
  const page = await context.newPage(), complaints = [];
  page.on("console", (m) => m.type() === "error" && complaints.push(m.text()));
  page.on("pageerror", (e) => complaints.push(e.stack));
  page.on("request", (r) => {
    result.requests++;
    if (!r.url().startsWith(LIVE) && !r.url().startsWith("data:") && !r.url().startsWith("file:")) {
      complaints.push(`asks for ${r.url()}`);
    }
  });
  await page.goto(url);
  try {
    await test(page);
    assert.deepEqual(complaints, []);
  } finally {
    await context.close();
  }
}

const frame = async (page) => Number(await page.evaluate(() => document.documentElement.dataset.frame));
const marked = (page) => page.evaluate(() => new Promise((resolve) =>
  requestAnimationFrame(() => requestAnimationFrame(() => resolve(document.getElementById("canvas").dataset.marked ?? "")))));
const noteCount = (page) => page.locator("#notes button").count();

async function press(page, keys, want) {
  for (const key of keys.split(" ")) {
    await page.keyboard.press(key === "Space" ? " " : key);
  }
  assert.equal(await frame(page), want, `frame after ${keys}`);
}

// inked counts the pixels that have the colour of what is chosen.
const inked = (page) => page.evaluate(() => {
  const canvas = document.getElementById("canvas"), data = canvas.getContext("2d").getImageData(0, 0, canvas.width, canvas.height).data;
  const mark = getComputedStyle(document.documentElement).getPropertyValue("--mark").trim();
  const [r, g, b] = [1, 3, 5].map((i) => Number.parseInt(mark.slice(i, i + 2), 16));
  let n = 0;
  for (let i = 0; i < data.length; i += 4) {
    n += Math.abs(data[i] - r) + Math.abs(data[i + 1] - g) + Math.abs(data[i + 2] - b) < 12 ? 1 : 0;
  }
  return n;
});

// nearHead tells whether the ring that marks a point is where the program says that
// the camera sees the head: its rim has the colour of ink all around.
const nearHead = (page) => page.evaluate(({ x, y, aspect }) => {
  const canvas = document.getElementById("canvas"), wide = canvas.clientWidth, high = canvas.clientHeight;
  const picture = Math.min(high - 28, (wide - 28) / aspect), sharp = canvas.width / wide;
  const at = [wide / 2 + picture * x, high / 2 - picture * y];
  const dark = (px, py) => canvas.getContext("2d").getImageData(px * sharp, py * sharp, 1, 1).data.slice(0, 3).every((v) => v < 90);
  return [0, 1, 2, 3, 4, 5, 6, 7].every((k) => dark(at[0] + 5 * Math.cos(k * Math.PI / 4), at[1] + 5 * Math.sin(k * Math.PI / 4)));
}, head);

const picture = (page) => page.evaluate(() => new Promise((resolve) =>
  requestAnimationFrame(() => requestAnimationFrame(() => resolve(document.getElementById("canvas").toDataURL())))));

async function until(what, test) {
  for (const end = Date.now() + 20_000; Date.now() < end;) {
    if (await test()) {
      return;
    }
    await new Promise((resolve) => setTimeout(resolve, 50));
  }
  assert.fail(`waited in vain: ${what}`);
}

// Stepping on ones and twos, to the ends, with keys and buttons.
async function steps(page) {
  assert.equal(await frame(page), 1001);
  await press(page, "ArrowRight", 1002);
  await press(page, "Shift+ArrowRight Shift+ArrowRight Shift+ArrowLeft", 1004);
  await press(page, "t", 1003);
  await press(page, "ArrowRight", 1005);
  await press(page, "ArrowLeft ArrowLeft", 1001);
  await press(page, "End", 1095);
  await press(page, "t ArrowRight", 1096);
  await press(page, "ArrowRight", 1096);
  await press(page, "Home", 1001);
  await page.getByRole("button", { name: "Step forward" }).click();
  await page.getByRole("button", { name: "Step forward" }).click();
  await page.getByRole("button", { name: "Step back" }).click();
  assert.equal(await frame(page), 1002);
  assert.equal(await page.getByRole("status").innerText(), "frame 1002");
  const slider = page.getByRole("slider", { name: "Frame" });
  assert.equal(await slider.getAttribute("aria-valuetext"), "frame 1002");
  await slider.fill("40");
  assert.equal(await frame(page), 1041);
}

async function plays(page) {
  await press(page, "Home", 1001);
  await page.keyboard.press(" ");
  await page.getByRole("button", { name: "Pause" }).waitFor();
  await until("playing goes on", async () => await frame(page) > 1006);
  await page.getByRole("button", { name: "Pause" }).click();
  const still = await frame(page);
  await page.waitForTimeout(150);
  assert.equal(await frame(page), still, "paused");
  // On twos only every second frame is shown.
  await page.evaluate(() => {
    globalThis.seen = new Set();
    new MutationObserver(() => seen.add(document.documentElement.dataset.frame)).observe(document.documentElement, { attributes: true });
  });
  await page.keyboard.press("t");
  await page.locator("#canvas").focus();
  await page.keyboard.press(" ");
  await until("playing on twos", () => page.evaluate(() => seen.size > 6));
  await page.keyboard.press(" ");
  assert.deepEqual(await page.evaluate(() => [...seen].filter((f) => f % 2 === 0)), []);
  await page.keyboard.press("t");
}

// Choosing a note goes to its frame, selects its part, marks its path.
async function chooses(page) {
  assert.equal(await noteCount(page), notes.spline);
  await page.keyboard.press("Escape");
  assert.equal(await marked(page), "");
  const before = await inked(page);
  await page.getByRole("button", { name: "head turns evenly" }).click();
  assert.equal(await frame(page), 1036);
  assert.equal(await marked(page), "/Tug/hips/spine/chest/neck/head 1036-1046");
  assert.equal(await page.getByRole("status").innerText(), "frame 1036, head, path of head marked");
  assert.match(await page.locator("#notes [aria-current=true]").innerText(), /head turns evenly/);
  const after = await inked(page);
  assert.ok(await nearHead(page), "the circle about the head's point is where the camera sees it");
  assert.ok(after > before + 200, `the path and the part are in the colour of what is chosen: ${before} pixels, then ${after}`);
  const at = (await page.locator("#notes button").allInnerTexts()).findIndex((text) => text.includes("head turns evenly"));
  const current = () => page.evaluate(() => [...document.querySelectorAll("#notes button")].findIndex((b) => b.ariaCurrent === "true"));
  for (const [key, want] of [["n", at + 1], ["p", at], ["p", at - 1]]) {
    await page.keyboard.press(key);
    assert.equal(await current(), want);
  }
  await page.getByRole("button", { name: "the whole figure is dead still" }).click();
  assert.equal(await frame(page), 1047);
  assert.equal(await marked(page), "/Tug 1047-1058");
  await page.getByRole("button", { name: "left hand moves in a straight line" }).click();
  assert.equal(await marked(page), "/Tug/hips/spine/chest/clav_l/upperarm_l/forearm_l/hand_l/hand_tip_l 1002-1011");
  await page.locator("#strip i").last().click();
  assert.equal(await current(), await page.locator("#strip i").last().getAttribute("data-note").then(Number));
}

// By hand: keys, pointer and wheel turn it; the camera comes back.
async function turns(page) {
  assert.ok(await page.getByRole("radio", { name: "through cam" }).isChecked());
  const pictures = [await picture(page)];
  const fresh = async (what) => {
    const now = await picture(page);
    assert.ok(!pictures.includes(now), `${what} changes the picture`);
    pictures.push(now);
  };
  await page.keyboard.press("c");
  await fresh("turning by hand");
  for (const key of ["d", "w", "+", "Shift+a"]) {
    await page.keyboard.press(key);
    await fresh(key);
  }
  const box = await page.locator("#canvas").boundingBox();
  await page.mouse.move(box.x + 300, box.y + 200);
  await page.mouse.down();
  await page.mouse.move(box.x + 380, box.y + 180, { steps: 3 });
  await page.mouse.up();
  await fresh("dragging");
  await page.mouse.wheel(0, 240);
  await fresh("the wheel");
  await page.getByLabel("left hand", { exact: false }).first().check();
  await fresh("a path");
  await page.getByLabel("of the whole shot").check();
  await fresh("the path of the whole shot");
  await page.getByLabel("seen from deck").uncheck();
  await fresh("the path in the world");
  await page.getByLabel("seen from deck").check();
  assert.equal(await picture(page), pictures[pictures.length - 2], "seen from the deck as before");
  await page.getByLabel("of the whole shot").uncheck();
  await page.keyboard.press("0");
  await page.keyboard.press("c");
  await page.getByLabel("left hand", { exact: false }).first().uncheck();
  assert.equal(await picture(page), pictures[0], "through the camera as before");
  // A reader who wants no single keys has none.
  await page.locator("#keys summary").click();
  await page.getByLabel("are keys").uncheck();
  await page.keyboard.press("c");
  assert.equal(await picture(page), pictures[0]);
  await page.getByLabel("are keys").check();
}

// What a screen reader finds, and where the keyboard goes.
async function accessible(page) {
  const nameless = await page.evaluate(() => [...document.querySelectorAll("button, input, select, canvas")]
    .filter((e) => e.checkVisibility() && !e.ariaLabel && !e.labels?.length && !e.textContent.trim()).map((e) => e.outerHTML));
  assert.deepEqual(nameless, []);
  assert.equal(await page.getByRole("img", { name: "Stick drawing of Tug, Gull" }).count(), 1);
  assert.equal(await page.locator("ol#notes > li > button").count(), notes.spline);
  const headings = await page.getByRole("heading").allInnerTexts();
  assert.deepEqual(headings, ["shot.usda", `${notes.spline} notes`]);
  await page.locator("h1").click(); // where tabbing begins
  const order = [];
  for (let i = 0; i < 8; i++) {
    await page.keyboard.press("Tab");
    order.push(await page.evaluate(() => {
      const e = document.activeElement, outline = getComputedStyle(e);
      return `${e.id || e.parentElement.parentElement.id} ${outline.outlineStyle} ${outline.outlineWidth}`;
    }));
  }
  const ring = "solid 3px";
  assert.deepEqual(order, ["canvas", "slider", "start", "back", "play", "forth", "finish", "twos"].map((id) => `${id} ${ring}`));
}

// A re-export is followed, without losing the frame, the view or the note; a half-
// written one is told of, and the last good state stays.
async function follows(page) {
  const write = (text) => fs.writeFileSync(path.join(FOLDER, "shot.usda"), text);
  const spline = fs.readFileSync(path.join(FOLDER, "spline.usda"), "utf8"), polish = fs.readFileSync(path.join(FOLDER, "polish.usda"), "utf8");
  await page.getByRole("button", { name: "left toe slips" }).click();
  await page.keyboard.press("c");
  await page.keyboard.press("d");
  await press(page, "ArrowRight ArrowRight", 1077);
  const seen = await picture(page);

  write(spline.slice(0, spline.length / 2));
  await until("the fault is told", () => page.locator("#fault").isVisible());
  assert.match(await page.locator("#fault").innerText(), /shot\.usda.*shown is the last good state/);
  assert.equal(await noteCount(page), notes.spline);
  assert.equal(await picture(page), seen, "the last good state stays");

  write(spline);
  await until("the fault is over", () => page.locator("#fault").isHidden());
  assert.equal(await frame(page), 1077);
  assert.match(await page.locator("#notes [aria-current=true]").innerText(), /left toe slips/);
  assert.equal(await picture(page), seen, "frame, view and note are as they were");

  write(polish);
  await until("the polish is shown", async () => await noteCount(page) === notes.polish);
  assert.equal(await frame(page), 1077);
  assert.equal(await marked(page), "");
  assert.notEqual(await picture(page), seen);

  fs.appendFileSync(path.join(FOLDER, "curvelint.toml"), '\n[[pass]]\nname = "shot.usda"\nbefore = "spline.usda"\n');
  await until("the earlier pass is drawn", async () => await page.getByRole("heading", { name: "Since spline.usda" }).count() === 1);
  await page.locator("#change-list button").first().click();
  assert.notEqual(await marked(page), "");
  assert.match(await page.locator("#changes").innerText(), /timing unchanged[^]*Notes fixed: \d/);
}

// Light and dark, wide and narrow: nothing runs over the edge, text can be read.
async function fits(page, name) {
  await page.getByRole("button", { name: "head turns evenly" }).click();
  const over = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
  assert.ok(over <= 0, `${name}: ${over} pixels over the edge`);
  assert.deepEqual((await contrasts(page)).filter(({ ratio }) => ratio < 4.5), [], `${name}: contrast`);
  const small = await page.evaluate(() => [...document.querySelectorAll("button, select, label.tick")]
    .filter((e) => e.checkVisibility() && (e.offsetHeight < 24 || e.offsetWidth < 24)).map((e) => e.textContent));
  assert.deepEqual(small, [], `${name}: too small to hit (WCAG 2.2, 2.5.8: 24 by 24 pixels)`);
  // Rules for accessibility from outside: axe-core, from the npm registry.
  await page.evaluate(axe);
  const { violations, passes } = await page.evaluate(() => axe.run());
  assert.deepEqual(violations.map((v) => `${v.id}: ${v.nodes.map((n) => n.html).join(" ")}`), [], `${name}: axe-core`);
  assert.ok(passes.length > 20, `${name}: axe-core has looked at little`);
  if (SHOTS) {
    await page.screenshot({ path: path.join(SHOTS, `page-${name}.png`) });
  }
}

// The long shot: how soon it is drawn, and whether it plays at its rate.
async function long(page) {
  await until("it is drawn", () => page.evaluate(() => performance.getEntriesByName("drawn").length > 0));
  const opened = await page.evaluate(() => performance.getEntriesByName("drawn")[0].startTime);
  const { frames, shown, seconds } = await page.evaluate(() => new Promise((resolve) => {
    const seen = new Set(), root = document.documentElement.dataset;
    let first, began;
    document.getElementById("play").click();
    const look = (now) => {
      began ??= now;
      first ??= Number(root.frame);
      seen.add(root.frame);
      if (now - began < 3000) {
        return requestAnimationFrame(look);
      }
      resolve({ frames: Number(root.frame) - first, shown: seen.size, seconds: (now - began) / 1000 });
    };
    requestAnimationFrame(look);
  }));
  return { opened, rate: frames / seconds, shown: shown / (frames + 1) };
}

// The shape weights: a curve for each below the frame bar, its value in this frame,
// the earlier pass behind it; a click goes to a frame. On a phone they wait.
async function weighs(page, wide) {
  const details = page.locator("#weights");
  assert.equal(await details.evaluate((e) => e.open), wide);
  if (!wide) {
    await page.locator("#weights summary").click();
  }
  const rows = await page.locator("#weight-rows p").allInnerTexts();
  assert.ok(rows.length > 1 && rows.length <= 12 && rows.every((text) => /[a-z].*\s-?\d\.\d\d$/s.test(text)), rows.join());
  assert.equal(await page.locator("#weight-rows polyline:not(.before)").count(), rows.length);
  assert.equal(await page.locator("#weight-rows polyline.before").count(), rows.length);
  const numbers = () => page.evaluate(() => document.documentElement.dataset.weights);
  await page.keyboard.press("Home");
  const first = await frame(page), seen = new Set([await numbers()]), box = await page.locator("#weight-rows").boundingBox();
  for (const share of [0.25, 0.5, 0.75]) {
    await page.mouse.click(box.x + share * box.width, box.y + 10);
    const last = await page.evaluate(() => document.getElementById("slider").max);
    assert.ok(Math.abs(await frame(page) - first - share * last) <= 1, `a click at ${share} goes to frame ${await frame(page)}`);
    const line = await page.locator("#weight-now").boundingBox();
    assert.ok(Math.abs(line.x - box.x - share * box.width) < 5, "the line stands in the frame");
    seen.add(await numbers());
  }
  assert.ok(seen.size > 2, "the values follow the frame");
  const over = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
  assert.ok(over <= 0, `${over} pixels over the edge`);
  assert.deepEqual((await contrasts(page)).filter(({ ratio }) => ratio < 4.5), []);
  await page.evaluate(axe);
  const { violations } = await page.evaluate(() => axe.run());
  assert.deepEqual(violations.map((v) => `${v.id}: ${v.nodes.map((n) => n.html).join(" ")}`), []);
  if (SHOTS) {
    await page.screenshot({ path: path.join(SHOTS, `weights-${wide ? "wide" : "phone"}.png`) });
  }
}

try {
  for (const [width, height] of [[1280, 800], [390, 844]]) {
    for (const colorScheme of ["light", "dark"]) {
      await look(pathToFileURL(FACE).href, { offline: true, colorScheme, viewport: { width, height } }, (page) => weighs(page, width > 1000));
    }
  }
  await look(LIVE, {}, async (page) => {
    for (const test of [steps, plays, chooses, turns, accessible]) {
      await test(page);
    }
  });
  for (const colorScheme of ["light", "dark"]) {
    for (const width of [1280, 390]) {
      await look(LIVE, { colorScheme, viewport: { width, height: width === 390 ? 844 : 800 } }, (page) => fits(page, `${colorScheme}-${width}`));
    }
  }
  await look(`${LIVE}#frame=1040&check=even-spacing`, {}, async (page) => {
    assert.equal(await frame(page), 1040);
    assert.match(await marked(page), /head 1036-1046/);
    const noted = await inked(page);
    // As VS Code writes it when it opens an address.
    await page.evaluate(() => { location.hash = "#frame%3D1060%26part%3D%2FTug%2Fhips%2Fthigh_l%2Fshin_l"; });
    await until("the address is followed", async () => await frame(page) === 1060);
    assert.equal(await marked(page), "");
    assert.ok(await inked(page) > 100 && noted > 100, "the part is in the colour of what is chosen");
  });
  await look(LIVE, { reducedMotion: "reduce" }, async (page) => {
    await press(page, "End Shift+ArrowLeft ArrowLeft", 1093);
    await page.keyboard.press(" ");
    await until("it ends at the end", async () => await page.getByRole("button", { name: "Play" }).count() === 1);
    assert.equal(await frame(page), 1096);
  });
  await look(LIVE, {}, follows);
  await look(pathToFileURL(TWO).href, { offline: true }, async (page) => {
    const listed = await page.locator("#shots option").allInnerTexts();
    assert.ok(listed[0].endsWith(`polish.usda (${notes.polish})`) && listed[1].endsWith(`spline.usda (${notes.spline})`), listed.join());
    await page.locator("#shots").selectOption({ index: 1 });
    assert.equal(await page.getByRole("heading", { level: 1 }).innerText(), "spline.usda");
    assert.equal(await noteCount(page), notes.spline);
  });
  result.long = [];
  for (let i = 0; i < 3; i++) {
    await look(pathToFileURL(LONG).href, { offline: true }, async (page) => result.long.push(await long(page)));
  }
} catch (error) {
  result.error = error.stack;
}
await browser.close();
fs.writeFileSync(RESULT, JSON.stringify(result));
