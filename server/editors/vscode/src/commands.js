// The commands that need the editor: the server cannot ask for a frame or put
// something on the clipboard.
"use strict";

const vscode = require("vscode");

// intercept does what the editor does better than the server.
async function intercept(command, args, next) {
  switch (command) {
    case "curvelint.copyNumbers":
      await vscode.env.clipboard.writeText(args[0].text);
      vscode.window.setStatusBarMessage("Curvelint: the numbers are on the clipboard", 4000);
      return undefined;
    case "curvelint.explain":
      return showDocument(args[0].check);
    case "curvelint.showChart":
      return showChart(await next(command, [{ ...args[0], dark: isDark(), quiet: true }]));
    case "curvelint.compare":
      return showComparison(await next(command, [{ ...args[0], quiet: true }]));
    default:
      return next(command, args);
  }
}

// isDark reports whether the editor has a dark background.
function isDark() {
  const { kind } = vscode.window.activeColorTheme;
  return kind === vscode.ColorThemeKind.Dark || kind === vscode.ColorThemeKind.HighContrast;
}

// Texts of the extension's own; those under the scheme curvelint are the server's.
const ownScheme = "curvelint-view";
const documents = new Map();
const changed = new vscode.EventEmitter(); // tells of texts shown again

function keep(name, text) {
  const uri = vscode.Uri.from({ scheme: ownScheme, path: `/${name}` });
  documents.set(uri.path, text);
  changed.fire(uri);
  return uri;
}

async function showDocument(check) {
  const uri = vscode.Uri.from({ scheme: "curvelint", path: `/explain/${check}.md` });
  await vscode.commands.executeCommand("markdown.showPreview", uri);
}

async function showChart({ title, svg }) {
  const address = `data:image/svg+xml;base64,${Buffer.from(svg).toString("base64")}`;
  const uri = keep(`${title}.md`, `![${title}](${address})\n`);
  await vscode.commands.executeCommand("markdown.showPreviewToSide", uri);
}

async function showComparison({ title, text }) {
  const uri = keep(`${title}.txt`, text);
  await vscode.window.showTextDocument(uri, { viewColumn: vscode.ViewColumn.Beside, preview: true });
}

function register(context, session) {
  const add = (id, run) => context.subscriptions.push(vscode.commands.registerCommand(id, run));
  const ask = (command, argument) => {
    const client = session.client();
    return client && client.sendRequest("workspace/executeCommand", { command, arguments: [argument] });
  };

  add("curvelint.restart", session.restart);
  add("curvelint.showNotes", () => vscode.commands.executeCommand("workbench.actions.view.problems"));

  add("curvelint.askFrame", async () => {
    const editor = vscode.window.activeTextEditor;
    if (!editor) {
      return;
    }
    const text = await vscode.window.showInputBox({
      prompt: "Go to frame",
      validateInput: (s) => (s.trim() === "" || isNaN(Number(s)) ? "expected a number such as 1040" : undefined),
    });
    if (text === undefined) {
      return;
    }
    try {
      const at = await ask("curvelint.goToFrame", { uri: editor.document.uri.toString(), frame: Number(text) });
      const range = session.client().protocol2CodeConverter.asRange(at.range);
      const uri = session.client().protocol2CodeConverter.asUri(at.uri);
      await vscode.window.showTextDocument(uri, { selection: range });
    } catch (error) {
      vscode.window.showWarningMessage(`Curvelint: ${error.message}`);
    }
  });

  // Commands on the shot in front go the way of those that the server offers, so
  // that they are shown in the same way.
  const run = async (command, argument) => {
    const editor = vscode.window.activeTextEditor;
    if (!editor) {
      return;
    }
    try {
      await intercept(command, [{ uri: editor.document.uri.toString(), ...argument(editor) }], (c, args) => ask(c, args[0]));
    } catch (error) {
      vscode.window.showWarningMessage(`Curvelint: ${error.message}`);
    }
  };
  add("curvelint.askCompare", () => run("curvelint.compare", () => ({})));
  add("curvelint.askPage", () => run("curvelint.openPage", () => ({})));
  add("curvelint.askChart", async () => {
    const chosen = await vscode.window.showQuickPick([
      { label: "Spacing", description: "a tick and a bar for each frame", kind: "spacing" },
      { label: "Arc", description: "the path of the point it carries", kind: "arc" },
      { label: "Timeline", description: "moves, holds and contacts of its figure", kind: "timeline" },
      { label: "Speeds", description: "who leads and who follows", kind: "speed" },
    ], { placeHolder: "Which chart?" });
    if (chosen) {
      await run("curvelint.showChart", (editor) => ({
        kind: chosen.kind,
        position: { line: editor.selection.active.line, character: editor.selection.active.character },
      }));
    }
  });

  add("curvelint.askExplain", async () => {
    const editor = vscode.window.activeTextEditor;
    const codes = new Set((editor ? vscode.languages.getDiagnostics(editor.document.uri) : [])
      .filter((d) => d.source === "curvelint")
      .map((d) => (typeof d.code === "object" ? d.code.value : d.code)));
    const check = codes.size > 0
      ? await vscode.window.showQuickPick([...codes], { placeHolder: "Which check?" })
      : await vscode.window.showInputBox({ prompt: "Which check?" });
    if (check) {
      await showDocument(check);
    }
  });

  context.subscriptions.push(vscode.workspace.registerTextDocumentContentProvider(ownScheme, {
    onDidChange: changed.event,
    provideTextDocumentContent: (uri) => documents.get(uri.path),
  }));
}

module.exports = { intercept, isDark, register };
