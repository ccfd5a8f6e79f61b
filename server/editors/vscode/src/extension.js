// The Curvelint extension: it starts the server and leaves the rest to it.
"use strict";

const vscode = require("vscode");
const { LanguageClient } = require("vscode-languageclient/node");
const { findProgram } = require("./program");
const { NoteCount } = require("./notecount");
const commands = require("./commands");

// What the server is asked about: scenes by their names, and configurations.
const patterns = "**/*.{usda,usd,bvh,gltf,dae,x3d,x3dv,wrl}";
const selector = [
  { scheme: "file", pattern: patterns },
  { scheme: "untitled", language: "usda" },
  { scheme: "untitled", language: "bvh" },
  { scheme: "file", pattern: "**/curvelint.toml" },
];

let client;

async function start(context, output) {
  const program = await findProgram(vscode.workspace.getConfiguration("curvelint").get("path"));
  if (!program) {
    const choice = await vscode.window.showErrorMessage(
      "Curvelint: the program curvelint was not found. Install it (go install) or set curvelint.path.",
      "Set the path");
    if (choice) {
      vscode.commands.executeCommand("workbench.action.openSettings", "curvelint.path");
    }
    return;
  }
  const args = ["serve"];
  if (vscode.workspace.getConfiguration("curvelint").get("trace")) {
    args.push("--trace");
  }
  client = new LanguageClient("curvelint", "Curvelint",
    { command: program, args },
    {
      documentSelector: selector,
      outputChannel: output,
      initializationOptions: { hoverImages: commands.isDark() ? "dark" : "light" },
      synchronize: { configurationSection: "curvelint" },
      middleware: { executeCommand: commands.intercept },
      markdown: { isTrusted: false, supportHtml: false },
    });
  await client.start();
}

async function stop() {
  const old = client;
  client = undefined;
  if (old) {
    await old.stop();
  }
}

exports.activate = async function activate(context) {
  const output = vscode.window.createOutputChannel("Curvelint", { log: true });
  const count = new NoteCount();
  context.subscriptions.push(output, count);
  commands.register(context, {
    client: () => client,
    restart: async () => {
      await stop();
      await start(context, output);
    },
  });
  let dark = commands.isDark();
  context.subscriptions.push(vscode.window.onDidChangeActiveColorTheme(() => {
    if (dark !== commands.isDark()) {
      dark = commands.isDark();
      vscode.commands.executeCommand("curvelint.restart"); // pictures are for one background
    }
  }));
  context.subscriptions.push(vscode.workspace.onDidChangeConfiguration((event) => {
    if (event.affectsConfiguration("curvelint.path") || event.affectsConfiguration("curvelint.trace")) {
      vscode.commands.executeCommand("curvelint.restart");
    }
  }));
  await start(context, output);
};

exports.deactivate = stop;
