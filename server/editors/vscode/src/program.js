// Where the program is.
"use strict";

const fs = require("fs");
const os = require("os");
const path = require("path");

// findProgram returns the path of curvelint: the one set, else the first on
// the PATH, else the one where go install puts programs; undefined if there is
// none.
async function findProgram(set) {
  const name = process.platform === "win32" ? "curvelint.exe" : "curvelint";
  if (set) {
    const file = set.replace(/^~(?=[/\\])/, os.homedir());
    return executable(file) ? file : undefined;
  }
  const folders = (process.env.PATH || "").split(path.delimiter);
  if (process.env.GOBIN) {
    folders.push(process.env.GOBIN);
  }
  folders.push(path.join(process.env.GOPATH || path.join(os.homedir(), "go"), "bin"));
  return folders.filter(Boolean).map((f) => path.join(f, name)).find(executable);
}

function executable(file) {
  try {
    fs.accessSync(file, fs.constants.X_OK);
    return fs.statSync(file).isFile();
  } catch {
    return false;
  }
}

module.exports = { findProgram };
