// The commands that need the editor: the server cannot ask for a frame or put
// something on the clipboard.
"use strict";

const vscode = require("vscode");

// intercept does what the editor does better than the server.
async function intercept(command, args, next) {
  if (command === "curvelint.copyNumbers") {
    await vscode.env.clipboard.writeText(args[0].text);
    vscode.window.setStatusBarMessage("Curvelint: the numbers are on the clipboard", 4000);
    return;
  }
  if (command === "curvelint.explain") {
    const { markdown } = await next(command, args);
    await show(`${args[0].check}.md`, markdown);
    return;
  }
  return next(command, args);
}

const documents = new Map(); // texts shown under the scheme curvelint

async function show(name, text) {
  const uri = vscode.Uri.from({ scheme: "curvelint", path: `/explain/${name}` });
  documents.set(uri.path, text);
  await vscode.commands.executeCommand("markdown.showPreview", uri);
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

  add("curvelint.askExplain", async () => {
    const editor = vscode.window.activeTextEditor;
    const codes = new Set((editor ? vscode.languages.getDiagnostics(editor.document.uri) : [])
      .filter((d) => d.source === "curvelint")
      .map((d) => (typeof d.code === "object" ? d.code.value : d.code)));
    const check = codes.size > 0
      ? await vscode.window.showQuickPick([...codes], { placeHolder: "Which check?" })
      : await vscode.window.showInputBox({ prompt: "Which check?" });
    if (check) {
      const answer = await ask("curvelint.explain", { check });
      await show(`${check}.md`, answer.markdown);
    }
  });

  // The links of notes lead to documents that the server writes.
  context.subscriptions.push(vscode.workspace.registerTextDocumentContentProvider("curvelint", {
    async provideTextDocumentContent(uri) {
      if (!documents.has(uri.path)) {
        const check = uri.path.replace(/^.*\//, "").replace(/\.md$/, "");
        const answer = await ask("curvelint.explain", { check });
        documents.set(uri.path, answer ? answer.markdown : "");
      }
      return documents.get(uri.path);
    },
  }));
}

module.exports = { intercept, register };
