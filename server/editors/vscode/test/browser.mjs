// Opens a demo shot in a real VS Code in a browser with the extension
// installed, and writes what a person sees there to the file $RESULT.
//
// Environment: SHOT the scene, VSIX the extension, CURVELINT the program,
// TOOLS the folder with this folder's packages installed, RESULT, SHOTS the
// folder for pictures.

import { spawn, spawnSync } from "node:child_process";
import fs from "node:fs";
import net from "node:net";
import os from "node:os";
import path from "node:path";
import { createRequire } from "node:module";

const { SHOT, VSIX, CURVELINT, TOOLS, RESULT, SHOTS } = process.env;
const require = createRequire(path.join(TOOLS, "package.json"));
const { chromium } = require("playwright-core");
const entry = path.join(TOOLS, "node_modules/code-server/out/node/entry.js");
const node = path.join(TOOLS, "node_modules/node/bin/node"); // the version that code-server wants
const folder = path.dirname(SHOT);
const scratch = fs.mkdtempSync(path.join(os.tmpdir(), "curvelint-vscode-"));
const env = { ...process.env, HOME: scratch, XDG_CONFIG_HOME: scratch, XDG_DATA_HOME: scratch };
const result = {};

function freePort() {
  return new Promise((resolve) => {
    const s = net.createServer().listen(0, "127.0.0.1", () => {
      const { port } = s.address();
      s.close(() => resolve(port));
    });
  });
}

// until waits until look gives something.
async function until(what, look, seconds = 60) {
  const end = Date.now() + 1000 * seconds;
  for (;;) {
    const found = await look().catch(() => undefined);
    if (found) {
      return found;
    }
    if (Date.now() > end) {
      throw new Error(`waited in vain for ${what}`);
    }
    await new Promise((resolve) => setTimeout(resolve, 200));
  }
}

const dirs = ["--user-data-dir", path.join(scratch, "data"), "--extensions-dir", path.join(scratch, "ext")];

function write(kind, settings) {
  const folder = path.join(scratch, "data", kind);
  fs.mkdirSync(folder, { recursive: true });
  fs.writeFileSync(path.join(folder, "settings.json"), JSON.stringify(settings));
}

function install() {
  // The path of a program is a setting of the machine that VS Code runs on.
  write("Machine", { "curvelint.path": CURVELINT });
  write("User", {
    "workbench.startupEditor": "none",
    "workbench.secondarySideBar.defaultVisibility": "hidden",
    "workbench.colorTheme": "Default Dark Modern",
    "chat.disableAIFeatures": true,
    "telemetry.telemetryLevel": "off",
    "editor.minimap.enabled": false,
    "editor.fontSize": 13,
    "window.commandCenter": false,
    "security.workspace.trust.enabled": false,
  });
  const done = spawnSync(node, [entry, ...dirs, "--install-extension", VSIX], { encoding: "utf8", env });
  if (done.status !== 0) {
    throw new Error(`installing the extension: ${(done.stdout + done.stderr).slice(-2000)}`);
  }
}

async function picture(page, name) {
  if (SHOTS) {
    await page.screenshot({ path: path.join(SHOTS, `${name}.png`) });
  }
}

async function palette(page, command) {
  await page.keyboard.press("F1");
  await page.locator(".quick-input-widget input").first().waitFor();
  await page.keyboard.type(command);
  await page.waitForTimeout(400);
  await page.keyboard.press("Enter");
}

// problems returns the rows of the list of problems.
async function problems(page) {
  return page.locator(".markers-panel .monaco-list-row").allInnerTexts();
}

async function goTo(page, line, column) {
  await page.keyboard.press("Control+G");
  await page.locator(".quick-input-widget input").first().waitFor();
  await page.keyboard.type(`${line}:${column}`);
  await page.keyboard.press("Enter");
  await page.waitForTimeout(500);
}

async function open(page, name) {
  await page.keyboard.press("Control+P");
  await page.locator(".quick-input-widget input").first().waitFor();
  await page.keyboard.type(name);
  await page.locator(".quick-input-list .monaco-list-row", { hasText: name }).first().waitFor();
  await page.keyboard.press("Enter");
  await page.locator(`.tab.active[aria-label*="${name}"]`).first().waitFor();
  await page.locator(".monaco-editor .view-line").first().waitFor();
}

// compare opens the next pass, reads its lens and goes from there to the whole
// comparison.
async function compare(page) {
  await open(page, "deckhand_polish.usda");
  const lens = page.locator(".codelens-decoration a", { hasText: "since deckhand_spline" }).first();
  result.since = await until("a lens on the earlier pass", () => lens.innerText());
  await picture(page, "since");
  await lens.click();
  result.changed = await until("the comparison", async () => {
    const lines = (await page.locator(".view-line").allInnerTexts()).map((l) => l.replaceAll("\u00a0", " "));
    return lines.some((l) => l.startsWith("notes: ")) && lines;
  });
  await picture(page, "comparison");
}

// chart shows the spacing of the move at the cursor.
async function chart(page) {
  await palette(page, "Curvelint: Show a Chart");
  await page.locator(".quick-input-list .monaco-list-row", { hasText: "Spacing" }).first().waitFor();
  await page.keyboard.press("Enter");
  result.chart = await until("the chart", async () => {
    for (const frame of page.frames().filter((f) => f !== page.mainFrame())) {
      const n = await frame.locator("img[src^='data:image/svg']").count().catch(() => 0);
      if (n > 0) {
        return n;
      }
    }
    return 0;
  });
  await page.waitForTimeout(500);
  await picture(page, "chart");
  await page.locator(".tab", { hasText: "Preview spacing" }).click({ button: "middle" }); // closes it
  await page.locator(".monaco-editor .view-lines").first().click();
}

async function session(page) {
  await page.locator(".monaco-workbench").waitFor({ timeout: 90000 });
  await page.waitForTimeout(1500);
  await open(page, path.basename(SHOT));
  await page.keyboard.press("Control+Shift+M");
  await until("notes in the list of problems", async () =>
    (await problems(page)).some((row) => row.includes("turns evenly")));
  result.problems = await problems(page);
  result.status = await until("the count in the status bar", async () => {
    const text = await page.locator("#curvelint\\.curvelint\\.notes, [id*='curvelint.notes']").first().innerText();
    return /[1-9]\d* notes?/.test(text) && text; // "0 notes" until the shot is judged
  });
  await picture(page, "problems");

  // From the list to the line.
  const row = page.locator(".markers-panel .monaco-list-row", { hasText: "turns evenly" }).first();
  await row.dblclick();
  await page.waitForTimeout(800);
  await page.keyboard.press("Control+J"); // room for the editor
  await page.waitForTimeout(500);
  result.hints = await until("inlay hints", async () => {
    const all = await page.locator(".view-line [class*='dyn-rule']").allInnerTexts();
    const mine = all.filter((t) => /[\u2581-\u2588]/.test(t));
    return mine.length > 3 && mine;
  });
  await picture(page, "hints");

  await page.keyboard.press("Control+K");
  await page.keyboard.press("Control+I");
  const hover = page.locator(".monaco-hover:not(.hidden) .hover-contents").first();
  await hover.waitFor();
  result.hover = await until("the hover", async () => {
    const text = (await page.locator(".monaco-hover:not(.hidden)").first().innerText());
    return text.includes("frame 1036") && text;
  });
  result.pictures = await page.locator(".monaco-hover:not(.hidden) img").count();
  await picture(page, "hover");
  await page.keyboard.press("Escape");

  await chart(page);
  result.lens = await until("a lens", async () => {
    const all = await page.locator(".codelens-decoration").allInnerTexts();
    return all.find((t) => t.includes("biggest move"));
  }, 20).catch(() => undefined);
  if (!result.lens) { // none in sight yet: the head of the part is above
    await palette(page, "Go to Symbol in Editor");
    await page.keyboard.type("head");
    await page.waitForTimeout(800);
    await page.keyboard.press("Enter");
    result.lens = await until("a lens", async () => {
      const all = await page.locator(".codelens-decoration").allInnerTexts();
      return all.find((t) => t.includes("biggest move"));
    });
    await page.keyboard.press("Alt+ArrowLeft");
  }
  await picture(page, "lens");

  // Ease this run, and see the note go.
  await page.keyboard.press("Control+J");
  await row.dblclick();
  await page.waitForTimeout(800);
  await page.keyboard.press("Control+.");
  const action = page.locator(".action-widget .monaco-list-row", { hasText: "Ease this run" }).first();
  await action.waitFor();
  result.actions = await page.locator(".action-widget .monaco-list-row").allInnerTexts();
  await picture(page, "actions");
  await action.click();
  await until("the note to go", async () => {
    const rows = await problems(page);
    return rows.length > 0 && !rows.some((r) => r.includes("turns evenly"));
  });
  result.after = await problems(page);
  await picture(page, "after");
  await page.keyboard.press("Control+S");
  await page.waitForTimeout(1000);
  result.saved = fs.readFileSync(SHOT, "utf8");
  await page.keyboard.press("Control+J");
  await compare(page);
}

let server;
let browser;
try {
  install();
  const port = await freePort();
  server = spawn(node, [entry, "--auth", "none", "--bind-addr", `127.0.0.1:${port}`, ...dirs,
    "--disable-telemetry", "--disable-update-check", "--disable-workspace-trust", folder],
  { stdio: "ignore", env });
  await until("code-server", () => fetch(`http://127.0.0.1:${port}/healthz`).then((r) => r.ok));
  browser = await chromium.launch({
    executablePath: process.env.CHROMIUM || "/usr/bin/chromium",
    args: ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
      "--disable-component-update", "--disable-sync"],
  });
  const page = await browser.newPage({ viewport: { width: 1400, height: 900 } });
  try {
    await page.goto(`http://127.0.0.1:${port}/?folder=${folder}`);
    await session(page);
  } catch (error) {
    await picture(page, "failed");
    throw error;
  }
} catch (error) {
  result.error = String(error.stack || error);
} finally {
  fs.writeFileSync(RESULT, JSON.stringify(result, null, 1));
  await browser?.close();
  server?.kill();
  fs.rmSync(scratch, { recursive: true, force: true });
}
