// The number of notes on the shot in front, in the status bar.
"use strict";

const vscode = require("vscode");

class NoteCount {
  constructor() {
    this.item = vscode.window.createStatusBarItem("curvelint.notes", vscode.StatusBarAlignment.Left, 10);
    this.item.name = "Curvelint";
    this.item.command = "curvelint.showNotes";
    this.hooks = [
      vscode.languages.onDidChangeDiagnostics(() => this.update()),
      vscode.window.onDidChangeActiveTextEditor(() => this.update()),
    ];
    this.update();
  }

  update() {
    const editor = vscode.window.activeTextEditor;
    const mine = editor
      ? vscode.languages.getDiagnostics(editor.document.uri).filter((d) => d.source === "curvelint")
      : [];
    if (!editor || (mine.length === 0 && !/\.(usda?|bvh|gltf|dae|x3dv?|wrl)$/.test(editor.document.fileName))) {
      this.item.hide();
      return;
    }
    const warnings = mine.filter((d) => d.severity <= vscode.DiagnosticSeverity.Warning).length;
    this.item.text = `$(pulse) ${mine.length} ${mine.length === 1 ? "note" : "notes"}`;
    this.item.tooltip = `${warnings} of them warnings: show them in the list of problems`;
    this.item.show();
  }

  dispose() {
    this.hooks.forEach((hook) => hook.dispose());
    this.item.dispose();
  }
}

module.exports = { NoteCount };
